import { specsBy } from "../model/places.ts";
import type { Rulebook } from "../rulebook/types.ts";
import { formatNumber, formatQuantity, isUnit, type UnitSystem } from "../units/units.ts";
import type { Names } from "./say.ts";
import { sayBasis, sayCondition } from "./say.ts";
import type { Plan, PlanFigure, PlanProtection } from "./schema.ts";

const PART_WORDS = { sensing: "sensing", wiring: "wiring", logic: "logic", final: "final element" } as const;
const STATE_WORDS = {
  "set point": "proven at set point",
  "running value": "proven at running value only",
  movement: "seen to move, engine stopped",
  open: "OPEN",
} as const;

/** The four parts of a loop with the state of each, in words. */
export const sayProves = (proves: PlanProtection["decision"]["proves"]): string =>
  (["sensing", "wiring", "logic", "final"] as const)
    // Wiring and final element have no set point of their own: proven is proven.
    .map(
      (part) =>
        `${PART_WORDS[part]}: ${proves[part] === "set point" && (part === "wiring" || part === "final") ? "proven" : STATE_WORDS[proves[part]]}`,
    )
    .join(" | ");

export const partWords = (parts: readonly (keyof typeof PART_WORDS)[]): string => parts.map((part) => PART_WORDS[part]).join(", ");

/** The value of a figure with unit and tolerance, in the units chosen. */
export const sayAmount = ({ value, unit, tolerance }: PlanFigure, units: UnitSystem): string => {
  const amount = (n: number): string => (isUnit(unit) ? formatQuantity(n, unit, units) : formatNumber(n, 3));
  const shown = typeof value === "number" ? amount(value) : `${value}${unit === "" ? "" : ` ${unit}`}`;
  return tolerance === undefined || typeof value !== "number" ? shown : `${shown} ± ${sayTolerance(tolerance, unit, units)}`;
};

/** The same with its note in brackets. */
export const sayValue = (figure: PlanFigure, units: UnitSystem): string =>
  `${sayAmount(figure, units)}${figure.note === undefined || figure.note === "" ? "" : ` (${figure.note})`}`;

/** A figure with its name. */
export const sayFigure = (figure: PlanFigure, units: UnitSystem): string => `${figure.name}: ${sayValue(figure, units)}`;

const FAHRENHEIT_PER_CELSIUS = 1.8;

/** A tolerance is a difference: in °F it is 1.8 times the °C, without the 32. */
export const sayTolerance = (tolerance: number, unit: string, units: UnitSystem): string => {
  if (unit === "°C")
    return units === "us" ? `${formatNumber(tolerance * FAHRENHEIT_PER_CELSIUS, 1)} °F` : `${formatNumber(tolerance, 1)} °C`;
  return isUnit(unit) ? formatQuantity(tolerance, unit, units) : formatNumber(tolerance, 3);
};

/** Names for conditions of a finished plan: the references of its questions and requests. */
export const namesIn = (plan: Plan, rulebook: Rulebook): Names => {
  const refs = new Map<string, string>([
    ...plan.requests.flatMap((request) => (request.at === undefined ? [] : [[request.at, request.ref] as const])),
    ...plan.questions.map((question) => [question.at, question.ref] as const),
  ]);
  return { specAt: specsBy(rulebook.facts), refAt: (at) => refs.get(at) };
};

const methodNames = (ids: readonly string[], rulebook: Rulebook): string => {
  const methods = new Map(
    rulebook.protections.flatMap((protection) => protection.methods.map((method) => [method.id, method.name] as const)),
  );
  return ids.map((id) => methods.get(id) ?? id).join(" + ");
};

const protectionLines = (protection: PlanProtection, plan: Plan, rulebook: Rulebook, units: UnitSystem): readonly string[] => {
  const names = namesIn(plan, rulebook);
  const name = rulebook.protections.find(({ kind }) => kind === protection.kind)?.name ?? protection.kind;
  const { decision, options } = protection;
  const how = decision.outcome === "combination" ? methodNames(decision.methods, rulebook) : decision.outcome;
  const others = options.slice(1, 3).filter(({ methods }) => methods.length > 0);
  return [
    `  ${protection.ref}  ${name} — ${decision.state}: ${how}`,
    ...(decision.outcome === "combination" ? [`      ${sayProves(decision.proves)}`] : []),
    ...(decision.unproven.length > 0 && decision.outcome === "combination" ? [`      stays open: ${partWords(decision.unproven)}`] : []),
    ...others.map(
      (option, place) =>
        `      else ${place + 1}: ${methodNames(option.methods, rulebook)}${option.unproven.length > 0 ? ` (stays open: ${partWords(option.unproven)})` : ""}`,
    ),
    ...(options[0]?.when !== true && decision.outcome === "combination" && decision.state === "proposed"
      ? [`      provided that ${sayCondition(options[0]?.when ?? true, names)}`]
      : []),
    ...(protection.deviation === undefined
      ? []
      : [
          `      deviation to ${protection.deviation.method} ${protection.deviation.refused ? "REFUSED" : "taken"}: ${protection.deviation.reason}`,
        ]),
    ...(decision.wouldOpen ?? []).map(
      ({ at, is, methods }) => `      would open ${methodNames(methods, rulebook)}: ${sayCondition({ at, is }, names)}`,
    ),
    ...protection.figures.map((figure) => `      ${sayFigure(figure, units)}`),
    ...protection.askedFor.map(({ text, basis }) => `      the rules ask: ${text} [${basis.map(sayBasis).join("; ")}]`),
    ...protection.notes.map(({ text }) => `      note: ${text}`),
  ];
};

