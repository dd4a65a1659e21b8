import { expect, test } from "vitest";
import { decideVisit } from "../../lib/decide/visit.ts";
import { resolve } from "../../lib/model/fact.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { newRandom } from "../bench/random.ts";
import type { Cut, Random } from "./cubes.ts";
import { MAY_STAY_OPEN } from "./oracle.ts";
import {
  bookOf,
  checkCarried,
  checkExactly,
  checkNarrower,
  checkPrices,
  checkTrace,
  cutOf,
  drawAnswer,
  drawPolicy,
  factsFor,
  type Visit,
  wishedBy,
} from "./visits.ts";

/**
 * Visits with three sets in two groups of sisters: protections that share facts and needs with one another and across sets,
 * all of them against the oracle's blocks, and what they share. The others stand alone and are walked elsewhere.
 */
const VISITS = 120;
const SHARING = ["lubeOilPressure", "jacketWaterTemperature", "overspeed", "bearingTemperature", "reversePower", "oilMist"];
const MOST_BLOCKS = 120;
const SISTERS = ["A", "B", "A"];

const book = bookOf(
  rulebook.protections.filter(({ kind }) => SHARING.includes(kind)),
  MAY_STAY_OPEN,
);

interface Drawn {
  readonly visit: Visit;
  readonly blocks: ReadonlyMap<string, Cut>;
}

/** Answers are added to a protection until its blocks are few enough to be compared pair by pair. */
const drawVisit = (random: Random): Drawn => {
  const policy = drawPolicy(MAY_STAY_OPEN, random);
  const answers = new Map<string, string | number>();
  const visit: Visit = { sisters: SISTERS, answers, policy };
  const share = 0.2 + random() * 0.5;
  const answer = (at: string, set: number, wished: ReadonlyMap<string, readonly string[]>): void => {
    const pointer = resolve(at, set, SISTERS[set] ?? "A");
    if (!answers.has(pointer)) answers.set(pointer, drawAnswer(at, policy, wished, random));
  };
  const each = SISTERS.flatMap((_, set) => book.protections.map((entry) => ({ entry, set, wished: wishedBy(entry.candidates, random) })));
  for (const { entry, set, wished } of each) for (const at of entry.facts) if (random() < share) answer(at, set, wished);
  for (const { entry, set, wished } of each)
    while (cutOf(entry, visit, set, MOST_BLOCKS, random) === null) {
      for (const at of entry.facts) if (random() < 0.25) answer(at, set, wished);
    }
  const blocks = each.map(
    ({ entry, set }) => [`/sets/${set}/${entry.protection.kind}`, cutOf(entry, visit, set, MOST_BLOCKS, random)] as const,
  );
  return { visit, blocks: new Map(blocks.flatMap(([at, found]) => (found === null ? [] : [[at, found] as const]))) };
};

const random = newRandom(41);
const drawn = Array.from({ length: VISITS }, () => drawVisit(random));

test(`${VISITS} visits of three sets: every protection, what is carried for it, and what a refusal costs each`, () => {
  let [carried, blockCount, prices] = [0, 0, 0];
  for (const { visit, blocks } of drawn) {
    const decided = decideVisit(book.engine, factsFor(visit));
    const bearing = new Set<string>();
    for (const [set, letter] of SISTERS.entries())
      for (const entry of book.protections) {
        const found = blocks.get(`/sets/${set}/${entry.protection.kind}`);
        if (found === undefined) throw new Error("every protection has its blocks");
        const { dependences } = checkExactly(entry, visit, decided, set, found, random);
        for (const fact of dependences.keys()) bearing.add(resolve(fact, set, letter));
        blockCount += found.cubes.length;
      }
    checkCarried(visit, decided, bearing);
    prices += checkPrices(book.engine, visit, decided, (at) => blocks.get(at));
    carried += bearing.size;
  }
  process.stdout.write(`${VISITS} visits of three sets: ${blockCount} blocks, ${carried} open facts carried, ${prices} prices\n`);
  expect(carried).toBeGreaterThan(VISITS);
  expect(prices).toBeGreaterThan(VISITS);
});

test("one more answer only narrows them, and unnamed facts change nothing", () => {
  for (const { visit } of drawn) {
    const before = decideVisit(book.engine, factsFor(visit));
    const open = SISTERS.flatMap((letter, set) =>
      book.protections.flatMap(({ facts }) => facts.map((at) => ({ at, pointer: resolve(at, set, letter) }))),
    ).filter(({ pointer }) => !visit.answers.has(pointer));
    for (let round = 0; round < 3; round += 1) {
      const one = open[Math.floor(random() * open.length)];
      if (one === undefined) continue;
      const value = drawAnswer(one.at, visit.policy, new Map(), random);
      checkNarrower(visit, before, one.pointer, value, decideVisit(book.engine, factsFor(visit, [[one.pointer, value]])));
    }
    checkTrace(book, visit, before, random);
  }
});
