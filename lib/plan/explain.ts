import { NOT_KNOWN, said } from "../model/fact.ts";
import type { Rulebook } from "../rulebook/types.ts";
import { namesIn, partWords, sayProves } from "./readable.ts";
import { nameOf, sayBasis, sayCondition } from "./say.ts";
import type { Plan, PlanProtection } from "./schema.ts";

const answerWords = (at: string, plan: Plan, answers: ReadonlyMap<string, string | number>, rulebook: Rulebook): string => {
  const names = namesIn(plan, rulebook);
  const spec = names.specAt(at);
  const answer = answers.get(at);
  const value =
    answer === undefined
      ? `${NOT_KNOWN}${names.refAt(at) === undefined ? "" : ` (${names.refAt(at)})`}`
      : typeof answer === "string" && spec !== undefined
        ? said(spec, answer)
        : `${answer}${spec?.unit === undefined ? "" : ` ${spec.unit}`}`;
  return `${spec?.name ?? nameOf(at, names)}: ${value}`;
};

const VERDICTS = { fit: "fit", depends: "depends", barred: "barred" } as const;

const verdictLines = (protection: PlanProtection, rulebook: Rulebook): readonly string[] => {
  const methods = new Map(rulebook.protections.flatMap((p) => p.methods.map((method) => [method.id, method] as const)));
  return protection.verdicts.map(({ method, technique, verdict, bar, reason, basis }) => {
    const kind = bar === undefined ? "" : ` (${bar})`;
    return `  ${VERDICTS[verdict]}${kind}: ${methods.get(method)?.name ?? method} [${method}], technique ${technique}\n      ${reason}\n      basis: ${basis.map(sayBasis).join("; ")}`;
  });
};

/** Why a protection's decision is what it is, in words. */
export const explain = (plan: Plan, ref: string, answers: ReadonlyMap<string, string | number>, rulebook: Rulebook): string | null => {
  const set = plan.sets.find(({ protections }) => protections.some((protection) => protection.ref === ref));
  const protection = set?.protections.find((candidate) => candidate.ref === ref);
  const entry = rulebook.protections.find(({ kind }) => kind === protection?.kind);
  if (set === undefined || protection === undefined || entry === undefined) return null;
  const names = namesIn(plan, rulebook);
  const { decision, options, deviation } = protection;
  const methodName = (id: string): string => entry.methods.find((method) => method.id === id)?.name ?? id;
  const chosen = decision.methods.map((id) => `${methodName(id)} [${id}]`).join(" + ");
  const lines = [
    `${ref}: ${entry.name} of ${set.name}`,
    "",
    decision.outcome === "combination"
      ? `Decision (${decision.state}): ${chosen}`
      : `Decision (${decision.state}): ${decision.outcome === "does not apply" ? entry.appliesNot : "no acceptable combination is left"}`,
    ...(decision.outcome === "combination" ? [`It proves  ${sayProves(decision.proves)}`] : []),
    ...(decision.unproven.length === 0 ? [] : [`Stays open: ${partWords(decision.unproven)}`]),
    ...(deviation === undefined
      ? []
      : [`Deviation to ${deviation.method} ${deviation.refused ? "refused" : "taken"}: ${deviation.reason}`]),
    ...(decision.wouldOpen ?? []).map(
      ({ at, is, methods }) => `Would open ${methods.map(methodName).join(" + ")}: ${sayCondition({ at, is }, names)}`,
    ),
    "",
    "It rests on these facts; no other fact can change it:",
    ...decision.because.map((at) => `  ${answerWords(at, plan, answers, rulebook)}`),
    "",
    "What can still be chosen, best first:",
    ...options.map((option, rank) => {
      const how =
        option.methods.length > 0
          ? option.methods.map(methodName).join(" + ")
          : option.unproven.length === 0
            ? "does not apply"
            : "nothing acceptable";
      const open = option.methods.length > 0 && option.unproven.length > 0 ? ` (stays open: ${partWords(option.unproven)})` : "";
      return `  ${rank}. ${how}${open}\n      when ${sayCondition(option.when, names)}`;
    }),
    "",
    "Every method of the rulebook:",
    ...verdictLines(protection, rulebook),
    "",
    "Order of preference:",
    ...rulebook.orderOfPreference.map(({ text }, place) => `  ${place + 1}. ${text}`),
  ];
  return `${lines.join("\n")}\n`;
};
