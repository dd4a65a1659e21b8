import type { Condition } from "../../lib/logic/condition.ts";
import type { Protection } from "../../lib/rulebook/types.ts";
import { type Candidate, type Facts, holds, looksAt, type Maybe, maybe, specAt } from "./oracle.ts";

/**
 * What the oracle says of a visit of which little is known, exactly: the completions are cut into blocks in each of which
 * one option is certainly the first that holds. Two blocks that differ in one fact only, with different decisions, are a
 * proof that the decision depends on it; where there is no such pair it does not. Open numbers are taken together as
 * "worlds": one choice of numbers for each way in which the sums of the conditions can come out.
 */
export interface Worlds {
  readonly all: readonly Facts[];
  /** For each open number: which two worlds it alone can turn into each other, with numbers that show it. */
  readonly moves: ReadonlyMap<string, ReadonlyMap<string, readonly [Facts, Facts]>>;
}

export type Random = () => number;
export const pick = <T>(items: readonly T[], random: Random): T | undefined => items[Math.floor(random() * items.length)];

/** The parts of a condition that look at numbers. */
export const numericIn = (condition: Condition): readonly Condition[] => {
  if (condition === true) return [];
  if ("all" in condition) return condition.all.flatMap(numericIn);
  if ("any" in condition) return condition.any.flatMap(numericIn);
  return "is" in condition ? [] : [condition];
};

const distinct = (conditions: readonly Condition[]): readonly Condition[] => [
  ...new Map(conditions.map((condition) => [JSON.stringify(condition), condition])).values(),
];

export const numericOf = (protection: Protection, candidates: readonly Candidate[]): readonly Condition[] =>
  distinct([protection.applies, ...candidates.flatMap(({ conditions }) => conditions)].flatMap(numericIn));

/** Numbers near which the sums of the rulebook turn. */
const TYPICAL: Readonly<Record<string, readonly number[]>> = {
  "/sets/*/plate/ratedSpeed": [720, 900, 1000, 1800],
  "/sets/*/overspeed/setPoint": [750, 828, 900, 990, 1000, 1035, 1150, 1980, 2070],
  "/sets/*/overspeed/tolerance": [0, 0.5, 5, 20, 100],
  "/policy/tachometerError": [0, 0.5, 5],
  "/sets/*/overspeed/makersMaximum": [800, 990, 1020, 1035, 1080, 2100],
  "/sets/*/jacketWaterTemperature/immersion": [79, 80, 81, 120],
  "/sets/*/jacketWaterTemperature/diameter": [7.5, 8, 8.5],
};

export const drawNumber = (at: string, random: Random): number => {
  const { domain } = specAt(at);
  if (domain.kind !== "number") throw new Error(`${at} is no number`);
  const kind = random();
  if (kind < 0.7) return pick(TYPICAL[at] ?? [domain.from], random) ?? domain.from;
  if (kind < 0.85) return random() < 0.5 ? domain.from : domain.to;
  const steps = Math.floor((domain.to - domain.from) / domain.step);
  return Number((domain.from + Math.floor(random() * (steps + 1)) * domain.step).toFixed(6));
};

/** All values of one number that can make a difference while the others stand: ends, edges and one step beyond. */
const alongOne = (at: string, numbers: Facts, sums: readonly Condition[]): readonly number[] => {
  const { domain } = specAt(at);
  if (domain.kind !== "number") return [];
  const values = new Set([domain.from, domain.to, Number(numbers[at])]);
  for (const condition of sums) {
    if (condition === true || !("sum" in condition)) continue;
    const factor = condition.sum.find(([, name]) => name === at)?.[0];
    if (factor === undefined) continue;
    const rest = condition.sum.reduce((sum, [by, name]) => (name === at ? sum : sum + by * Number(numbers[name])), 0);
    const place = Math.floor(((condition.to - rest) / factor - domain.from) / domain.step);
    for (const step of [-1, 0, 1, 2]) {
      const value = Number((domain.from + (place + step) * domain.step).toFixed(6));
      if (value >= domain.from && value <= domain.to) values.add(value);
    }
  }
  return [...values];
};

const ROUNDS = 20;
const SWEEPS = 3;

/**
 * The worlds that the open numbers can make. They are sought by moving one number at a time along its edges from many
 * starting points, so that narrow gaps between two edges are met too.
 */
