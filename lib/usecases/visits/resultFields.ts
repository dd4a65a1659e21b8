import { failure, type Result, success } from "../../kernel/result.ts";
import { quotedWords } from "../../model/fault.ts";
import { OUTCOMES, type TestResult, testResultSchema, WITHIN } from "../../model/result.ts";
import { readQuantity, unitOf } from "../../units/parse.ts";

/** The fields of one test's record, exactly as they stand in a form. */
export const RESULT_FIELDS = ["outcome", "on", "method", "way", "why", "number", "unit", "within", "words", "planned"] as const;
export type ResultField = (typeof RESULT_FIELDS)[number];
export type TypedResult = Readonly<Record<ResultField, string>>;

/** Chosen in place of an outcome to take a record back. */
export const TAKE_BACK = "take back";

export interface ResultFault {
  readonly field: ResultField;
  /** The whole sentence: which field, what was given, what is wanted. */
  readonly says: string;
}

const NAMES: Readonly<Record<ResultField, string>> = {
  outcome: "What became of the test",
  on: "Day",
  method: "Which other method",
  way: "The other method in words",
  why: "Why not",
  number: "Reading",
  unit: "Unit of the reading",
  within: "Limits",
  words: "Remark",
  planned: "Planned methods",
};

/** What is asked once more of a field before it is kept. */
export const doubtAt = (field: ResultField, words: string): ResultFault => ({ field, says: `${NAMES[field]}: ${words}` });

const fault = (field: ResultField, given: string, wanted: string): ResultFault => ({
  field,
  says: `${NAMES[field]}: given ${given === "" ? "nothing" : quotedWords(given)}; wanted ${wanted}`,
});

export const NOTHING_TYPED: TypedResult = {
  outcome: "",
  on: "",
  method: "",
  way: "",
  why: "",
  number: "",
  unit: "",
  within: "",
  words: "",
  planned: "",
};

/** What a form fills in by itself says nothing. */
const SAYS: readonly ResultField[] = ["outcome", "method", "way", "why", "number", "within", "words"];

export const saysNothing = (typed: TypedResult): boolean => SAYS.every((field) => typed[field].trim() === "");

/** Whether two states of the fields say the same. How a test is planned nobody types, and a unit without a number says nothing. */
export const sameTyped = (one: TypedResult, other: TypedResult): boolean =>
  RESULT_FIELDS.every(
    (field) => one[field].trim() === other[field].trim() || field === "planned" || (field === "unit" && one.number.trim() === ""),
  );

