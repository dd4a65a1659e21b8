import { digestOf } from "../kernel/digest.ts";
import type { DecidingFact } from "../plan/signature.ts";

/** One decision of a plan as it is compared: what the engine chose and what was planned. */
export interface Compared {
  /** Place of its plan among those compared. */
  readonly plan: number;
  /** Pointer of the protection with the id of its set. */
  readonly at: string;
  readonly kind: string;
  /** Mark of the signature: of the facts that the engine's choice rests on. */
  readonly mark: string;
  /** Methods joined by "+"; empty where nothing acceptable was left. */
  readonly engine: string;
  readonly chosen: string;
}

/** Decisions that took the same way. */
export interface Way<Decision extends Compared = Compared> {
  readonly chosen: string;
  readonly decisions: readonly Decision[];
}

/** Where a twin differs: in one deciding fact. */
export interface Twin<Decision extends Compared = Compared> {
  readonly of: string;
  /** The fact where the finding stands, and at the twin. */
  readonly here: string;
  readonly there: string;
  readonly decisions: readonly Decision[];
}

interface Found {
  /** Stays the same as long as the finding is about the same. */
  readonly id: string;
  readonly kind: string;
  /** What the engine chooses in all of them. */
  readonly engine: string;
}

/** Decisions on the same facts that took different ways. */
export interface Alike<Decision extends Compared = Compared> extends Found {
  readonly sort: "alike";
  readonly equal: readonly DecidingFact[];
  /** The most frequent first. */
  readonly ways: readonly Way<Decision>[];
}

/** A choice against the engine, beside decisions that differ from it in one deciding fact and took another way. */
export interface Twins<Decision extends Compared = Compared> extends Found {
  readonly sort: "twins";
  /** Equal in all of them, but for what each twin says. */
  readonly equal: readonly DecidingFact[];
  readonly way: Way<Decision>;
  readonly twins: readonly Twin<Decision>[];
}

/** What is chosen against the engine wherever it decides so, at least half the time. */
export interface Usual<Decision extends Compared = Compared> extends Found {
  readonly sort: "usual";
  readonly way: Way<Decision>;
  /** Those in which it was not chosen. */
  readonly others: readonly Decision[];
  /** In so many visits of so many. */
  readonly visits: number;
  readonly of: number;
}

export type Finding<Decision extends Compared = Compared> = Alike<Decision> | Twins<Decision> | Usual<Decision>;

/** So many visits make a habit, and such a share of all. */
export const HABIT = { visits: 3, share: 0.5 } as const;

