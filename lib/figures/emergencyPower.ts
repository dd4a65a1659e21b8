import { failure, type Result, success } from "../kernel/result.ts";
import type { Cited, Limit } from "./cited.ts";

/** Whose rules an emergency source is judged by: 46 CFR 112, or SOLAS II-1/42 to 44. */
export type EmergencyRules = "46 CFR" | "SOLAS";

/** "cargo" stands for all that is no passenger ship: tankers, drilling units, research ships and others of the same table row. */
export type ShipKind = "passenger" | "cargo";

const cfr = (paragraph: string, edition = "2015 annual edition"): Cited => ({ cite: "46 CFR", paragraph, mark: "read", edition });
const solas = (paragraph: string, edition: string): Cited => ({ cite: "SOLAS", paragraph, mark: "read", edition });
const SECONDARY = "secondary page";
const CURRENT = "current";

/** Every limit on emergency power used here, its unit in its name. Source: standards.md §1.2 to §1.4, §2; 46 CFR 112.05-5 read again. */
export const EMERGENCY_LIMITS = {
  cfrPassengerHours: { value: 36, basis: cfr("Table 112.05-5(a)") },
  cfrCargoHours: { value: 18, basis: cfr("Table 112.05-5(a)") },
  /** From which tonnage the 18 h hold on ocean, Great Lakes, coastwise and international voyages. */
  cfrCargoFromGt: { value: 500, basis: cfr("Table 112.05-5(a)") },
  /** From which tonnage they hold on all waters. */
  cfrCargoAllWatersFromGt: { value: 1600, basis: cfr("Table 112.05-5(a)") },
  /** Below these, or twice the time of run if that is less. */
  cfrInlandPassengerHours: { value: 8, basis: cfr("Table 112.05-5(a)") },
  cfrSmallCargoHours: { value: 6, basis: cfr("Table 112.05-5(a)") },
  cfrSmallCargoInlandFromGt: { value: 300, basis: cfr("Table 112.05-5(a)") },
  solasPassengerHours: { value: 36, basis: solas("II-1/42.2", "2009 consolidated edition") },
  solasCargoHours: { value: 18, basis: solas("II-1/43.2", SECONDARY) },
  /** Tonnage from which SOLAS holds for cargo ships. */
  solasCargoFromGt: { value: 500, basis: { cite: "SOLAS", paragraph: "I/3", mark: "memory" } },
  steeringGearMinutes: { value: 30, basis: cfr("Table 112.05-5(a) note 2") },
  cfrStarts: { value: 6, basis: cfr("112.50-1(k)", CURRENT) },
  cfrStartsWithSecondSource: { value: 3, basis: cfr("112.50-1(k)", CURRENT) },
  cfrSecondSourceStarts: { value: 3, basis: cfr("112.50-1(k)", CURRENT) },
  solasStarts: { value: 3, basis: solas("II-1/44", SECONDARY) },
  solasSecondSourceStarts: { value: 3, basis: solas("II-1/44", SECONDARY) },
  solasSecondSourceMinutes: { value: 30, basis: solas("II-1/44", SECONDARY) },
  /** From failure of the normal source. */
  cfrConnectionSeconds: { value: 45, basis: cfr("112.25-10(a)") },
  solasConnectionSeconds: { value: 45, basis: solas("II-1/42.3.1.2, 43.3.1.2", SECONDARY) },
  /** From the beginning of cranking, at 0 °C. */
  cfrFullLoadSeconds: { value: 45, basis: cfr("112.50-1(d)", CURRENT) },
  /** Reduction of the normal source's voltage at which the set starts. */
  cfrStartReductionFromPercent: { value: 15, basis: cfr("112.25-5") },
  cfrStartReductionToPercent: { value: 40, basis: cfr("112.25-5") },
  /** Voltage of the emergency source at which loads go over to it. */
  cfrTransferFromPercent: { value: 85, basis: cfr("112.25-10(a)") },
  cfrTransferToPercent: { value: 95, basis: cfr("112.25-10(a)") },
  monthlyRunMinutes: { value: 120, basis: cfr("97.15-30(b), 35.10-15(b)") },
  /** A standby set of the main source, not the emergency set. */
  standbySeconds: { value: 45, basis: { cite: "IACS UI SC157", paragraph: "to SOLAS II-1/41.5", mark: "read", edition: "Rev.1" } },
  standbyPreferredSeconds: { value: 30, basis: { cite: "IACS UI SC157", paragraph: "to SOLAS II-1/41.5", mark: "read", edition: "Rev.1" } },
  standbyUnattendedUsSeconds: { value: 30, basis: cfr("62.50-30(k)") },
} as const satisfies Readonly<Record<string, Limit>>;

