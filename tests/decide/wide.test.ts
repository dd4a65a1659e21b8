import { describe, expect, test } from "vitest";
import { type DecidedProtection, decideVisit } from "../../lib/decide/visit.ts";
import { resolve } from "../../lib/model/fact.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import type { Method, Part } from "../../lib/rulebook/types.ts";
import { newRandom } from "../bench/random.ts";
import { type Cut, pick, type Random, truthAmong } from "./cubes.ts";
import { candidatesOf, MAY_STAY_OPEN, type Maybe, methodConditions } from "./oracle.ts";
import {
  aboutOf,
  type Book,
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
  protectionAt,
  saidBy,
  type Visit,
  wishedBy,
} from "./visits.ts";

/**
 * Visits of which little is known (often some few facts), under several policies and lead times: all that the core says
 * of them against the oracle's blocks, which stand for every completion.
 */
const VISITS = 300;
/** Where so few options stand, the partial visits and the walk meet every state. */
const FEW = 40;
const MOST_BLOCKS = 500;

const POLICIES: readonly (readonly Part[])[] = [
  MAY_STAY_OPEN,
  MAY_STAY_OPEN,
  [],
  ["final"],
  ["wiring", "sensing"],
  ["sensing", "wiring", "logic", "final"],
];

interface Drawn {
  readonly book: Book;
  readonly visit: Visit;
  readonly blocks: Cut;
}

type Entry = Book["protections"][number];

/** Answers are added until the blocks are few enough to be compared pair by pair. */
const drawVisit = (book: Book, entry: Entry, mayStayOpen: readonly Part[], random: Random): Drawn => {
  const policy = drawPolicy(mayStayOpen, random);
  const wished = wishedBy(entry.candidates, random);
  const order = entry.facts.map((at) => [random(), at] as const).sort(([a], [b]) => a - b);
  const answers = new Map<string, string | number>();
  const add = (count: number): void => {
    for (const [, at] of order.splice(0, count)) answers.set(resolve(at, 0, "A"), drawAnswer(at, policy, wished, random));
  };
  add(Math.floor(random() * order.length * 0.8));
  for (;;) {
    const visit = { sisters: ["A"], answers, policy };
    const blocks = cutOf(entry, visit, 0, MOST_BLOCKS, random);
    if (blocks !== null) return { book, visit, blocks };
    add(2);
  }
};

const decisionOf = ({ applies, remaining, verdicts, because, influences }: DecidedProtection) => ({
  applies,
  remaining,
  because,
  verdicts: verdicts.map(({ verdict }) => verdict),
  influences: influences.map(({ fact, rank }) => [fact, rank]),
});

const verdictOf = (truths: readonly Maybe[]): "fit" | "depends" | "barred" =>
  truths.includes("no") ? "barred" : truths.includes("?") ? "depends" : "fit";

const large = rulebook.protections.filter((protection) => candidatesOf(protection).length > FEW);

