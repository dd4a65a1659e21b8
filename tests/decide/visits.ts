import { expect } from "vitest";
import { type Engine, newEngine } from "../../lib/decide/engine.ts";
import type { Facts as VisitFacts } from "../../lib/decide/knowledge.ts";
import { type DecidedProtection, type DecidedVisit, decideVisit } from "../../lib/decide/visit.ts";
import { type Condition, rename } from "../../lib/logic/condition.ts";
import { resolve } from "../../lib/model/fact.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import type { Lead, Part, Protection } from "../../lib/rulebook/types.ts";
import {
  type Cut,
  cut,
  type Dependence,
  dependencesIn,
  drawNumber,
  firstWith,
  leftIn,
  numericOf,
  type Proof,
  pick,
  type Random,
  sayAt,
  sayOf,
  worldsOf,
} from "./cubes.ts";
import { type Candidate, candidatesOf, type Facts, factsOf, holds, looksAt, type Maybe, maybe, specAt } from "./oracle.ts";

/** Visits of which little is known, drawn at random, and what must be true of what the core says of them. */
export interface Policy {
  readonly mayStayOpen: readonly Part[];
  readonly late: ReadonlySet<Lead>;
  readonly shutOut: ReadonlyMap<string, readonly string[]>;
}

export interface Book {
  readonly engine: Engine;
  readonly protections: readonly {
    readonly protection: Protection;
    readonly candidates: readonly Candidate[];
    readonly facts: readonly string[];
    readonly sums: readonly Condition[];
  }[];
}

/** The engine and the oracle's tables for some protections under one policy. */
export const bookOf = (protections: readonly Protection[], mayStayOpen: readonly Part[]): Book => ({
  engine: newEngine({ ...rulebook, protections }, mayStayOpen),
  protections: protections.map((protection) => {
    const candidates = candidatesOf(protection, mayStayOpen);
    const facts = new Set([
      ...factsOf(protection, candidates).map(({ at }) => at),
      // Facts that only methods without an option look at still belong to verdicts.
      ...factsOf(protection, candidatesOf(protection)).map(({ at }) => at),
    ]);
    return { protection, candidates, facts: [...facts], sums: numericOf(protection, candidates) };
  }),
});

const leadOf = new Map(rulebook.needs.flatMap((need) => (need.at === undefined ? [] : [[need.at, need.lead] as const])));
const LEADS: readonly Lead[] = ["local", "sent", "specialist", "authority"];

export const drawPolicy = (mayStayOpen: readonly Part[], random: Random): Policy => {
  const bases = rulebook.ruleBases.map(({ id }) => id);
  return {
    mayStayOpen,
    late: new Set(random() < 0.7 ? [] : LEADS.filter(() => random() < 0.5)),
    shutOut: new Map(random() < 0.8 ? [] : [["/ruleBasis", bases.filter(() => random() < 0.4).slice(0, 3)]]),
  };
};

/** The answers that an open choice may still have under a policy. */
const possibleAt = (at: string, { late, shutOut }: Policy): readonly string[] => {
  const { domain } = specAt(at);
  const lead = leadOf.get(at);
  const out = [...(lead !== undefined && late.has(lead) ? ["in time"] : []), ...(shutOut.get(at) ?? [])];
  return domain.kind === "choice" ? domain.values.filter((value) => !out.includes(value)) : [];
};

export const drawAnswer = (at: string, policy: Policy, wished: ReadonlyMap<string, readonly string[]>, random: Random): string | number => {
  if (specAt(at).domain.kind === "number") return drawNumber(at, random);
  const kind = wished.get(at);
  return pick(kind !== undefined && random() < 0.6 ? kind : possibleAt(at, policy), random) ?? "";
};

/** What the better options ask for. */
export const wishedBy = (candidates: readonly Candidate[], random: Random): ReadonlyMap<string, readonly string[]> => {
  const from = Math.floor(random() * candidates.length);
  const wished = new Map<string, readonly string[]>();
  for (const condition of candidates.slice(from, from + 3).flatMap(({ conditions }) => conditions)) {
    if (typeof condition === "object" && "is" in condition) wished.set(condition.at, condition.is);
  }
  return wished;
};

export interface Visit {
  readonly sisters: readonly string[];
  readonly answers: ReadonlyMap<string, string | number>;
  readonly policy: Policy;
}

export const factsFor = (
  { sisters, answers, policy }: Visit,
  more: readonly (readonly [string, string | number])[] = [],
  insisted = new Map<string, string>(),
): VisitFacts => ({
  sets: sisters.map((letter) => ({ sisters: letter })),
  answers: new Map([...answers, ...more]),
  insisted,
  inTime: (lead) => !policy.late.has(lead),
  shutOut: policy.shutOut,
});