const LIMITS = EMERGENCY_LIMITS;

const isAbove0 = (value: number): boolean => value > 0 && Number.isFinite(value);
const isFrom0 = (value: number): boolean => value >= 0 && Number.isFinite(value);

/** A ship as far as the hours of its emergency source depend on it. */
export interface EmergencyShip {
  readonly rules: EmergencyRules;
  readonly kind: ShipKind;
  /** Gross tonnage; a passenger ship's is not asked. */
  readonly grossTonnage?: number | undefined;
  /** "open": ocean, Great Lakes, coastwise or international; "inland": none of these. */
  readonly voyage: "open" | "inland";
  /** Time of run in h, asked only where the hours depend on it. */
  readonly runHours?: number | undefined;
}

/** Hours for which the emergency source must last, and by what rule. */
export interface EmergencyHours {
  readonly hours: number;
  readonly basis: Cited;
}

const hoursOf = ({ value, basis }: Limit): Result<EmergencyHours> => success({ hours: value, basis });

const orTwiceTheRun = ({ value, basis }: Limit, runHours: number | undefined): Result<EmergencyHours> => {
  if (runHours === undefined)
    return failure(`the hours are ${value} or twice the time of run, whichever is less: the time of run is wanted`);
  return isAbove0(runHours) ? success({ hours: Math.min(value, 2 * runHours), basis }) : failure("a time of run must be above 0 h");
};

/**
 * Hours for which the emergency source must last. 46 CFR: passenger 36 (inland 8 or twice the run if less), cargo 18 from 500 GT, inland
 * from 1600 GT, below them 6 or twice the run if less. SOLAS: passenger 36, cargo 18. Shorter hours that an authority may grant for
 * short voyages are not counted on. Source: 46 CFR Table 112.05-5(a), SOLAS II-1/42 and 43; standards.md §9 case 20.
 * Fails where the rules say nothing (cargo below 300 GT inland; SOLAS inland, or cargo below 500 GT), and on tonnage or time of run
 * that is wanted and not there or not above 0.
 */
export const emergencyHours = (ship: EmergencyShip): Result<EmergencyHours> => {
  const { rules, kind, grossTonnage, voyage, runHours } = ship;
  const inland = voyage === "inland";
  if (rules === "SOLAS" && inland) return failure("SOLAS does not reach a ship on inland voyages");
  if (kind === "passenger") {
    if (rules === "SOLAS") return hoursOf(LIMITS.solasPassengerHours);
    return inland ? orTwiceTheRun(LIMITS.cfrInlandPassengerHours, runHours) : hoursOf(LIMITS.cfrPassengerHours);
  }
  if (grossTonnage === undefined || !isAbove0(grossTonnage)) return failure("a cargo ship's hours need its gross tonnage, above 0 GT");
  if (rules === "SOLAS") {
    if (grossTonnage >= LIMITS.solasCargoFromGt.value) return hoursOf(LIMITS.solasCargoHours);
    return failure(`SOLAS does not reach a cargo ship below ${LIMITS.solasCargoFromGt.value} GT`);
  }
  const from = inland ? LIMITS.cfrCargoAllWatersFromGt : LIMITS.cfrCargoFromGt;
  if (grossTonnage >= from.value) return hoursOf(LIMITS.cfrCargoHours);
  if (inland && grossTonnage < LIMITS.cfrSmallCargoInlandFromGt.value) {
    return failure(`46 CFR 112.05-5 says nothing of a cargo ship below ${LIMITS.cfrSmallCargoInlandFromGt.value} GT on inland voyages`);
  }
  return orTwiceTheRun(LIMITS.cfrSmallCargoHours, runHours);
};

