import { sayAmount } from "../../plan/readable.ts";
import type { PlanFigure, PlanProtection } from "../../plan/schema.ts";
import type { Method } from "../../rulebook/types.ts";
import { convert, type Dimension, dimensionOf, displayUnit, formatNumber, isUnit, type Unit } from "../../units/units.ts";
import { SAY } from "../catalogue.ts";
import { givenWords, type PlanInput, plannedFigures, valueWords } from "../protections.ts";
import { capital, protectionOf } from "../words.ts";
import { type SheetBlock, tableOf } from "./blocks.ts";

/** The unit that the ship gave a protection's set point in, where it is not the rulebook's own. */
const shipsUnit = ({ kind, at }: PlanProtection, { read, rulebook }: PlanInput): Unit | undefined => {
  const template = protectionOf(rulebook, kind)?.setPoint;
  const given = template === undefined ? undefined : read.own.get(template.replace("*", at.split("/")[2] ?? ""));
  const unit = given?.split(" ").at(-1);
  return unit !== undefined && isUnit(unit) ? unit : undefined;
};

const isUs = (unit: Unit | undefined): boolean => unit === "psi" || unit === "°F";

/** The amount as the ship's own gauge shows it, where that reads otherwise than the reader's; else nothing. */
export const inShipsUnits = (figure: PlanFigure, protection: PlanProtection, input: PlanInput): string => {
  const mine = sayAmount(figure, input.units);
  const given = givenWords(figure, protection, input);
  const shown = given !== "" ? given : sayAmount(figure, isUs(shipsUnit(protection, input)) ? "us" : "metric");
  return shown === mine ? "" : shown;
};

/** Set points and figures to feed in: each with its tolerance, and in the ship's units where these are others. */
export const figureTable = (protection: PlanProtection, input: PlanInput): readonly SheetBlock[] => {
  const rows = plannedFigures(protection).map((figure) => [
    capital(figure.name),
    valueWords(figure, input.units),
    inShipsUnits(figure, protection, input),
  ]);
  const two = rows.some(([, , other]) => other !== "");
  return tableOf(
    [
      { title: SAY.carry.setPoints, share: two ? 30 : 36 },
      { title: SAY.carry.toBe, share: two ? 42 : 64, strong: true },
      ...(two ? [{ title: SAY.carry.shipsUnits, share: 28, strong: true as const }] : []),
    ],
    rows.map((row) => (two ? row : row.slice(0, 2))),
  );
};

/** What a test is read by: the value at which it acts, what is fed in, or what the channel shows beside a reference. */
export interface Reads {
  readonly acts: string;
  readonly fedIn: string | null;
  readonly compared: boolean;
}

/** The unit that a protection's value is read in: the ship's own, else the reader's. A pick-up in per cent of rated power is read in kW. */
export const unitRead = (protection: PlanProtection, input: PlanInput): string => {
  const template = protectionOf(input.rulebook, protection.kind)?.setPoint;
  const unit = input.rulebook.facts.find(({ at }) => at === template)?.unit;
  if (unit === undefined) return "";
  return unit === "%" ? "kW" : (shipsUnit(protection, input) ?? displayUnit(unit, input.units));
};

/** In which units a method is read. */
export const readsOf = (protection: PlanProtection, { figures = [], technique }: Method, input: PlanInput): Reads => {
  const feeds = figures.includes("signal") || figures.includes("frequency");
  const signal = plannedFigures(protection).find(
    ({ unit, name }) => isUnit(unit) && SIGNALS.has(dimensionOf(unit)) && !name.startsWith("set point"),
  );
  return {
    acts: unitRead(protection, input),
    fedIn: feeds && signal !== undefined ? signal.unit : null,
    compared: technique === COMPARISON,
  };
};

const SIGNALS: ReadonlySet<Dimension> = new Set(["current", "resistance", "voltage", "frequency"]);
/** The technique that stimulates nothing. */
const COMPARISON = 7;

const DECIMALS = 3;

/** How one unit is turned into the other by head: "1 bar = 14.5 psi", and back. */
const conversionOf = (from: Unit, to: Unit): readonly string[] => {
  if (dimensionOf(from) === "temperature") return [SAY.carry.fahrenheit];
  const oneOf = (a: Unit, b: Unit): readonly string[] => {
    const found = convert(1, a, b);
    return found.ok ? [SAY.carry.outOf(`1 ${a}`, `${formatNumber(found.value, DECIMALS)} ${b}`)] : [];
  };
  return [...oneOf(from, to), ...oneOf(to, from)];
};

/** How the units of these tests' figures are turned into one another, where ship and reader use others. */
export const conversionsOf = (tests: readonly PlanProtection[], input: PlanInput): readonly string[] => [
  ...new Set(
    tests.flatMap((protection) =>
      plannedFigures(protection).flatMap(({ unit }) => {
        if (!isUnit(unit)) return [];
        const own = shipsUnit(protection, input);
        const ships = own !== undefined && dimensionOf(own) === dimensionOf(unit) ? own : unit;
        const mine = displayUnit(unit, input.units);
        return ships === mine ? [] : conversionOf(mine, ships);
      }),
    ),
  ),
];