export const aboutOf = (visit: Visit): string =>
  JSON.stringify({
    answers: Object.fromEntries(visit.answers),
    sisters: visit.sisters,
    late: [...visit.policy.late],
    shutOut: [...visit.policy.shutOut],
    mayStayOpen: visit.policy.mayStayOpen,
  });

type Entry = Book["protections"][number];

/** What is known of one set's protection, by template. */
const localOf = ({ facts }: Entry, visit: Visit, set: number): Facts =>
  Object.fromEntries(
    facts.flatMap((at) => {
      const value = visit.answers.get(resolve(at, set, visit.sisters[set] ?? "A"));
      return value === undefined ? [] : [[at, value]];
    }),
  );

export const cutOf = (entry: Entry, visit: Visit, set: number, most: number, random: Random, candidates = entry.candidates): Cut | null => {
  const known = localOf(entry, visit, set);
  const open = entry.facts.filter((at) => known[at] === undefined && specAt(at).domain.kind === "choice");
  const choices = new Map(open.map((at) => [at, possibleAt(at, visit.policy)]));
  const worlds = worldsOf(entry.sums, known, random);
  return cut({ protection: entry.protection, candidates, known, choices, worlds }, most);
};

export const saidBy = ({ remaining }: Pick<DecidedProtection, "remaining">): readonly string[] =>
  remaining.map(({ outcome, methods, unproven }) => sayOf(outcome, methods, unproven));

export const protectionAt = (decided: DecidedVisit, at: string): DecidedProtection => {
  const found = decided.protections.find((protection) => protection.at === at);
  if (found === undefined) throw new Error(`no ${at} in the decided visit`);
  return found;
};

/** Open facts that a question or request carries, each with all that it is carried for. */
export const carriedBy = (decided: DecidedVisit, visit: Visit): ReadonlyMap<string, Condition> => {
  const carried = new Map<string, Condition>();
  for (const { at, onlyIf } of [...decided.questions, ...decided.wanted]) {
    if (at === null || visit.answers.has(at)) continue;
    expect(carried.has(at), `${at} is carried once: ${aboutOf(visit)}`).toBe(false);
    carried.set(at, onlyIf);
  }
  return carried;
};

/** The condition in templates again, as far as it speaks of this set. */
const localised = (condition: Condition, { facts }: Entry, visit: Visit, set: number): Condition => {
  const back = new Map(facts.map((at) => [resolve(at, set, visit.sisters[set] ?? "A"), at]));
  return rename(condition, (at) => back.get(at) ?? at);
};

const exactNumbers =
  (numbers: Facts | undefined) =>
  (condition: Condition): Maybe =>
    looksAt(condition).every((at) => numbers?.[at] !== undefined) ? (holds(condition, numbers ?? {}) ? "yes" : "no") : "?";

/** Whether a condition holds in every completion tried of what a proof fixes. */
const heldIn = (condition: Condition, { facts, numbers }: Proof, { open, values, worlds }: Cut, random: Random): boolean => {
  if (maybe(condition, facts, exactNumbers(numbers)) === "yes") return true;
  return Array.from({ length: 8 }).every(() => {
    const rest = Object.fromEntries(
      open.flatMap((at, place) => (facts[at] === undefined ? [[at, pick(values[place] ?? [], random) ?? ""]] : [])),
    );
    return maybe(condition, { ...rest, ...facts }, exactNumbers(numbers ?? pick(worlds.all, random))) === "yes";
  });
};

export interface Checked {
  readonly blocks: Cut;
  readonly dependences: ReadonlyMap<string, Dependence>;
}

const templateOf = (decided: DecidedProtection, index: number): string => decided.prepared.compiled.frame.variables[index]?.at ?? "";

/** Options, deciding facts, ranks and conditions of one protection, against the blocks of the oracle. */
export const checkExactly = (entry: Entry, visit: Visit, decided: DecidedVisit, set: number, blocks: Cut, random: Random): Checked => {
  const mine = protectionAt(decided, `/sets/${set}/${entry.protection.kind}`);
  const about = `${mine.at} ${aboutOf(visit)}`;
  const { said, rankOf } = leftIn(blocks);
  expect(saidBy(mine), `what remains of ${about}`).toEqual(said);
  const dependences = dependencesIn(blocks, rankOf);
  const pointer = (at: string): string => resolve(at, set, visit.sisters[set] ?? "A");
  const influences = new Map(mine.influences.map(({ fact, rank }) => [templateOf(mine, fact), rank]));
  const told = [...influences].sort(([a], [b]) => (a < b ? -1 : 1));
  const found = [...dependences].map(([at, { rank }]) => [at, rank] as const).sort(([a], [b]) => (a < b ? -1 : 1));
  expect(told, `facts that decide, with their ranks: ${about}`).toEqual(found);
  const conditions = carriedBy(decided, visit);
  for (const [at, { rank, proofs }] of dependences) {
    const onlyIf = conditions.get(pointer(at));
    expect(onlyIf, `${at} is asked or requested: ${about}`).toBeDefined();
    const question = decided.questions.find((asked) => asked.at === pointer(at));
    const request = decided.wanted.find((wanted) => wanted.at === pointer(at));
    if (question !== undefined) expect(question.decides, about).toContainEqual({ protection: mine.at, rank });
    else expect([...(request?.neededBy ?? []), ...(request?.laterFor ?? [])], about).toContain(mine.at);
    const condition = localised(onlyIf ?? true, entry, visit, set);
    if (condition === true) continue;
    for (const proof of proofs) {
      if (heldIn(condition, proof, blocks, random)) continue;
      expect.fail(`${at} matters outside its condition ${JSON.stringify(condition)} in ${JSON.stringify(proof)}: ${about}`);
    }
  }
  return { blocks, dependences };
};