/** Protections that do not apply, in one line each: what, and why. */
const notApplying = (protections: readonly PlanProtection[], rulebook: Rulebook): readonly string[] =>
  protections
    .filter(({ applies }) => applies === "no")
    .map(({ ref, kind }) => {
      const entry = rulebook.protections.find((protection) => protection.kind === kind);
      return `  ${ref}  ${entry?.name ?? kind} — does not apply: ${entry?.appliesNot ?? ""}`;
    });

/** What the rule basis asks beside single protections. */
const rulesLines = ({ rules }: Plan): readonly string[] => {
  if (rules === undefined) return [];
  const told = (title: string, items: NonNullable<Plan["rules"]>["limits"]): readonly string[] =>
    items.length === 0 ? [] : [title, ...items.map(({ text, basis }) => `  ${text} [${basis.map(sayBasis).join("; ")}]`)];
  const lines = [
    ...told("Limits of the rules", rules.limits),
    ...told("Normally done", rules.intervals),
    ...(rules.procedure.length === 0 ? [] : [`A written test procedure states: ${rules.procedure.join(", ")}.`]),
  ];
  return lines.length === 0 ? [] : [...lines, ""];
};

/** A plan as plain text for a terminal. */
export const readable = (plan: Plan, rulebook: Rulebook, units: UnitSystem): string => {
  const { visit } = plan;
  const names = namesIn(plan, rulebook);
  const basis = rulebook.ruleBases.find(({ id }) => id === visit.ruleBasis)?.name ?? "not known yet";
  const lines = [
    `${visit.vessel}${visit.imo === undefined ? "" : ` (IMO ${visit.imo})`}, ${visit.place}, ${visit.window.from} to ${visit.window.to}`,
    `rules: ${basis}   prepared ${visit.preparedOn}   answer wanted by ${visit.replyBy}   rulebook ${plan.rulebook.version} (${plan.rulebook.digest})`,
    "",
    ...plan.sets.flatMap((set) => [
      `${set.name} (${set.role})`,
      ...set.protections
        .filter(({ applies }) => applies !== "no")
        .flatMap((protection) => protectionLines(protection, plan, rulebook, units)),
      ...notApplying(set.protections, rulebook),
      ...(set.minutes === 0 ? [] : [`  out of use about ${Math.ceil(set.minutes / 30) / 2} h, restarts and warming up not counted`]),
      ...set.figures.map((figure) => `  ${sayFigure(figure, units)}`),
      "",
    ]),
    ...rulesLines(plan),
    ...(plan.figures.length === 0 ? [] : [...plan.figures.map((figure) => sayFigure(figure, units)), ""]),
    ...(plan.leftOut.length === 0
      ? []
      : [
          ...plan.leftOut.map(
            ({ kind, why }) => `Left out: ${rulebook.protections.find((entry) => entry.kind === kind)?.name ?? kind} (${why})`,
          ),
          "",
        ]),
    ...(plan.findings.length === 0
      ? []
      : ["Findings, for the inspector", ...plan.findings.map(({ text, basis }) => `  ${text} [${basis.map(sayBasis).join("; ")}]`), ""]),
    ...(plan.questions.length === 0 ? ["No question is open."] : ["Questions"]),
    ...plan.questions.map(
      (question) =>
        `  ${question.ref}  ${question.text}${question.onlyIf === undefined ? "" : `\n      only if ${sayCondition(question.onlyIf, names)}`}`,
    ),
    "",
    ...(plan.requests.length === 0 ? ["Nothing to arrange."] : ["To arrange"]),
    ...plan.requests.map(
      (request) =>
        `  ${request.ref}  by ${request.confirmBy}${request.hold === true ? " (hold)" : ""}${request.late === true ? " (its lead time can no longer be kept)" : ""}${request.notBefore === undefined ? "" : ` (not before ${request.notBefore.join(", ")})`}: ${request.count === undefined ? "" : `${request.count} × `}${request.text}`,
    ),
    "",
    ...plan.warnings.map(({ text }) => `! ${text}`),
    "Forehail plans; the ship's people and qualified technicians perform, the inspector witnesses. Local rules, class and maker come first.",
  ];
  return `${lines.join("\n")}\n`;
};