describe.each(large.map((protection) => [protection.kind, protection] as const))("%s", (kind, protection) => {
  const books = POLICIES.map((mayStayOpen) => bookOf([protection], mayStayOpen));
  const random = newRandom(kind.length * 31);
  const at = `/sets/0/${kind}`;
  const drawn = Array.from({ length: VISITS }, (_, place): Drawn => {
    const book = books[place % books.length];
    const entry = book?.protections[0];
    if (book === undefined || entry === undefined) throw new Error("no policy");
    return drawVisit(book, entry, POLICIES[place % POLICIES.length] ?? [], random);
  });
  const entryOf = (book: Book): Entry => {
    const [entry] = book.protections;
    if (entry === undefined) throw new Error("no protection");
    return entry;
  };

  test(`${VISITS} visits: options, deciding facts, ranks, conditions and prices are those of all completions`, () => {
    let [blockCount, open, deciding, prices] = [0, 0, 0, 0];
    for (const { book, visit, blocks } of drawn) {
      const decided = decideVisit(book.engine, factsFor(visit));
      const { dependences } = checkExactly(entryOf(book), visit, decided, 0, blocks, random);
      checkCarried(visit, decided, new Set([...dependences.keys()].map((fact) => resolve(fact, 0, "A"))));
      prices += checkPrices(book.engine, visit, decided, () => blocks);
      blockCount += blocks.cubes.length;
      open += blocks.open.length;
      deciding += dependences.size;
    }
    process.stdout.write(
      `${kind}: ${VISITS} wide visits in ${blockCount} blocks, ${open} open facts, ${deciding} of them deciding, ${prices} prices\n`,
    );
    expect(deciding).toBeGreaterThan(VISITS);
    // A protection for which little is to be arranged has few prices, but none has none.
    expect(prices).toBeGreaterThan(VISITS / 10);
  });

  test("answers given one by one only ever narrow it", () => {
    for (const { book, visit, blocks } of drawn) {
      let [now, decided] = [visit, decideVisit(book.engine, factsFor(visit))];
      for (const fact of [...blocks.open].sort(() => random() - 0.5).slice(0, 4)) {
        const [pointer, value] = [resolve(fact, 0, "A"), drawAnswer(fact, visit.policy, new Map(), random)];
        const after = decideVisit(book.engine, factsFor(now, [[pointer, value]]));
        checkNarrower(now, decided, pointer, value, after);
        [now, decided] = [{ ...now, answers: new Map([...now.answers, [pointer, value]]) }, after];
      }
    }
  });

  test("facts outside the trace change nothing, and plans that agree on the named facts name the same facts", () => {
    for (const { book, visit } of drawn) checkTrace(book, visit, decideVisit(book.engine, factsFor(visit)), random);
  });

  test("verdicts, and deviations to methods that fit, depend or are barred", () => {
    const counts = { fit: 0, depends: 0, barred: 0, taken: 0 };
    for (const { book, visit, blocks } of drawn) {
      const entry = entryOf(book);
      const without = protectionAt(decideVisit(book.engine, factsFor(visit)), at);
      const verdicts = protection.methods.map((method) =>
        verdictOf(methodConditions(protection, method).map((condition) => truthAmong(condition, blocks))),
      );
      expect(
        without.verdicts.map(({ verdict }) => verdict),
        aboutOf(visit),
      ).toEqual(verdicts);
      const fit = protection.methods.filter((_, place) => verdicts[place] === "fit");
      const method: Method | undefined = (random() < 0.7 ? pick(fit, random) : undefined) ?? pick(protection.methods, random);
      if (method === undefined) continue;
      const verdict = verdicts[protection.methods.indexOf(method)] ?? "depends";
      counts[verdict] += 1;
      const insisted = new Map([[at, method.id]]);
      const visitWith = decideVisit(book.engine, factsFor(visit, [], insisted));
      const withIt = protectionAt(visitWith, at);
      const about = `${method.id} insisted on, ${verdict}: ${aboutOf(visit)}`;
      if (verdict !== "fit" || method.hazard === 3) expect(withIt.insistence?.refused, about).toBe(true);
      if (withIt.insistence?.refused === true) {
        expect(decisionOf(withIt), about).toEqual(decisionOf(without));
        continue;
      }
      counts.taken += 1;
      checkPrices(book.engine, visit, visitWith, () => undefined, insisted);
      for (const { outcome, methods } of withIt.remaining) {
        if (outcome === "combination") expect(methods, about).toContain(method.id);
        expect(methods.filter((id) => protection.methods.find((other) => other.id === id)?.hazard === 3)).toEqual([]);
      }
      // Whatever the open facts turn out to be, what is then decided was among what remained.
      for (let round = 0; round < 4; round += 1) {
        const rest = entry.facts
          .filter((fact) => blocks.known[fact] === undefined)
          .map((fact) => [resolve(fact, 0, "A"), drawAnswer(fact, visit.policy, new Map(), random)] as const);
        const completed = protectionAt(decideVisit(book.engine, factsFor(visit, rest, insisted)), at);
        if (completed.insistence?.refused === true) continue;
        expect(saidBy(completed).length, about).toBe(1);
        expect(saidBy(withIt), `completed with ${JSON.stringify(rest)}: ${about}`).toContain(saidBy(completed)[0]);
      }
    }
    process.stdout.write(`${kind}: insisted on ${JSON.stringify(counts)}\n`);
    expect(counts.taken).toBeGreaterThan(VISITS / 60);
  });
});
