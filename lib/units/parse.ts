import { failure, type Result, success } from "../kernel/result.ts";
import { dimensionOf, isUnit, UNITS, type Unit, unitsOffered } from "./units.ts";

/** A number as a person wrote it, with the unit it was written in; none where none was written. */
export interface Written {
  readonly value: number;
  readonly unit?: Unit;
}

/** How units are written besides as they are called here; compared without case and spaces. */
const ALSO: Readonly<Record<string, Unit>> = {
  c: "°C",
  degc: "°C",
  celsius: "°C",
  ºc: "°C",
  f: "°F",
  degf: "°F",
  fahrenheit: "°F",
  ºf: "°F",
  "r/min": "rpm",
  "1/min": "rpm",
  "min-1": "rpm",
  "min⁻¹": "rpm",
  bars: "bar",
  "kg/cm2": "kgf/cm2",
  "kgf/cm²": "kgf/cm2",
  "kg/cm²": "kgf/cm2",
  mbar: "hPa",
  ohm: "Ω",
  ohms: "Ω",
  "\u2126": "Ω",
  volt: "V",
  volts: "V",
  amp: "A",
  amps: "A",
  inch: "in",
  '"': "in",
  sec: "s",
  seconds: "s",
  minutes: "min",
  hours: "h",
  hr: "h",
  m3: "m³",
  l: "L",
  litre: "L",
  litres: "L",
  liter: "L",
  liters: "L",
  dba: "dB(A)",
  db: "dB(A)",
  percent: "%",
  bhp: "hp",
};

const keyOf = (text: string): string => text.toLowerCase().replace(/[\s.]+/g, "");

const spelled: ReadonlyMap<string, Unit> = new Map([...UNITS.map((unit) => [keyOf(unit), unit] as const), ...Object.entries(ALSO)]);

/** The unit that a person wrote; undefined where it is none. */
export const unitOf = (text: string): Unit | undefined => (isUnit(text) ? text : spelled.get(keyOf(text)));

/** Invisible signs that come along when text is copied, and the many forms of blank, minus and comma-above. */
const plain = (text: string): string =>
  text
    .replace(/[\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]/g, "")
    .replace(/[\s\u00a0\u2007-\u200a\u202f]+/g, " ")
    .replace(/[\u2212\u2010-\u2013]/g, "-")
    .replace(/[\u2019\u02bc]/g, "'")
    // "1800 1/min" is a speed: the 1 belongs to the unit.
    .replace(/(?<=\d) ?1\/min$/, " rpm")
    .trim();

const GROUPED = (mark: string): RegExp => new RegExp(`^\\d{1,3}(?:\\${mark}\\d{3})+$`);

/** Digits without the marks between their thousands; null where those stand elsewhere. */
const ungrouped = (digits: string): string | null => {
  const marks = [...new Set(digits.replace(/\d/g, ""))];
  const [mark] = marks;
  if (mark === undefined) return digits;
  return marks.length === 1 && GROUPED(mark).test(digits) ? digits.replaceAll(mark, "") : null;
};

/**
 * Where the decimals begin. Of two marks the last one parts them; one point does; one comma does unless exactly three digits follow
 * one to three others that do not begin with 0 ("1,250" is a thousand and more, "0,250" and "1,25" are not).
 */
const decimalMark = (digits: string): number => {
  const [point, comma] = [digits.lastIndexOf("."), digits.lastIndexOf(",")];
  if (point >= 0 && comma >= 0) return Math.max(point, comma);
  if (point >= 0) return digits.indexOf(".") === point ? point : -1;
  return comma >= 0 && digits.indexOf(",") === comma && !/^[1-9]\d{0,2},\d{3}$/.test(digits) ? comma : -1;
};

const numberOf = (digits: string): number | null => {
  const at = decimalMark(digits);
  const whole = ungrouped(at < 0 ? digits : digits.slice(0, at));
  const fraction = at < 0 ? "" : digits.slice(at + 1);
  return whole === null || !/^\d*$/.test(fraction) || `${whole}${fraction}` === ""
    ? null
    : Number(`${whole === "" ? "0" : whole}.${fraction}`);
};

const likeUnits = (wanted: Unit): string => unitsOffered(wanted).join(", ");

const EXAMPLE = "a number such as 1250 or 2.5";

/**
 * Reads a number as people write it: "1,250 kW", "98°C", "208 °F", "2,5 bar", "± 0.2". `wanted` is the unit of what is asked; undefined
 * where it has none. Fails, saying what is wanted, where it is no number, where its decimals cannot be told, or where the unit
 * is none or measures something else.
 */
export const readQuantity = (text: string, wanted: Unit | undefined): Result<Written> => {
  const asked = wanted === undefined ? EXAMPLE : `${EXAMPLE}, in ${likeUnits(wanted)}`;
  const [, sign = "", digits = "", rest = ""] =
    /^(?:±|\+\/?-(?=\s*\d))?\s*([+-]?)\s*([\d.,](?:[\d.,' ]*\d)?)\s*(.*)$/.exec(plain(text)) ?? [];
  const magnitude = numberOf(digits);
  if (magnitude === null || !Number.isFinite(magnitude)) return failure(asked);
  const value = sign === "-" && magnitude !== 0 ? -magnitude : magnitude;
  if (rest === "") return success({ value });
  const unit = unitOf(rest);
  if (unit === undefined || wanted === undefined || dimensionOf(unit) !== dimensionOf(wanted)) return failure(asked);
  return success({ value, unit });
};
