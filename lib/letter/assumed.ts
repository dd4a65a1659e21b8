import type { FactSpec } from "../model/fact.ts";
import type { ReadVisit } from "../model/read.ts";
import type { Asked } from "../plan/asked.ts";
import { isPlate, knownFacts, knownWords } from "../plan/known.ts";
import type { Plan } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { UnitSystem } from "../units/units.ts";
import type { Block, Fact } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { ranges } from "./changes.ts";
import { capital, kindOf, longDate, protectionOf, setIn, setsInWords } from "./words.ts";

interface Known {
  readonly spec: FactSpec;
  readonly value: string;
  readonly sets: number[];
  readonly refs: string[];
}

/** Alike answers of several sets together. */
const alikeFacts = (facts: ReturnType<typeof knownFacts>, units: UnitSystem, refs: ReadonlyMap<string, string>): readonly Known[] => {
  const found = new Map<string, Known>();
  for (const { at, spec, answer, ours } of facts) {
    const words = knownWords({ spec, answer }, units);
    const value = ours ? SAY.with.takenByUs(words) : words;
    const key = `${spec.at}|${value}`;
    const known = found.get(key) ?? { spec, value, sets: [], refs: [] };
    const [set, ref] = [setIn(at), refs.get(at)];
    if (set !== undefined) known.sets.push(set);
    if (ref !== undefined) known.refs.push(ref);
    found.set(key, known);
  }
  return [...found.values()];
};

/** Facts of one protection under its name, which is then not said with each; the set's and the visit's own without one. */
const grouped = (facts: readonly Known[], rulebook: Rulebook): Extract<Block, { kind: "facts" }>["groups"] => {
  const groups = new Map<string, Fact[]>();
  const plate = facts.filter(({ spec }) => isPlate(spec.at));
  for (const { spec, value, refs } of facts) {
    if (isPlate(spec.at)) {
      // The plate in one line, as it is read: what has a unit needs no name beside it.
      if (spec === plate[0]?.spec)
        groups.set("", [
          ...(groups.get("") ?? []),
          {
            name: SAY.notes.dataPlate,
            value: plate.map((one) => (one.spec.unit === undefined ? `${one.spec.name} ${one.value}` : one.value)).join(", "),
            refs: ranges(plate.flatMap((one) => one.refs)),
          },
        ]);
      continue;
    }
    const label = protectionOf(rulebook, kindOf(spec.at) ?? "")?.name ?? "";
    const name = label !== "" && spec.name.startsWith(`${label}: `) ? spec.name.slice(label.length + 2) : spec.name;
    groups.set(label, [...(groups.get(label) ?? []), { name, value, refs: ranges(refs) }]);
  }
  return [...groups].map(([label, own]) => ({ label: capital(label), facts: own }));
};

/** The whole visit first, then all sets, then the others in their order. */
const rankOf = (sets: readonly number[], plan: Plan): number => {
  if (sets.length === 0) return -2;
  return sets.length === plan.sets.length && sets.length > 1 ? -1 : Math.min(...sets);
};

/** What was taken as known, by the sets it holds for, each with its reference, so that a wrong one can be said to be otherwise. */
export const assumedBlocks = (
  plan: Plan,
  read: Pick<ReadVisit, "answers" | "given">,
  { rulebook, units, asked }: { readonly rulebook: Rulebook; readonly units: UnitSystem; readonly asked: Asked },
): readonly Block[] => {
  const refs = new Map([...asked.requests, ...asked.known].flatMap(({ at, ref }) => (at === undefined ? [] : [[at, ref] as const])));
  const known = alikeFacts(knownFacts(plan, read, rulebook), units, refs);
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