/** What stands ready to start an emergency set, in whole consecutive starts without recharging. */
export interface StoredStarts {
  readonly rules: EmergencyRules;
  readonly first: number;
  /** In a second, separate source; 0 where there is none. */
  readonly second: number;
  /** Time in min within which the second source can give its starts; at once unless stated. SOLAS only. */
  readonly secondWithinMinutes?: number | undefined;
  /** Whether starting by hand was shown to be effective, which stands for a second source. SOLAS only. */
  readonly manualStartEffective?: boolean | undefined;
}

/** Whether stored starts are enough, what is lacking if not, and by what rule. */
export type StartsVerdict =
  | { readonly sufficient: true; readonly basis: Cited }
  | { readonly sufficient: false; readonly lacking: string; readonly basis: Cited };

const solasStarts = ({ first, second, secondWithinMinutes = 0, manualStartEffective = false }: StoredStarts): readonly string[] => {
  const { solasStarts: own, solasSecondSourceStarts: other, solasSecondSourceMinutes: within } = LIMITS;
  const secondHolds = second >= other.value && secondWithinMinutes <= within.value;
  return [
    ...(first >= own.value ? [] : [`${own.value} starts from the first source`]),
    ...(secondHolds || manualStartEffective
      ? []
      : [`${other.value} more from a second source within ${within.value} min, or a start by hand shown to be effective`]),
  ];
};

const cfrStarts = ({ first, second }: StoredStarts): readonly string[] => {
  const { cfrStarts: alone, cfrStartsWithSecondSource: own, cfrSecondSourceStarts: other } = LIMITS;
  if (first >= alone.value || (first >= own.value && second >= other.value)) return [];
  return [`${alone.value} starts, or ${own.value} and ${other.value} from a second source`];
};

/**
 * Whether the starts stored for an automatically started emergency set are enough: 46 CFR 6, or 3 and 3 from a second source; SOLAS 3,
 * and 3 more from a second source within 30 min unless starting by hand was shown to be effective. So 6 from one source meet the first
 * and not the second. Source: 46 CFR 112.50-1(k), SOLAS II-1/44; standards.md §9 cases 17, 18. An empty store is an answer, no fault.
 * Fails on starts that are not whole numbers from 0 and on minutes below 0.
 */
export const startsSufficient = (stored: StoredStarts): Result<StartsVerdict> => {
  const { rules, first, second, secondWithinMinutes = 0 } = stored;
  if (![first, second].every((starts) => Number.isInteger(starts) && starts >= 0)) {
    return failure("stored starts are whole numbers from 0");
  }
  if (!isFrom0(secondWithinMinutes)) return failure("the time for a second source's starts must be 0 min or more");
  const lacking = rules === "SOLAS" ? solasStarts(stored) : cfrStarts(stored);
  const { basis } = rules === "SOLAS" ? LIMITS.solasStarts : LIMITS.cfrStarts;
  return success(lacking.length === 0 ? { sufficient: true, basis } : { sufficient: false, lacking: lacking.join("; "), basis });
};

/** What was timed in a changeover, in s from the failure of the normal source. */
export interface Changeover {
  readonly rules: EmergencyRules;
  readonly crankedAt: number;
  readonly transferredAt: number;
}

/** Whether the loads were on the emergency source in time, and by when it must be able to carry full load, in s from the failure. */
export interface ChangeoverVerdict {
  readonly connectedInTime: boolean;
  /** Under 46 CFR only, counted from cranking; SOLAS sets no such time. */
  readonly fullLoadBySeconds: number | undefined;
}

/**
 * Judges a changeover: connected within 45 s of the failure; under 46 CFR full rated load within 45 s of cranking, which is another
 * clock. Source: 46 CFR 112.25-10(a), 112.50-1(d), SOLAS II-1/42.3.1.2; standards.md §9 cases 14, 15.
 * Fails unless cranking begins at 0 s or later and the transfer comes after it.
 */
export const judgeChangeover = ({ rules, crankedAt, transferredAt }: Changeover): Result<ChangeoverVerdict> => {
  if (!isFrom0(crankedAt)) return failure("cranking begins at the failure of the normal source or after it");
  if (!(transferredAt > crankedAt && Number.isFinite(transferredAt))) return failure("the transfer comes after cranking has begun");
  const limit = rules === "SOLAS" ? LIMITS.solasConnectionSeconds : LIMITS.cfrConnectionSeconds;
  return success({
    connectedInTime: transferredAt <= limit.value,
    fullLoadBySeconds: rules === "SOLAS" ? undefined : crankedAt + LIMITS.cfrFullLoadSeconds.value,
  });
};