export const worldsOf = (sums: readonly Condition[], known: Facts, random: Random): Worlds => {
  const numbers = [...new Set(sums.flatMap(looksAt))];
  const open = numbers.filter((at) => known[at] === undefined);
  const fixed: Facts = Object.fromEntries(numbers.flatMap((at) => (known[at] === undefined ? [] : [[at, known[at]]])));
  const places = new Map<string, number>();
  const all: Facts[] = [];
  const moves = new Map(open.map((at) => [at, new Map<string, readonly [Facts, Facts]>()]));
  const placeOf = (facts: Facts): number => {
    const pattern = sums.map((sum) => (holds(sum, facts) ? 1 : 0)).join("");
    const place = places.get(pattern) ?? all.length;
    if (place === all.length) {
      places.set(pattern, place);
      all.push(facts);
    }
    return place;
  };
  const moveAlong = (at: string, from: Facts): Facts => {
    const line = alongOne(at, from, sums).map((value) => ({ ...from, [at]: value }));
    const met = [...new Map(line.map((facts) => [placeOf(facts), facts]))];
    for (const [a, one] of met) for (const [b, other] of met) if (a !== b) moves.get(at)?.set(`${a},${b}`, [one, other]);
    return (random() < 0.5 ? pick(met, random)?.[1] : pick(line, random)) ?? from;
  };
  if (open.length === 0) placeOf(fixed);
  for (let round = 0; round < ROUNDS && open.length > 0; round += 1) {
    let drawn: Facts = { ...fixed, ...Object.fromEntries(open.map((at) => [at, drawNumber(at, random)])) };
    for (let sweep = 0; sweep < SWEEPS; sweep += 1) for (const at of open) drawn = moveAlong(at, drawn);
  }
  return { all, moves };
};

export interface Cube {
  /** For each open fact the number of its value, or −1 where it may be anything; the last stands for the worlds. */
  readonly at: Int8Array;
  readonly place: number;
}

export interface Cut {
  readonly candidates: readonly Candidate[];
  readonly known: Facts;
  readonly open: readonly string[];
  readonly values: readonly (readonly string[])[];
  readonly worlds: Worlds;
  readonly cubes: readonly Cube[];
}

export interface Question {
  readonly protection: Protection;
  readonly candidates: readonly Candidate[];
  readonly known: Facts;
  /** Facts that are open, with the answers they may still have; numbers stand in the worlds. */
  readonly choices: ReadonlyMap<string, readonly string[]>;
  readonly worlds: Worlds;
}

/** The blocks of a visit, or null where there are more than `most`. */
export const cut = ({ protection, candidates, known, choices, worlds }: Question, most: number): Cut | null => {
  const open = [...choices.keys()];
  const values = [...choices.values()];
  const now: Record<string, string | number> = { ...known };
  const at = new Int8Array(open.length + 1).fill(-1);
  const cubes: Cube[] = [];
  let tooMany = false;
  const ofNumbers = (condition: Condition): Maybe => {
    const world = worlds.all[at[open.length] ?? -1];
    if (world !== undefined) return holds(condition, world) ? "yes" : "no";
    const truths = new Set(worlds.all.map((one) => holds(condition, one)));
    return truths.size > 1 ? "?" : truths.has(true) ? "yes" : "no";
  };
  const truthOf = (condition: Condition): Maybe => maybe(condition, now, ofNumbers);
  const settle = (place: number): void => {
    if (cubes.length >= most) tooMany = true;
    else cubes.push({ at: at.slice(), place });
  };
  const splitOn = (condition: Condition, from: number): void => {
    const fact = looksAt(condition).find((name) => choices.has(name) && now[name] === undefined);
    const place = fact === undefined ? open.length : open.indexOf(fact);
    const count = fact === undefined ? worlds.all.length : (values[place]?.length ?? 0);
    for (let value = 0; value < count && !tooMany; value += 1) {
      at[place] = value;
      if (fact !== undefined) now[fact] = values[place]?.[value] ?? "";
      descend(from);
    }
    at[place] = -1;
    if (fact !== undefined) delete now[fact];
  };
  const descend = (from: number): void => {
    const told = new Map<Condition, Maybe>();
    const truth = (condition: Condition): Maybe => {
      const found = told.get(condition) ?? truthOf(condition);
      told.set(condition, found);
      return found;
    };
    for (let place = from; place < candidates.length; place += 1) {
      const conditions = candidates[place]?.conditions ?? [];
      if (conditions.some((condition) => truth(condition) === "no")) continue;
      const undecided = conditions.find((condition) => truth(condition) === "?");
      if (undecided === undefined) settle(place);
      else splitOn(undecided, place);
      return;
    }
    const applies = truth(protection.applies);
    if (applies === "?") splitOn(protection.applies, candidates.length);
    else settle(applies === "yes" ? candidates.length + 1 : candidates.length);
  };
  descend(0);
  return tooMany ? null : { candidates, known, open, values, worlds, cubes };
};

/** What stands at a place, in words. */
export const sayOf = (outcome: string, methods: readonly string[], open: readonly string[]): string =>
  `${outcome}: ${methods.join(" + ")}; open: ${open.join()}`;

export const sayAt = (candidates: readonly Candidate[], place: number): string => {
  const candidate = candidates[place];
  if (candidate !== undefined) return sayOf("combination", candidate.methods, candidate.open);
  return place === candidates.length ? sayOf("does not apply", [], []) : sayOf("nothing left", [], ["sensing", "wiring", "logic", "final"]);
};