const WRITTEN = /^([+-]?\s*[\d.,](?:[\d.,' \u00a0]*\d)?)\s*(.*)$/;

/** What stands behind the digits may have digits of its own only in a unit that is known, else they belong to the number: "1e400", "12-14 bar". */
const mayBeUnit = (behind: string): boolean => !/\d/.test(behind) || unitOf(behind) !== undefined;

/** A number as it was read: "1,80" is "1.80", its last digit kept. A unit written behind it goes before the one beside it. */
const readingIn = (number: string, unit: string): Result<{ readonly number: string; readonly unit: string } | undefined, ResultFault> => {
  const given = number.trim().replace(/[\u2212\u2013]/g, "-");
  if (given === "") return success(undefined);
  const [, digits = "", behind = ""] = WRITTEN.exec(given) ?? [];
  const read = readQuantity(digits, undefined);
  if (digits === "" || !read.ok || !mayBeUnit(behind))
    return failure(fault("number", number, "the number as it was read, such as 1.80 or 1250"));
  const own = behind === "" ? unit.trim() : behind;
  if (own === "") return failure(fault("unit", "", "the unit in which it was read"));
  const { value } = read.value;
  const [, whole = "", fraction = ""] = /^(.*)[.,](\d+)$/.exec(digits) ?? [];
  const parted = fraction !== "" && Number(`${whole.replace(/[^\d]/g, "")}.${fraction}`) === Math.abs(value);
  return success({ number: value.toFixed(parted ? Math.min(fraction.length, 6) : 0), unit: own });
};

const DAY = 24 * 60 * 60_000;

/** Aboard it may be a day later than by the office's clock, never more. */
const latestDay = (now: string): string => new Date(Date.parse(now) + DAY).toISOString().slice(0, 10);

const FIELD_AT: Readonly<Record<string, ResultField>> = {
  on: "on",
  why: "why",
  words: "words",
  within: "within",
  planned: "outcome",
  outcome: "outcome",
};

/** The field that a fault of the schema belongs to. */
const fieldAt = ([first, second]: readonly PropertyKey[], typed: TypedResult): ResultField => {
  if (first === "reading") return second === "unit" ? "unit" : "number";
  if (first === "by") return typed.method === "" ? "way" : "method";
  return FIELD_AT[String(first)] ?? "outcome";
};

const oneOf = (values: readonly string[]): string => `one of: ${values.join(", ")}`;

/** What the fields say before the schema looks at it, or what is missing. */
const said = (typed: TypedResult, methods: readonly string[]): Result<object, ResultFault> => {
  const { outcome, on, within, number } = typed;
  const [method, way, why, words] = [typed.method, typed.way, typed.why, typed.words].map((text) => text.trim()) as [
    string,
    string,
    string,
    string,
  ];
  // By the rulebook of the day on which it was planned, which may have had other methods.
  const planned = typed.planned.split(",").filter((id) => id !== "");
  const reading = readingIn(number, typed.unit);
  const base = { on: on.trim(), outcome, planned, ...(words === "" ? {} : { words }) };
  const faults: ResultFault[] = [];
  if (!(OUTCOMES as readonly string[]).includes(outcome)) return failure(fault("outcome", outcome, oneOf(OUTCOMES)));
  if (outcome === "not done") {
    if (why === "") faults.push(fault("why", "", "why it was not done"));
    if (number.trim() !== "") faults.push(fault("number", number, "none where the test was not done"));
    if (within !== "") faults.push(fault("within", within, "none where the test was not done"));
    return faults.length > 0 ? failure(...faults) : success({ ...base, why });
  }
  if (outcome === "as planned" && planned.length === 0) faults.push(fault("outcome", outcome, "another: no way was planned for this test"));
  if (outcome === "by another method") {
    if (method === "" && way === "") faults.push(fault("method", "", "a method of the list, or the way in own words"));
    if (method !== "" && way !== "")
      faults.push(fault("way", way, "nothing where a method of the list is chosen; what is to be added is a remark"));
    if (method !== "" && !methods.includes(method)) faults.push(fault("method", method, "a method of the list"));
  }
  if (!reading.ok) faults.push(...reading.faults);
  if (!(WITHIN as readonly string[]).includes(within)) faults.push(fault("within", within, oneOf(WITHIN)));
  if (faults.length > 0 || !reading.ok) return failure(...faults);
  return success({
    ...base,
    ...(outcome === "by another method" ? { by: method === "" ? { words: way } : { method } } : {}),
    ...(reading.value === undefined ? {} : { reading: reading.value }),
    within,
  });
};

/**
 * What the fields of a test say: a record, or every fault by its field. What belongs to another outcome than the one chosen (a reason, another method)
 * answered another question and is not looked at; a reading never is that. `methods` are the ids of the protection's methods.
 */
export const resultIn = (typed: TypedResult, methods: readonly string[], now: string): Result<TestResult, ResultFault> => {
  const given = said(typed, methods);
  const late = typed.on > latestDay(now) ? [fault("on", typed.on, "a day that has come")] : [];
  if (!given.ok) return failure(...given.faults, ...late);
  const read = testResultSchema.safeParse(given.value);
  if (read.success) return late.length === 0 ? success(read.data) : failure(...late);
  const faults = read.error.issues.map(({ path, message }) => {
    const field = fieldAt(path, typed);
    return fault(field, typed[field], message.replace(/^wanted /, ""));
  });
  return failure(...faults);
};

/** A record as it stands in a form. */
export const typedOfResult = (result: TestResult): TypedResult => ({
  ...NOTHING_TYPED,
  outcome: result.outcome,
  on: result.on,
  words: result.words ?? "",
  planned: result.planned.join(","),
  ...(result.outcome === "not done" ? { why: result.why } : { within: result.within }),
  ...(result.outcome !== "not done" && result.reading !== undefined ? result.reading : {}),
  ...(result.outcome !== "by another method" ? {} : "method" in result.by ? { method: result.by.method } : { way: result.by.words }),
});