/** Items by what they share, in their order. */
export const grouped = <Item, Key>(items: readonly Item[], keyOf: (item: Item) => Key): ReadonlyMap<Key, readonly Item[]> => {
  const groups = new Map<Key, Item[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return groups;
};

const waysOf = <Decision extends Compared>(decisions: readonly Decision[]): readonly Way<Decision>[] =>
  [...grouped(decisions, ({ chosen }) => chosen)]
    .map(([chosen, inIt]) => ({ chosen, decisions: inIt }))
    .sort((a, b) => b.decisions.length - a.decisions.length || (a.chosen < b.chosen ? -1 : 1));

const deviates = ({ engine, chosen }: Compared): boolean => engine !== chosen;

type FactsOf = (mark: string) => readonly DecidingFact[];

/** All that was decided on the same facts by the same choice of the engine; two rulebooks may decide the same facts differently. */
interface Same<Decision> {
  readonly mark: string;
  readonly decisions: readonly Decision[];
}

const ALL_FACTS = 2 ** 52;

/** A number for a text, spread over 52 bits. */
const spread = (text: string): number => Number.parseInt(digestOf(text).slice(0, 13), 16);

/**
 * Finds signatures that differ in one fact without comparing each with each: every signature is filed under what is left of it without one
 * of its facts, as a sum, from which a fact is taken out at no cost.
 */
const twinFinder = (factsOf: FactsOf) => {
  const numbers = new Map<string, number>();
  const numberOf = (text: string): number => {
    const known = numbers.get(text);
    if (known !== undefined) return known;
    const made = spread(text);
    numbers.set(text, made);
    return made;
  };
  const keysOf = (mark: string): readonly number[] => {
    const facts = factsOf(mark);
    const own = facts.map(({ of, value }) => numberOf(`${of}=${value}`));
    const sum = own.reduce((total, number) => (total + number) % ALL_FACTS, 0);
    return facts.map(({ of }, place) => (sum - (own[place] ?? 0) + ALL_FACTS + numberOf(of)) % ALL_FACTS);
  };
  return (marks: readonly string[], wanted: readonly string[]): ReadonlyMap<string, readonly string[]> => {
    const filed = new Map<number, string[]>();
    for (const mark of wanted)
      for (const key of keysOf(mark)) {
        const there = filed.get(key);
        if (there === undefined) filed.set(key, [mark]);
        else there.push(mark);
      }
    const found = new Map<string, string[]>(wanted.map((mark) => [mark, []]));
    for (const mark of marks)
      for (const key of keysOf(mark)) for (const near of filed.get(key) ?? []) if (near !== mark) found.get(near)?.push(mark);
    return found;
  };
};

/** The one fact in which two signatures differ; null where they differ in none, in several, or name other facts. */
export const oneDifference = (
  one: readonly DecidingFact[],
  other: readonly DecidingFact[],
): { readonly of: string; readonly here: string; readonly there: string } | null => {
  if (one.length !== other.length) return null;
  const values = new Map(other.map(({ of, value }) => [of, value]));
  const differing = one.filter(({ of, value }) => values.get(of) !== value);
  const [only] = differing;
  const there = only === undefined ? undefined : values.get(only.of);
  return only === undefined || differing.length > 1 || there === undefined ? null : { of: only.of, here: only.value, there };
};

const alikeIn = <Decision extends Compared>(
  kind: string,
  engine: string,
  { mark, decisions }: Same<Decision>,
  factsOf: FactsOf,
): Alike<Decision> | null => {
  const ways = waysOf(decisions);
  if (ways.length < 2) return null;
  return { sort: "alike", id: digestOf(["alike", kind, engine, mark]), kind, engine, equal: factsOf(mark), ways };
};

const twinsIn = <Decision extends Compared>(
  kind: string,
  engine: string,
  groups: ReadonlyMap<string, Same<Decision>>,
  factsOf: FactsOf,
): readonly Twins<Decision>[] => {
  const focuses = [...groups.values()].flatMap(({ mark, decisions }) => {
    const ways = waysOf(decisions);
    const [only] = ways;
    // Where alike decisions already stand against each other, a twin beside them says the same again.
    return ways.length === 1 && only !== undefined && only.chosen !== engine ? [{ mark, way: only }] : [];
  });
  if (focuses.length === 0) return [];
  const near = twinFinder(factsOf)(
    [...groups.keys()],
    focuses.map(({ mark }) => mark),
  );
  return focuses.flatMap(({ mark, way }): readonly Twins<Decision>[] => {
    const own = factsOf(mark);
    const twins = (near.get(mark) ?? []).flatMap((other): readonly Twin<Decision>[] => {
      const difference = oneDifference(own, factsOf(other));
      const decisions = (groups.get(other)?.decisions ?? []).filter(({ chosen }) => chosen !== way.chosen);
      return difference === null || decisions.length === 0 ? [] : [{ ...difference, decisions }];
    });
    if (twins.length === 0) return [];
    const differing = new Set(twins.map(({ of }) => of));
    const equal = own.filter(({ of }) => !differing.has(of));
    return [{ sort: "twins", id: digestOf(["twins", kind, engine, mark, way.chosen]), kind, engine, equal, way, twins }];
  });
};

const usualIn = <Decision extends Compared>(kind: string, engine: string, decisions: readonly Decision[]): readonly Usual<Decision>[] => {
  const all = new Set(decisions.map(({ plan }) => plan)).size;
  return waysOf(decisions.filter(deviates)).flatMap((way): readonly Usual<Decision>[] => {
    const visits = new Set(way.decisions.map(({ plan }) => plan)).size;
    if (visits < HABIT.visits || visits < all * HABIT.share) return [];
    const others = decisions.filter(({ chosen }) => chosen !== way.chosen);
    return [{ sort: "usual", id: digestOf(["usual", kind, engine, way.chosen]), kind, engine, way, others, visits, of: all }];
  });
};

/**
 * Where decisions of alike machinery took different ways: on the same facts, on facts that differ in one, and what is usually chosen against
 * the engine. What the engine itself decides differently on different facts is no finding: the facts explain it. Nothing is compared where
 * nobody chose against the engine. Pure; grows with the number of decisions.
 */
export const findingsIn = <Decision extends Compared>(decisions: readonly Decision[], factsOf: FactsOf): readonly Finding<Decision>[] => {
  const findings: Finding<Decision>[] = [];
  const byChoice = [...grouped(decisions, ({ kind }) => kind).values()].flatMap((ofKind) => [
    ...grouped(ofKind, ({ engine }) => engine).values(),
  ]);
  for (const inIt of byChoice) {
    const [first] = inIt;
    if (first === undefined || !inIt.some(deviates)) continue;
    const { kind, engine } = first;
    const groups = new Map([...grouped(inIt, ({ mark }) => mark)].map(([mark, same]) => [mark, { mark, decisions: same }]));
    for (const same of groups.values()) {
      const alike = alikeIn(kind, engine, same, factsOf);
      if (alike !== null) findings.push(alike);
    }
    findings.push(...twinsIn(kind, engine, groups, factsOf), ...usualIn(kind, engine, inIt));
  }
  return findings;
};

/** Every decision that a finding shows. */
export const decisionsOf = <Decision extends Compared>(finding: Finding<Decision>): readonly Decision[] =>
  finding.sort === "alike"
    ? finding.ways.flatMap((way) => way.decisions)
    : [...finding.way.decisions, ...(finding.sort === "twins" ? finding.twins.flatMap((twin) => twin.decisions) : finding.others)];

/** Those of them that chose against the engine: what there is to settle. */
export const deviationsOf = <Decision extends Compared>(finding: Finding<Decision>): readonly Decision[] =>
  finding.sort === "alike"
    ? finding.ways.flatMap((way) => (way.chosen === finding.engine ? [] : way.decisions))
    : finding.sort === "twins"
      ? [...finding.way.decisions, ...finding.twins.flatMap((twin) => twin.decisions.filter(deviates))]
      : [...finding.way.decisions, ...finding.others.filter(deviates)];