/** Every open fact that is carried is carried for a protection on which it has been found to bear. */
export const checkCarried = (visit: Visit, decided: DecidedVisit, bearing: ReadonlySet<string>): void => {
  expect([...carriedBy(decided, visit).keys()].sort(), `facts carried: ${aboutOf(visit)}`).toEqual([...bearing].sort());
};

/** Prices of a refusal: what deciding again gives, and for an open fact what the oracle's blocks give. */
export const checkPrices = (
  engine: Engine,
  visit: Visit,
  decided: DecidedVisit,
  blocksOf: (at: string) => Cut | undefined,
  insisted = new Map<string, string>(),
): number => {
  let prices = 0;
  for (const request of decided.wanted) {
    const { at, need } = request;
    if (at === null || need.refusedIs === undefined) continue;
    const again = decideVisit(engine, factsFor(visit, [[at, need.refusedIs]], insisted));
    for (const before of decided.protections) {
      const about = `${before.at} when ${at} is refused: ${aboutOf(visit)}`;
      const price = request.prices.find(({ protection }) => protection === before.at);
      const foretold = price === undefined ? saidBy(before)[0] : saidBy({ remaining: [price.to] })[0];
      expect(foretold, about).toBe(saidBy(protectionAt(again, before.at))[0]);
      if (price !== undefined) expect(foretold, `a price that is none: ${about}`).not.toBe(saidBy(before)[0]);
      prices += price === undefined ? 0 : 1;
      const blocks = blocksOf(before.at);
      const letter = visit.sisters[before.set] ?? "A";
      if (blocks === undefined || need.at === undefined || resolve(need.at, before.set, letter) !== at) continue;
      if (!blocks.open.includes(need.at)) continue;
      expect(foretold, about).toBe(sayAt(blocks.candidates, firstWith(blocks, need.at, need.refusedIs)));
    }
  }
  return prices;
};

const isSubsequence = (short: readonly string[], long: readonly string[]): boolean => {
  let place = 0;
  for (const item of long) if (item === short[place]) place += 1;
  return place === short.length;
};

/** One more answer never adds or reorders an option and never opens a question. */
export const checkNarrower = (visit: Visit, before: DecidedVisit, at: string, value: string | number, after: DecidedVisit): void => {
  const about = `${at} = ${value} added to ${aboutOf(visit)}`;
  for (const was of before.protections) {
    const [now, then] = [saidBy(protectionAt(after, was.at)), saidBy(was)];
    expect(isSubsequence(now, then), `${was.at}: ${JSON.stringify({ then, now })} ${about}`).toBe(true);
  }
  const carried = carriedBy(before, visit);
  const answered = { ...visit, answers: new Map([...visit.answers, [at, value]]) };
  for (const fact of carriedBy(after, answered).keys()) expect(carried.has(fact), `${fact} is asked after ${about}`).toBe(true);
};

/** Facts that no decision names may take any answer or none; the named ones stay named. */
export const checkTrace = (book: Book, visit: Visit, decided: DecidedVisit, random: Random): void => {
  for (const mine of decided.protections) {
    const letter = visit.sisters[mine.set] ?? "A";
    const named = new Set(mine.because.map((index) => resolve(templateOf(mine, index), mine.set, letter)));
    const answers = new Map(visit.answers);
    for (const { at: template } of mine.prepared.compiled.frame.variables) {
      const at = resolve(template, mine.set, letter);
      if (named.has(at) || random() < 0.4) continue;
      if (random() < 0.3) answers.delete(at);
      else answers.set(at, drawAnswer(template, visit.policy, new Map(), random));
    }
    const other = protectionAt(decideVisit(book.engine, factsFor({ ...visit, answers })), mine.at);
    const about = `${mine.at}, unnamed facts changed to ${JSON.stringify(Object.fromEntries(answers))}: ${aboutOf(visit)}`;
    expect(saidBy(other)[0], about).toBe(saidBy(mine)[0]);
    expect(other.because, about).toEqual(mine.because);
  }
};