/** Whether a standby set of the main source was on the board in time after a blackout. */
export interface StandbyVerdict {
  /** IACS UI SC157: "preferred" up to 30 s, "permitted" up to 45 s. */
  readonly iacs: "preferred" | "permitted" | "too late";
  /** 46 CFR 62.50-30(k), periodically unattended plants. */
  readonly unattendedUs: boolean;
}

/**
 * Judges the time in s from a blackout until the standby set was on the board. Source: IACS UI SC157, 46 CFR 62.50-30(k);
 * standards.md §9 case 16. Fails unless it is above 0.
 */
export const judgeStandby = (seconds: number): Result<StandbyVerdict> => {
  if (!isAbove0(seconds)) return failure("a standby set comes on the board more than 0 s after a blackout");
  const late = seconds <= LIMITS.standbySeconds.value ? "permitted" : "too late";
  return success({
    iacs: seconds <= LIMITS.standbyPreferredSeconds.value ? "preferred" : late,
    unattendedUs: seconds <= LIMITS.standbyUnattendedUsSeconds.value,
  });
};

/** Voltages in V between which an emergency set must have started (falling) and its loads must go over (rising), ends included. */
export interface ChangeoverVoltages {
  readonly startHighest: number;
  readonly startLowest: number;
  readonly transferLowest: number;
  readonly transferHighest: number;
}

/**
 * Voltage windows of an automatic changeover at `nominal` V: start at 85 to 60 % of the normal source's voltage, transfer at 85 to 95 %
 * of the emergency source's. Source: 46 CFR 112.25-5, 112.25-10(a); standards.md §9 case 13. Fails unless the voltage is above 0.
 */
export const changeoverVoltages = (nominal: number): Result<ChangeoverVoltages> => {
  if (!isAbove0(nominal)) return failure("changeover voltages need a nominal voltage above 0 V");
  const share = (percent: number): number => (nominal * percent) / 100;
  return success({
    startHighest: share(100 - LIMITS.cfrStartReductionFromPercent.value),
    startLowest: share(100 - LIMITS.cfrStartReductionToPercent.value),
    transferLowest: share(LIMITS.cfrTransferFromPercent.value),
    transferHighest: share(LIMITS.cfrTransferToPercent.value),
  });
};

/** What drives an emergency generator. */
export type EmergencyPrimeMover = "diesel" | "gasTurbine" | "steamTurbine" | "powerTakeOff";

/** Rule that names the permitted prime movers. */
export const PRIME_MOVER_BASIS: Cited = cfr("112.05-5(i)");

/** Whether 46 CFR 112.05-5(i) permits it: a diesel or a gas turbine only. Source: standards.md §9 case 19. Never fails. */
export const primeMoverAllowed = (primeMover: EmergencyPrimeMover): boolean => primeMover === "diesel" || primeMover === "gasTurbine";

/**
 * Whether a month's run under load of `minutes` min was long enough: 2 h. Source: 46 CFR 97.15-30(b), 35.10-15(b); standards.md §9
 * case 21. 0 stands for a run that was not made. Fails below 0.
 */
export const monthlyRunSufficient = (minutes: number): Result<boolean> =>
  isFrom0(minutes) ? success(minutes >= LIMITS.monthlyRunMinutes.value) : failure("a run under load lasts 0 min or more");

/**
 * Hours that the fuel in a tank lasts: `tankLitres` L × the share that can be drawn, above 0 and up to 1, over `litresPerHour` L/h at
 * the emergency load. Source: arithmetic. Fails outside those.
 */
export const fuelHours = (tankLitres: number, usableFraction: number, litresPerHour: number): Result<number> => {
  if (!isAbove0(tankLitres) || !isAbove0(litresPerHour)) return failure("fuel hours need a tank and a consumption above 0");
  if (!(usableFraction > 0 && usableFraction <= 1)) return failure("the share of a tank that can be drawn lies above 0 and up to 1");
  return success((tankLitres * usableFraction) / litresPerHour);
};
