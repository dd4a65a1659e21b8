import type { LoadLeftInput } from "../figures/loadLeft.ts";
import { plantAt } from "./facts/plant.ts";

type Answers = ReadonlyMap<string, string | number>;

export const numberIn = (answers: Answers, at: string): number | undefined => {
  const value = answers.get(at);
  return typeof value === "number" ? value : undefined;
};

/**
 * Rated powers in kW of the ship-service sets that carry the ship beside one, those with an open defect left out; undefined where
 * there is none or a power is not known.
 */
export const othersThatCarry = (answers: Answers, sets: number, beside: number): readonly number[] | undefined => {
  const all = Array.from({ length: sets }, (_, other) => other)
    .filter(
      (other) =>
        other !== beside && answers.get(`/sets/${other}/role`) === "ship service" && answers.get(`/sets/${other}/openDefects`) !== "some",
    )
    .map((other) => numberIn(answers, `/sets/${other}/plate/ratedPower`));
  const known = all.filter((power) => power !== undefined);
  return known.length === 0 || known.length < all.length ? undefined : known;
};

/**
 * What the others have to carry beside one set, in kW: the ship's load, what the set takes (0 when it is not motored) and the
 * largest consumer that may start by itself (0 where it is not known); undefined where load or ratings are not known.
 */
export const loadBeside = (
  answers: Answers,
  sets: number,
  beside: number,
  { motoringKw, limitPercent }: Pick<LoadLeftInput, "motoringKw" | "limitPercent">,
): LoadLeftInput | undefined => {
  const [shipLoadKw, remainingRatedKw] = [numberIn(answers, plantAt.load), othersThatCarry(answers, sets, beside)];
  if (shipLoadKw === undefined || remainingRatedKw === undefined) return undefined;
  return { shipLoadKw, motoringKw, largestStarterKw: numberIn(answers, plantAt.largestStarter) ?? 0, remainingRatedKw, limitPercent };
};

/** What a set takes when it is motored, in kW; undefined where rating or motoring power is not known. */
export const motoringPower = (answers: Answers, set: number): number | undefined => {
  const [rated, percent] = [
    numberIn(answers, `/sets/${set}/plate/ratedPower`),
    numberIn(answers, `/sets/${set}/reversePower/motoringPower`),
  ];
  return rated === undefined || percent === undefined ? undefined : (rated * percent) / 100;
};
