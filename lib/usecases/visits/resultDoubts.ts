import { digestOf } from "../../kernel/digest.ts";
import { inShipsUnits } from "../../letter/sheets/figures.ts";
import { longDate, methodsOf, protectionOf, windowWords } from "../../letter/words.ts";
import { valueAt } from "../../model/fault.ts";
import type { ReadVisit } from "../../model/read.ts";
import type { TestResult } from "../../model/result.ts";
import { usualOf } from "../../model/usual.ts";
import { TEST_MODE, THRESHOLD } from "../../plan/figures/speeds.ts";
import { testsOf } from "../../plan/places.ts";
import { sayAmount } from "../../plan/readable.ts";
import type { Plan, PlanFigure, PlanProtection } from "../../plan/schema.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { StoredVisit } from "../../store/store.ts";
import { unitOf } from "../../units/parse.ts";
import { convert, dimensionOf, formatNumber, isUnit, type Unit } from "../../units/units.ts";
import { storedPointer } from "./places.ts";
import { doubtAt, type ResultFault } from "./resultFields.ts";

/** A visit with its plan, against which its records are held. */
export interface HeldAgainst {
  readonly stored: Pick<StoredVisit, "frame" | "sets">;
  readonly plan: Plan;
  readonly read: ReadVisit;
  readonly rulebook: Rulebook;
}

/** A reading this many tolerances off its set point is a slip of the pen or outside limits: rounding and a gauge's own error never make so much. */
const FAR = 2;

/** A running value may lie so many times further out than set points usually do. Common practice. */
const ROOM_OF_RUNNING = 2;

/** The figures that no reading within limits goes over. */
const LIMIT = /^(?:highest |tripped by hand at the latest|emergency power within)/;

/** A figure's amount as the ship's own gauge shows it, with SI behind it where that is another, and what is told of it; without its name. */
export const amountAboard = (figure: PlanFigure, protection: PlanProtection, against: Omit<HeldAgainst, "stored">, note = ""): string => {
  const [own, si] = [inShipsUnits(figure, protection, { ...against, units: "metric" }), sayAmount(figure, "metric")];
  const behind = [...(own === "" ? [] : [si]), ...(note === "" ? [] : [note])].join("; ");
  return `${own === "" ? si : own}${behind === "" ? "" : ` (${behind})`}`;
};

interface Reading {
  readonly value: number;
  readonly unit: Unit;
}

/** A reading in a unit; undefined where that measures something else. */
const readIn = ({ value, unit }: Reading, wanted: string): number | undefined => {
  const found = isUnit(wanted) ? convert(value, unit, wanted) : undefined;
  return found?.ok === true ? found.value : undefined;
};

/** How far a reading may lie from a figure that it is to show; the threshold of a test mode is held to the spread that proves it. */
const toleranceOf = ({ name, tolerance }: PlanFigure): number | undefined => (name === THRESHOLD ? TEST_MODE.spread : tolerance);

/** Whether a test was done by ways that show the protection at a running value only, so that what is read need not be the set point. */
const atRunningValue = (result: TestResult, kind: string, rulebook: Rulebook): boolean => {
  const ids =
    result.outcome === "as planned"
      ? result.planned
      : result.outcome === "by another method" && "method" in result.by
        ? [result.by.method]
        : [];
  const ways = methodsOf(rulebook, kind, ids);
  return ways.length > 0 && ways.every(({ proves }) => proves.sensing !== "set point" && proves.logic !== "set point");
};

