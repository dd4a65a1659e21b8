import { failure, type Result, success } from "../kernel/result.ts";
import type { Cited, Limit } from "./cited.ts";

/** What drives the generator, as far as reverse-power rules tell it apart; steam and gas turbines are one. */
export type PrimeMover = "diesel" | "turbine";

// No rule-maker's own text was read for any of these (standards.md §3.2); 46 CFR 111.12-11(f) asks for the trip and gives no figure.
const CLASS_TEXT: Cited = {
  cite: "class rule, by its numbering DNV Pt.4 Ch.8",
  mark: "read",
  edition: "unattributed copy",
};
const CCS: Cited = { cite: "CCS, sea-going steel ships", mark: "read", edition: "secondary page" };
const COMMON_BAND: Cited = { cite: "class rules in the style of IEC 60092-202", mark: "memory" };

/** Pick-up bounds in % of rated power, by prime mover. Source: standards.md §3.2. */
export const REVERSE_POWER_PERCENT: Readonly<Record<PrimeMover, { readonly lower: Limit; readonly upper: Limit }>> = {
  diesel: { lower: { value: 8, basis: CCS }, upper: { value: 15, basis: CLASS_TEXT } },
  turbine: { lower: { value: 2, basis: COMMON_BAND }, upper: { value: 6, basis: CLASS_TEXT } },
};

/** Delay bounds in s, the same for both prime movers. Source: standards.md §3.2. */
export const REVERSE_POWER_SECONDS: { readonly lower: Limit; readonly upper: Limit } = {
  lower: { value: 3, basis: CLASS_TEXT },
  upper: { value: 10, basis: CLASS_TEXT },
};

/** Where a reverse-power trip may be set: pick-up in kW and in % of rated power, delay in s; ends included, each with its mark. */
export interface ReversePowerBand {
  readonly kilowatts: { readonly lower: number; readonly upper: number };
  readonly percent: { readonly lower: Limit; readonly upper: Limit };
  readonly seconds: { readonly lower: Limit; readonly upper: Limit };
}

const isAbove0 = (value: number): boolean => value > 0 && Number.isFinite(value);

/** Noise of binary fractions, far below what a relay can be set to. */
const NOISE = 1e-9;

/**
 * The band for a generator of `ratedKw` kW: diesel 8 to 15 %, turbine 2 to 6 %, each after 3 to 10 s. Source: standards.md §3.2 and
 * §9 cases 4–7. Fails unless the rated power is above 0.
 */
export const reversePowerBand = (primeMover: PrimeMover, ratedKw: number): Result<ReversePowerBand> => {
  if (!isAbove0(ratedKw)) return failure("a reverse-power band needs a rated power above 0 kW");
  const percent = REVERSE_POWER_PERCENT[primeMover];
  const kilowatts = { lower: (ratedKw * percent.lower.value) / 100, upper: (ratedKw * percent.upper.value) / 100 };
  return success({ kilowatts, percent, seconds: REVERSE_POWER_SECONDS });
};

/** Where a value stands to a band, ends of the band included. */
export type Place = "below" | "within" | "above";

const placeIn = (value: number, lower: number, upper: number): Place => {
  if (value < lower - NOISE) return "below";
  return value > upper + NOISE ? "above" : "within";
};

/** How a relay is set: pick-up in kW of reverse power, delay in s. */
export interface ReversePowerSetting {
  readonly pickUpKw: number;
  readonly delaySeconds: number;
}

/** Where a relay's setting stands to a band. Fails unless pick-up is above 0 kW and the delay 0 s or more. */
export const placeOfSetting = (
  { pickUpKw, delaySeconds }: ReversePowerSetting,
  { kilowatts, seconds }: ReversePowerBand,
): Result<{ readonly pickUp: Place; readonly delay: Place }> => {
  if (!isAbove0(pickUpKw)) return failure("a reverse-power relay picks up at a power above 0 kW");
  if (!(delaySeconds >= 0 && Number.isFinite(delaySeconds))) return failure("a reverse-power relay's delay must be 0 s or more");
  return success({
    pickUp: placeIn(pickUpKw, kilowatts.lower, kilowatts.upper),
    delay: placeIn(delaySeconds, seconds.lower.value, seconds.upper.value),
  });
};

/** What takes power when it is motored; here steam and gas turbines differ. */
export type MotoredPrimeMover = "diesel" | "condensingSteam" | "nonCondensingSteam" | "gasTurbine";

/** Power that a prime mover takes at synchronous speed, in % of rated power; equal ends where one figure is printed. */
export interface Motoring {
  readonly lowestPercent: number;
  readonly highestPercent: number;
  readonly basis: Cited;
}

const TEXTBOOK: Cited = { cite: "protective-relaying textbook, chapter on relay 32", mark: "read", edition: "unattributed extract" };
const RELAY_MAKER: Cited = { cite: "protective-relaying textbook (25 %) and a relay maker's manual (5 %, well run in)", mark: "read" };

const MOTORING: Readonly<Record<MotoredPrimeMover, Motoring>> = {
  diesel: { lowestPercent: 5, highestPercent: 25, basis: RELAY_MAKER },
  condensingSteam: { lowestPercent: 1, highestPercent: 3, basis: TEXTBOOK },
  nonCondensingSteam: { lowestPercent: 3, highestPercent: 3, basis: TEXTBOOK },
  gasTurbine: { lowestPercent: 50, highestPercent: 50, basis: TEXTBOOK },
};

/** What a prime mover of that kind typically takes when motored, in % of rated power. Source: standards.md §4. Never fails. */
export const typicalMotoring = (primeMover: MotoredPrimeMover): Motoring => MOTORING[primeMover];

/**
 * Whether a relay that picks up at `pickUp` acts when the set takes `motoring`, both in kW or both in % of rated power: only from
 * pick-up on. Source: standards.md §4 (check rule, our inference) and §9 case 8. Fails unless both are above 0.
 */
export const actsWhenMotored = (pickUp: number, motoring: number): Result<boolean> =>
  isAbove0(pickUp) && isAbove0(motoring)
    ? success(motoring >= pickUp - NOISE)
    : failure("pick-up and motoring power must both be above 0 to be compared");

/**
 * The same over all that is typical of a prime mover: "open" where its lowest does not reach a pick-up of `pickUpPercent` % and its
 * highest does. Fails unless the pick-up is above 0 %.
 */
export const actsOverTypical = (pickUpPercent: number, primeMover: MotoredPrimeMover): Result<"yes" | "no" | "open"> => {
  const { lowestPercent, highestPercent } = typicalMotoring(primeMover);
  const atLowest = actsWhenMotored(pickUpPercent, lowestPercent);
  const atHighest = actsWhenMotored(pickUpPercent, highestPercent);
  if (!atLowest.ok) return atLowest;
  if (!atHighest.ok) return atHighest;
  if (atLowest.value) return success("yes");
  return success(atHighest.value ? "open" : "no");
};
