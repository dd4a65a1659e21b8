import { namesIn, partWords, sayFigure } from "../plan/readable.ts";
import { listAnd, sayCondition } from "../plan/say.ts";
import type { Plan, PlanProtection } from "../plan/schema.ts";
import { PARTS, type Rulebook } from "../rulebook/types.ts";
import type { UnitSystem } from "../units/units.ts";
import type { Block, Strip } from "./blocks.ts";
import { methodsOf, methodWords, openWords, protectionOf, provisos } from "./words.ts";

const PART_NAMES = { sensing: "sensing", wiring: "wiring", logic: "logic", final: "final element" } as const;
const STATE_WORDS = { "set point": "at set point", "running value": "running value", movement: "seen to move", open: "open" } as const;

const stripOf = (protection: PlanProtection): readonly Strip[] =>
  PARTS.map((part) => {
    const state = protection.decision.proves[part];
    // Wiring and final element have no set point of their own: proven is proven.
    const word = state === "set point" && (part === "wiring" || part === "final") ? "proven" : STATE_WORDS[state];
    return { part: PART_NAMES[part], state, word };
  });

const optionWords = (kind: string, option: PlanProtection["options"][number], rulebook: Rulebook): string =>
  option.methods.length === 0
    ? option.unproven.length === 0
      ? "the protection does not apply"
      : "nothing acceptable would be left"
    : `${methodWords(rulebook, kind, option.methods)}${openWords(option.unproven)}`;

type Lines = Extract<Block, { kind: "protection" }>["lines"];

const hasWay = ({ decision }: PlanProtection): boolean => decision.outcome === "combination";

const lineSources = (protection: PlanProtection, plan: Plan, rulebook: Rulebook, units: UnitSystem): Lines => {
  const names = namesIn(plan, rulebook);
  const { decision, options, kind, figures } = protection;
  const provided = decision.state === "proposed" ? provisos(options[0]?.when ?? true, names) : null;
  const others = options.slice(1, 3).map((option) => optionWords(kind, option, rulebook));
  const openers = (decision.wouldOpen ?? []).map(({ at, is }) => sayCondition({ at, is }, names));
  return [
    ...(provided === null ? [] : [{ label: "Provided", text: provided }]),
    ...(hasWay(protection) && decision.unproven.length > 0 ? [{ label: "Not proven", text: partWords(decision.unproven) }] : []),
    ...others.map((text, place) => ({ label: place === 0 ? "Else" : "Or else", text })),
    ...(openers.length === 0 ? [] : [{ label: "Would open a way", text: openers.join("; or ") }]),
    ...(figures.length === 0 ? [] : [{ label: "Figures", text: figures.map((figure) => sayFigure(figure, units)).join("; ") }]),
  ];
};

const howWords = (protection: PlanProtection, rulebook: Rulebook): string => {
  const { decision, kind } = protection;
  if (decision.outcome === "does not apply") return `does not apply: ${protectionOf(rulebook, kind)?.appliesNot ?? ""}`;
  if (decision.outcome === "nothing acceptable") return "no acceptable way is left; see the notes at the end of this part";
  return methodWords(rulebook, kind, decision.methods);
};

const blockOf = (
  refs: readonly string[],
  sets: readonly string[],
  protection: PlanProtection,
  plan: Plan,
  rulebook: Rulebook,
  units: UnitSystem,
): Block => ({
  kind: "protection",
  refs: refs.join(", "),
  name: `${protectionOf(rulebook, protection.kind)?.name ?? protection.kind}, ${listAnd(sets)}`,
  state: protection.decision.state,
  how: howWords(protection, rulebook),
  does: methodsOf(rulebook, protection.kind, protection.decision.methods).map(({ does }) => does),
  strip: hasWay(protection) ? stripOf(protection) : [],
  lines: lineSources(protection, plan, rulebook, units).map((line) =>
    line.label === "Provided" && sets.length > 1 ? { ...line, text: `${line.text} (${sets[0]}; the same for the others)` } : line,
  ),
});

const HALF_HOUR = 30;

/** When each set is out of use, and for how long. */
const outOfUse = (plan: Plan, rulebook: Rulebook): string => {
  const hours = plan.sets.map(({ name, protections }) => {
    const minutes = protections
      .flatMap(({ kind, decision }) => methodsOf(rulebook, kind, decision.methods))
      .reduce((sum, method) => sum + method.minutes, 0);
    return `${name} about ${Math.ceil(minutes / HALF_HOUR) / 2} h`;
  });
  return `Out of use for these tests, one set after the other, starts and warming up not counted: ${hours.join(", ")}.${plan.sets.length > 1 ? " The ship's supply stays on the other sets." : ""}`;
};

/** The plan set by set. Sister sets whose protection is planned alike in every word are told once, with all their references. */
export const protectionBlocks = (plan: Plan, rulebook: Rulebook, units: UnitSystem): readonly Block[] => {
  const told = new Map<string, { readonly refs: string[]; readonly sets: string[]; readonly protection: PlanProtection }>();
  for (const set of plan.sets) {
    for (const protection of set.protections) {
      const plain = blockOf([""], [""], protection, plan, rulebook, units);
      // Sister sets hang on questions of their own, which are told apart by number only.
      const key = JSON.stringify([protection.kind, plain]).replace(/\b[QR]\d+\b/g, "");
      const entry = told.get(key) ?? { refs: [], sets: [], protection };
      entry.refs.push(protection.ref);
      entry.sets.push(set.name);
      told.set(key, entry);
    }
  }
  return [
    { kind: "paragraph", text: outOfUse(plan, rulebook), tone: "quiet" },
    ...[...told.values()].map(({ refs, sets, protection }) => blockOf(refs, sets, protection, plan, rulebook, units)),
  ];
};