/** What is left, in order, neighbours of the same methods once; and the rank of each place that is reached. */
export const leftIn = ({ candidates, cubes }: Cut): { readonly said: readonly string[]; readonly rankOf: ReadonlyMap<number, number> } => {
  const said: string[] = [];
  const rankOf = new Map<number, number>();
  for (const place of [...new Set(cubes.map((cube) => cube.place))].sort((a, b) => a - b)) {
    const text = sayAt(candidates, place);
    if (said.at(-1) !== text) said.push(text);
    rankOf.set(place, said.length - 1);
  }
  return { said, rankOf };
};

/** A proof that a fact matters: what else must be so, as far as it is fixed. */
export interface Proof {
  readonly facts: Facts;
  readonly numbers: Facts | undefined;
}

export interface Dependence {
  readonly rank: number;
  readonly proofs: readonly Proof[];
}

const MOST_PROOFS = 60;

/** The one place in which two blocks differ, or −1 where they differ in more. */
const onlyDifference = (a: Int8Array, b: Int8Array): number => {
  let found = -1;
  for (let i = 0; i < a.length; i += 1) {
    const [x, y] = [a[i] ?? -1, b[i] ?? -1];
    if (x === y || x < 0 || y < 0) continue;
    if (found >= 0) return -1;
    found = i;
  }
  return found;
};

/** Every open fact on which the decision really depends, with the best rank that a change of it touches. */
export const dependencesIn = (blocks: Cut, rankOf: ReadonlyMap<number, number>): ReadonlyMap<string, Dependence> => {
  const { cubes, candidates, open, values, worlds, known } = blocks;
  const found = new Map<string, { rank: number; seen: number; proofs: Proof[] }>();
  const says = new Map([...rankOf.keys()].map((place) => [place, sayAt(candidates, place)]));
  const factsOf = (a: Int8Array, b: Int8Array, but: number): Facts => ({
    ...known,
    ...Object.fromEntries(
      open.flatMap((name, i) => {
        const value = values[i]?.[Math.max(a[i] ?? -1, b[i] ?? -1)];
        return i === but || value === undefined ? [] : [[name, value]];
      }),
    ),
  });
  const note = (at: string, rank: number, proof: () => Proof): void => {
    const entry = found.get(at) ?? { rank, seen: 0, proofs: [] };
    found.set(at, entry);
    entry.rank = Math.min(entry.rank, rank);
    entry.seen += 1;
    // Some early ones, then ever fewer, so that proofs from all over are kept.
    if (entry.proofs.length < MOST_PROOFS && (entry.seen < 20 || entry.seen % 37 === 0)) entry.proofs.push(proof());
  };
  for (let i = 0; i < cubes.length; i += 1) {
    const one = cubes[i];
    if (one === undefined) continue;
    for (let j = i + 1; j < cubes.length; j += 1) {
      const other = cubes[j];
      if (other === undefined || says.get(one.place) === says.get(other.place)) continue;
      const place = onlyDifference(one.at, other.at);
      if (place < 0) continue;
      const rank = Math.min(rankOf.get(one.place) ?? 0, rankOf.get(other.place) ?? 0);
      const world = Math.max(one.at[open.length] ?? -1, other.at[open.length] ?? -1);
      const fact = open[place];
      if (fact !== undefined) {
        note(fact, rank, () => ({ facts: factsOf(one.at, other.at, place), numbers: worlds.all[world] }));
        continue;
      }
      for (const [number, moves] of worlds.moves) {
        const move = moves.get(`${one.at[place]},${other.at[place]}`);
        if (move !== undefined) note(number, rank, () => ({ facts: factsOf(one.at, other.at, place), numbers: move[0] }));
      }
    }
  }
  return found;
};

/** The best place that is left when one open fact takes one value. */
export const firstWith = ({ cubes, open, values }: Cut, at: string, value: string): number => {
  const fact = open.indexOf(at);
  const wanted = values[fact]?.indexOf(value) ?? -1;
  return Math.min(...cubes.filter((cube) => [-1, wanted].includes(cube.at[fact] ?? -1)).map(({ place }) => place));
};

/** Truth over the answers that are still possible, where a policy shuts some out. */
export const truthAmong = (condition: Condition, { known, open, values, worlds }: Cut): Maybe => {
  const among = (part: Condition): Maybe => {
    if (part === true) return "yes";
    if ("all" in part) return both(part.all.map(among), "no", "yes");
    if ("any" in part) return both(part.any.map(among), "yes", "no");
    const truths =
      "is" in part
        ? (known[part.at] === undefined ? (values[open.indexOf(part.at)] ?? []) : [String(known[part.at])]).map((value) =>
            part.is.includes(value),
          )
        : worlds.all.map((world) => holds(part, world));
    return truths.every((truth) => truth) ? "yes" : truths.some((truth) => truth) ? "?" : "no";
  };
  return among(condition);
};

/** One certain `strong` decides; all certainly `weak` are weak; anything else is open. */
const both = (parts: readonly Maybe[], strong: Maybe, weak: Maybe): Maybe =>
  parts.includes(strong) ? strong : parts.includes("?") ? "?" : weak;