/** Why a reading that is given as within limits does not look so; empty where it does. */
const farWords = (reading: Reading, result: TestResult, protection: PlanProtection, against: HeldAgainst): string => {
  const { rulebook } = against;
  const figures = protection.figures.filter(
    ({ value, unit, officeOnly }) => typeof value === "number" && officeOnly !== true && readIn(reading, unit) !== undefined,
  );
  const over = (figure: PlanFigure): number => (readIn(reading, figure.unit) ?? 0) - Number(figure.value);
  const running = atRunningValue(result, protection.kind, rulebook);
  const aims = figures.filter((figure) => toleranceOf(figure) !== undefined);
  const first = aims.find(({ tolerance }) => tolerance !== undefined);
  if (first !== undefined && !running)
    return aims.some((figure) => Math.abs(over(figure)) <= FAR * (toleranceOf(figure) ?? 0))
      ? ""
      : `is far from ${amountAboard(first, protection, against)}`;
  const limit = figures.find((figure) => LIMIT.test(figure.name) && over(figure) > 0);
  if (limit !== undefined) return `goes over “${limit.name}: ${amountAboard(limit, protection, against)}”`;
  // Nothing nearer is known than what such set points usually are.
  const spec = rulebook.facts.find(({ at }) => at === protectionOf(rulebook, protection.kind)?.setPoint);
  const usual = spec === undefined ? undefined : usualOf(spec.at);
  const value = readIn(reading, spec?.unit ?? "");
  if (usual === undefined || value === undefined || aims.some((figure) => Math.abs(over(figure)) <= FAR * (toleranceOf(figure) ?? 0)))
    return "";
  const room = running ? ROOM_OF_RUNNING : 1;
  return value >= usual.from / room && value <= usual.to * room
    ? ""
    : `is far from what such set points usually are, ${formatNumber(usual.from, 3)} to ${formatNumber(usual.to, 3)} ${spec?.unit}`;
};

/** The unit in which a reading is compared, and what is odd about the reading. */
const readingDoubts = (result: TestResult, protection: PlanProtection, against: HeldAgainst): readonly ResultFault[] => {
  if (result.outcome === "not done" || result.reading === undefined) return [];
  const { rulebook } = against;
  const { number, unit: written } = result.reading;
  const unit = unitOf(written);
  const setPoint = rulebook.facts.find(({ at }) => at === protectionOf(rulebook, protection.kind)?.setPoint)?.unit;
  // A pick-up in per cent of rated power is read in kW.
  const like = [setPoint, ...(setPoint === "%" ? ["kW"] : []), ...protection.figures.map((figure) => figure.unit)].filter(
    (one): one is Unit => one !== undefined && isUnit(one),
  );
  if (setPoint !== undefined && (unit === undefined || !like.some((one) => dimensionOf(one) === dimensionOf(unit))))
    return [doubtAt("unit", `“${written}” cannot be compared with the set point, which is in ${setPoint}`)];
  if (unit === undefined || result.within !== "within limits") return [];
  const far = farWords({ value: Number(number), unit }, result, protection, against);
  return far === "" ? [] : [doubtAt("number", `${number} ${written} ${far}, and is given as within limits`)];
};

const dayDoubts = ({ on }: TestResult, { frame }: HeldAgainst["stored"]): readonly ResultFault[] => {
  // By the visit's own days, not by those that stand in for them in a draft.
  const [from, to] = ["from", "to"].map((end) => valueAt(frame, `/visit/window/${end}`));
  if (typeof from !== "string" || typeof to !== "string" || (on >= from && on <= to)) return [];
  return [doubtAt("on", `${longDate(on)} is no day of the visit, which is ${from === to ? "on" : "from"} ${windowWords({ from, to })}`)];
};

/**
 * What of a record is asked once more before it is kept: a day that is none of the visit's, a unit that cannot be compared with the set point's, a
 * reading that is given as within limits and does not look so. Nothing of it is refused. `at` is the pointer with the id of the set.
 */
export const doubtsOf = (at: string, result: TestResult, against: HeldAgainst): readonly ResultFault[] => {
  const protection = testsOf(against.plan).find((one) => storedPointer(one.at, against.stored.sets) === at);
  return [...(protection === undefined ? [] : readingDoubts(result, protection, against)), ...dayDoubts(result, against.stored)];
};

/** The same beside the record that the fields were filled in from: what stood there already was asked then. */
export const openDoubts = (at: string, result: TestResult, before: TestResult | null, against: HeldAgainst): readonly ResultFault[] => {
  const known = new Set(before === null ? [] : doubtsOf(at, before, against).map(({ says }) => says));
  return doubtsOf(at, result, against).filter(({ says }) => !known.has(says));
};

/** What a form carries of the question that it showed: what was asked, and the remark that stood there then. */
export const askedMark = (doubts: readonly ResultFault[], remark: string): string =>
  doubts.length === 0 ? "" : `${digestOf(doubts.map(({ says }) => says))} ${digestOf(remark.trim())}`;

/** Whether who was asked just this said that it is so, or wrote a remark on it. */
export const isAnswered = (doubts: readonly ResultFault[], asked: string, sure: boolean, remark: string): boolean => {
  const [about, before] = asked.split(" ");
  const [now, after] = askedMark(doubts, remark).split(" ");
  return about === now && (sure || (remark.trim() !== "" && before !== after));
};
