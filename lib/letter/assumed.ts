import { type FactSpec, said } from "../model/fact.ts";
import type { ReadVisit } from "../model/read.ts";
import { namesIn } from "../plan/readable.ts";
import type { Plan } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import { formatNumber, formatQuantity, isUnit, type UnitSystem } from "../units/units.ts";
import type { Block, Fact } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { capital, kindOf, longDate, protectionOf, setIn, setsInWords } from "./words.ts";

/** Whether a pointer or a template leads to what of a set's plate the figures lean on: power and speed. */
const isPlate = (at: string): boolean => /^\/sets\/(\d+|\*)\/plate\/rated(Power|Speed)$/.test(at);

interface Known {
  readonly spec: FactSpec;
  readonly value: string;
  readonly sets: number[];
}

const valueWords = (spec: FactSpec, answer: string | number, units: UnitSystem): string => {
  if (typeof answer === "string") return spec.at.endsWith("/approvedStep") && answer === "none" ? "none" : said(spec, answer);
  return spec.unit !== undefined && isUnit(spec.unit) ? formatQuantity(answer, spec.unit, units) : formatNumber(answer, 3);
};

/** The known facts that decisions rest on and the plates of the sets, in the order of the rulebook, alike answers of several sets together. */
const knownFacts = (
  plan: Plan,
  { answers, given }: Pick<ReadVisit, "answers" | "given">,
  rulebook: Rulebook,
  units: UnitSystem,
): readonly Known[] => {
  const names = namesIn(plan, rulebook);
  const place = new Map(rulebook.facts.map(({ at }, position) => [at, position]));
  // What only says that a protection does not apply stands with those that are not proven.
  const told = (kind: string): boolean => protectionOf(rulebook, kind)?.besideAnother === true;
  const named = new Set(
    plan.sets.flatMap(({ protections }) =>
      protections.flatMap(({ kind, applies, decision }) => (applies === "no" && !told(kind) ? [] : decision.because)),
    ),
  );
  // The plate decides little, but every figure of a test leans on it: it stands here for the ship to compare.
  const plates = [...given].filter(isPlate);
  const found = new Map<string, Known>();
  for (const at of new Set([...named, ...plates])) {
    const [spec, answer, set] = [names.specAt(at), answers.get(at), setIn(at)];
    if (spec === undefined || answer === undefined) continue;
    const words = valueWords(spec, answer, units);
    const value = given.has(at) ? words : SAY.with.takenByUs(words);
    const key = `${spec.at}|${value}`;
    const known = found.get(key) ?? { spec, value, sets: [] };
    if (set !== undefined) known.sets.push(set);
    found.set(key, known);
  }
  return [...found.values()].sort((a, b) => (place.get(a.spec.at) ?? 0) - (place.get(b.spec.at) ?? 0));
};

/** Facts of one protection under its name, which is then not said with each; the set's and the visit's own without one. */
const grouped = (facts: readonly Known[], rulebook: Rulebook): Extract<Block, { kind: "facts" }>["groups"] => {
  const groups = new Map<string, Fact[]>();
  const plate = facts.filter(({ spec }) => isPlate(spec.at));
  for (const { spec, value } of facts) {
    if (isPlate(spec.at)) {
      // The plate in one line, as it is read: what has a unit needs no name beside it.
      if (spec === plate[0]?.spec)
        groups.set("", [
          ...(groups.get("") ?? []),
          {
            name: SAY.notes.dataPlate,
            value: plate.map((one) => (one.spec.unit === undefined ? `${one.spec.name} ${one.value}` : one.value)).join(", "),
          },
        ]);
      continue;
    }
    const label = protectionOf(rulebook, kindOf(spec.at) ?? "")?.name ?? "";
    const name = label !== "" && spec.name.startsWith(`${label}: `) ? spec.name.slice(label.length + 2) : spec.name;
    groups.set(label, [...(groups.get(label) ?? []), { name, value }]);
  }
  return [...groups].map(([label, own]) => ({ label: capital(label), facts: own }));
};

/** The whole visit first, then all sets, then the others in their order. */
const rankOf = (sets: readonly number[], plan: Plan): number => {
  if (sets.length === 0) return -2;
  return sets.length === plan.sets.length && sets.length > 1 ? -1 : Math.min(...sets);
};

/** What was taken as known, by the sets it holds for, so that a wrong one can be struck out. */
export const assumedBlocks = (
  plan: Plan,
  read: Pick<ReadVisit, "answers" | "given">,
  rulebook: Rulebook,
  units: UnitSystem,
): readonly Block[] => {
  const known = knownFacts(plan, read, rulebook, units);
  const date = longDate(plan.visit.preparedOn);
  if (!known.some(({ sets }) => sets.length > 0)) return [{ kind: "paragraph", text: SAY.notes.nothingAssumed }];
  const places = new Map<string, Known[]>();
  for (const fact of known) {
    const where = setsInWords(fact.sets, plan);
    places.set(where, [...(places.get(where) ?? []), fact]);
  }
  return [
    {
      kind: "paragraph",
      text: SAY.with.givenOn(date),
      tone: "quiet",
    },
    ...[...places]
      .sort(([, a], [, b]) => rankOf(a[0]?.sets ?? [], plan) - rankOf(b[0]?.sets ?? [], plan))
      .map(([where, facts]): Block => ({ kind: "facts", where: capital(where), groups: grouped(facts, rulebook) })),
  ];
};
