import { expect, test } from "vitest";
import { newEngine } from "../../lib/decide/engine.ts";
import type { Facts as VisitFacts } from "../../lib/decide/knowledge.ts";
import { decideVisit } from "../../lib/decide/visit.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import type { Protection } from "../../lib/rulebook/types.ts";
import { newRandom } from "../bench/random.ts";
import { numericIn } from "./cubes.ts";
import { MAY_STAY_OPEN } from "./oracle.ts";

/** Sums at their edges, against arithmetic in whole numbers: no rounding of decimals may tip an edge over. */
const ROUNDS = 4000;
const random = newRandom(115);
const upTo = (most: number): number => Math.floor(random() * (most + 1));

const protectionOf = (kind: string): Protection => {
  const found = rulebook.protections.find((protection) => protection.kind === kind);
  if (found === undefined) throw new Error(`no ${kind}`);
  return found;
};

/** The sums that a method asks for, in whole numbers: factors in hundredths, facts in tenths. */
const exactly = (kind: string, method: string, facts: Readonly<Record<string, number>>): boolean =>
  (protectionOf(kind).methods.find(({ id }) => id === method)?.requirements ?? [])
    .flatMap(({ when }) => numericIn(when))
    .every((condition) => {
      if (condition === true || !("sum" in condition)) return true;
      const sum = condition.sum.reduce((total, [factor, at]) => total + Math.round(factor * 100) * Math.round((facts[at] ?? 0) * 10), 0);
      return sum <= Math.round(condition.to * 1000);
    });

const verdictOn = (kind: string, method: string) => {
  const protection = protectionOf(kind);
  const engine = newEngine({ ...rulebook, protections: [protection] }, MAY_STAY_OPEN);
  const fit = protection.methods.find(({ id }) => id === method)?.examples.fit ?? {};
  const place = protection.methods.findIndex(({ id }) => id === method);
  return (more: Readonly<Record<string, string | number>>): string => {
    const answers = new Map(
      Object.entries({ ...fit, ...more }).map(([at, value]) => [
        at.replace("/sets/*/", "/sets/0/").replace("/sisters/*/", "/sisters/A/"),
        value,
      ]),
    );
    const facts: VisitFacts = { sets: [{ sisters: "A" }], answers, insisted: new Map(), inTime: () => true };
    return decideVisit(engine, facts).protections[0]?.verdicts[place]?.verdict ?? "";
  };
};

test("overspeed: room under 115 % of rated speed and under the makers' maximum, and a trip above rated speed", () => {
  const verdict = verdictOn("overspeed", "os-raise");
  const seen = { fit: 0, barred: 0 };
  for (let round = 0; round < ROUNDS; round += 1) {
    // In tenths of 1 rpm; set point, tolerance, error and maximum lie on halves.
    const rated = 1000 + upTo(50000);
    const limit = Math.floor((rated * 115) / 100 / 5) * 5;
    const [tolerance, error] = [5 * upTo(60), 5 * upTo(20)];
    const setPoint = random() < 0.3 ? Math.round(rated / 5) * 5 + 5 * (upTo(2) - 1) : limit - tolerance - error + 5 * (upTo(4) - 2);
    const maximum = setPoint + tolerance + error + 5 * (random() < 0.4 ? upTo(4) - 2 : upTo(40));
    if (setPoint < 1000) continue;
    const facts = {
      "/sets/*/plate/ratedSpeed": rated / 10,
      "/sets/*/overspeed/setPoint": setPoint / 10,
      "/sets/*/overspeed/tolerance": tolerance / 10,
      "/policy/tachometerError": error / 10,
      "/sets/*/overspeed/makersMaximum": maximum / 10,
    };
    const expected = exactly("overspeed", "os-raise", facts) ? "fit" : "barred";
    expect(verdict(facts), JSON.stringify(facts)).toBe(expected);
    seen[expected] += 1;
  }
  expect(Math.min(seen.fit, seen.barred)).toBeGreaterThan(ROUNDS / 10);
});

test("jacket water: the sensor dips in at least ten times its diameter", () => {
  const verdict = verdictOn("jacketWaterTemperature", "jw-dry-heated");
  for (let halves = 2; halves <= 120; halves += 1)
    for (const over of [-1, 0, 1]) {
      const facts = {
        "/sets/*/jacketWaterTemperature/diameter": halves / 2,
        "/sets/*/jacketWaterTemperature/immersion": 5 * halves + over,
      };
      expect(verdict(facts), JSON.stringify(facts)).toBe(exactly("jacketWaterTemperature", "jw-dry-heated", facts) ? "fit" : "barred");
    }
});
