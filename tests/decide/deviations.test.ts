import { expect, test } from "vitest";
import { decideVisit } from "../../lib/decide/visit.ts";
import { resolve } from "../../lib/model/fact.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import type { Part } from "../../lib/rulebook/types.ts";
import { newRandom } from "../bench/random.ts";
import { drawNumber, pick } from "./cubes.ts";
import { type Facts, holds, MAY_STAY_OPEN, specAt } from "./oracle.ts";
import { aboutOf, bookOf, factsFor, protectionAt } from "./visits.ts";

/**
 * Deviations on completed facts. Which combination goes with an insisted method is a choice; but where an acceptable one
 * with it is to be had, it is not refused for want of one, and leaves nothing open that the best of them proves.
 */
const ROUNDS = 4000;
const POLICIES: readonly (readonly Part[])[] = [MAY_STAY_OPEN, ["final"]];

const cases = rulebook.protections.flatMap((protection) =>
  POLICIES.map((mayStayOpen) => [protection.kind, mayStayOpen.join(), protection, mayStayOpen] as const),
);

test.each(cases)(
  "%s, where %s may stay open: a fit method is taken, with what it leaves open proven where that can be had",
  (kind, _, protection, mayStayOpen) => {
    const random = newRandom(kind.length);
    const book = bookOf([protection], mayStayOpen);
    const [entry] = book.protections;
    if (entry === undefined) throw new Error("no protection");
    const [refused, left]: [string[], string[]] = [[], []];
    let taken = 0;
    for (let round = 0; round < ROUNDS; round += 1) {
      const aim = pick(entry.candidates, random);
      const facts: Record<string, string | number> = {};
      for (const at of entry.facts) {
        const { domain } = specAt(at);
        facts[at] = domain.kind === "choice" ? (pick(domain.values, random) ?? "") : drawNumber(at, random);
      }
      for (const condition of aim?.conditions ?? [])
        if (typeof condition === "object" && "is" in condition) facts[condition.at] = pick(condition.is, random) ?? "";
      const method = pick(aim?.methods ?? [], random) ?? "";
      const known: Facts = facts;
      const best = entry.candidates.find(
        ({ methods, conditions }) => methods.includes(method) && conditions.every((condition) => holds(condition, known)),
      );
      if (best === undefined) continue;
      const answers = new Map(Object.entries(facts).map(([at, value]) => [resolve(at, 0, "A"), value]));
      const visit = {
        sisters: ["A"],
        answers,
        policy: { mayStayOpen, late: new Set<never>(), shutOut: new Map<string, readonly string[]>() },
      };
      const at = `/sets/0/${kind}`;
      const decided = protectionAt(decideVisit(book.engine, factsFor(visit, [], new Map([[at, method]]))), at);
      const got = decided.remaining[0];
      const about = `${method} insisted on; ${best.methods.join(" + ")} holds, open: ${best.open.join()}; ${aboutOf(visit)}`;
      if (decided.insistence?.refused !== false) refused.push(`${decided.insistence?.why}: ${about}`);
      else if (got?.unproven.some((part) => !best.open.includes(part)))
        left.push(`got ${got.methods.join(" + ")}, open: ${got.unproven.join()}: ${about}`);
      taken += 1;
    }
    expect({ taken, refused: refused.length, left: left.length, first: refused[0] ?? left[0] }).toEqual({
      taken,
      refused: 0,
      left: 0,
      first: undefined,
    });
  },
);
