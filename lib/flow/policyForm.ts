import { readDay } from "../figures/readDay.ts";
import { failure, type Result, success } from "../kernel/result.ts";
import { quotedWords } from "../model/fault.ts";
import { type OfficePolicy, officePolicySchema } from "../model/officePolicy.ts";
import { faultsOf } from "../model/read.ts";
import { type AmountField, barId, fieldLabel, type PartChoice, POLICY_FIELDS, partId } from "../plan/policyFields.ts";
import { PARTS, type Rulebook } from "../rulebook/types.ts";
import { readQuantity } from "../units/parse.ts";
import { convert, formatNumber } from "../units/units.ts";

/** What stands in the fields of the form, by their ids; of several that are ticked, their values with commas between. */
export type PolicyTexts = Readonly<Record<string, string>>;

/** What is wrong with a field, in words that name it. */
export interface PolicyFault {
  readonly id: string;
  readonly says: string;
}

type Book = Pick<Rulebook, "protections" | "techniques">;

const TECHNIQUES = [1, 2, 3, 4, 5, 6, 7] as const;
const DECIMALS = 6;

const amountWritten = ({ unit }: AmountField, value: number): string => {
  const number = formatNumber(value, DECIMALS);
  return unit === "working days" ? number : `${number} ${unit}`;
};

/** What the form shows of a policy. */
export const policyTexts = (policy: OfficePolicy): PolicyTexts =>
  Object.fromEntries(
    POLICY_FIELDS.map((field): readonly [string, string] => {
      if (field.kind === "amount") {
        const value = field.number(policy);
        return [field.id, value === undefined ? "" : amountWritten(field, value)];
      }
      const value = field.value(policy);
      if (Array.isArray(value)) return [field.id, value.join(field.kind === "several" ? "," : "\n")];
      return [field.id, typeof value === "string" ? value : ""];
    }),
  );

/** A margin of temperature: a difference, so that 5.4 °F are 3 K. */
const readDifference = (text: string): Result<number> => {
  const written = text.trim().replace(/\s*(K|kelvin)$/i, "");
  const read = readQuantity(written, "°C");
  if (!read.ok) return failure("a number such as 3 or 2.5, in K, °C or °F");
  return success(read.value.unit === "°F" ? Math.round((read.value.value / 1.8) * 1e6) / 1e6 : read.value.value);
};

const readDays = (text: string): Result<number> => {
  const digits = /^(\d{1,4})(?:\s*(?:working\s+)?days?)?$/i.exec(text.trim())?.[1];
  return digits === undefined ? failure("a whole number of working days") : success(Number(digits));
};

const readIn = ({ unit }: AmountField, text: string): Result<number> => {
  if (unit === "working days") return readDays(text);
  if (unit === "K") return readDifference(text);
  const read = readQuantity(text, unit);
  if (!read.ok) return read;
  const converted = convert(read.value.value, read.value.unit ?? unit, unit);
  return converted.ok ? success(Math.round(converted.value * 1e6) / 1e6) : converted;
};

const given = (text: string): string => (text.trim() === "" ? "nothing" : quotedWords(text.trim()));

interface Reading {
  readonly texts: PolicyTexts;
  readonly faults: PolicyFault[];
  readonly label: (id: string) => string;
}

const textOf = ({ texts }: Reading, id: string): string => (texts[id] ?? "").trim();

const linesOf = (reading: Reading, id: string): readonly string[] =>
  textOf(reading, id)
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== "");

const tickedOf = (reading: Reading, id: string): readonly string[] =>
  textOf(reading, id)
    .split(",")
    .filter((value) => value !== "");

const wrong = ({ faults, label, texts }: Reading, id: string, wanted: string, what = given(texts[id] ?? "")): void => {
  faults.push({ id, says: `${label(id)}: given ${what}; wanted ${wanted}` });
};

/** A number in its unit; the least it may be where it is at fault, so that the rest can still be read. */
const amountOf = (reading: Reading, id: string): number => {
  const field = POLICY_FIELDS.find((one): one is AmountField => one.id === id && one.kind === "amount");
  if (field === undefined) return 0;
  const { from, to, unit } = field;
  const read = readIn(field, textOf(reading, id));
  const bounds = `${formatNumber(from, DECIMALS)} to ${formatNumber(to, DECIMALS)} ${unit}`;
  if (!read.ok) wrong(reading, id, `${read.faults.join("; ")}, from ${bounds}`);
  else if (read.value < from || read.value > to) wrong(reading, id, `a number from ${bounds}`);
  else return read.value;
  return from;
};

const choiceOf = <Value extends string>(reading: Reading, id: string, values: readonly Value[]): Value => {
  const found = values.find((value) => value === textOf(reading, id));
  if (found === undefined) wrong(reading, id, `one of: ${values.join(", ")}`);
  return found ?? (values[0] as Value);
};

const holidaysOf = (reading: Reading): readonly string[] => {
  const days = new Set<string>();
  for (const line of linesOf(reading, "holidays")) {
    const read = readDay(line);
    if (read.ok) days.add(read.value);
    else wrong(reading, "holidays", read.faults.join("; "), quotedWords(line));
  }
  return [...days].sort();
};

const weekdaysOf = (reading: Reading): readonly number[] => {
  const ticked = tickedOf(reading, "workingDays");
  const days = ticked.map(Number).filter((day) => Number.isInteger(day) && day >= 0 && day <= 6);
  if (days.length === 0 || days.length < ticked.length)
    wrong(reading, "workingDays", "at least one day of the week", ticked.length === 0 ? "none" : undefined);
  return days.length === 0 ? [1] : days.sort((a, b) => a - b);
};

const amongKinds = (reading: Reading, id: string, kinds: readonly string[]): readonly string[] => {
  const ticked = tickedOf(reading, id);
  if (ticked.some((kind) => !kinds.includes(kind))) wrong(reading, id, "protections that the rulebook has");
  return kinds.filter((kind) => ticked.includes(kind));
};

/** Local rules; undefined where nothing of them is told. */
const localRulesOf = (reading: Reading): unknown => {
  const bars = TECHNIQUES.flatMap((technique) => {
    const because = textOf(reading, barId(technique));
    return because === "" ? [] : [{ technique, because }];
  });
  const [name, says, factor] = [textOf(reading, "rulesName"), linesOf(reading, "rulesSay").join(" "), textOf(reading, "overspeedFactor")];
  if (bars.length === 0 && name === "" && says === "" && factor === "") return undefined;
  if (name === "") wrong(reading, "rulesName", "a name to cite them by, since something of them is told below");
  if (says === "") wrong(reading, "rulesSay", "what they say, since something of them is told");
  return {
    name,
    says,
    bars,
    ...(factor === "" ? {} : { overspeedFactor: Math.round(amountOf(reading, "overspeedFactor") * 1e6) / 1e8 }),
  };
};

/** Where a value of the schema is typed. */
const FIELD_OF: readonly (readonly [at: RegExp, id: string])[] = [
  [/^plan\/office\/name/, "officeName"],
  [/^plan\/office\/address/, "officeAddress"],
  [/^plan\/office\/contact/, "officeContact"],
  [/^plan\/holidays/, "holidays"],
  [/^plan\/localRules\/name/, "rulesName"],
  [/^plan\/localRules\/says/, "rulesSay"],
  [/^plan\/leaveOut/, "leaveOut"],
];

/**
 * A policy from what stands in the form. Every fault is told, each at its field; nothing of a policy with faults is taken. What the policy means is not
 * looked at here (`checkPolicy`).
 */
export const readPolicy = (texts: PolicyTexts, rulebook: Book): Result<OfficePolicy, PolicyFault> => {
  const labels = new Map(POLICY_FIELDS.map((field) => [field.id, fieldLabel(field, rulebook)]));
  const reading: Reading = { texts, faults: [], label: (id) => labels.get(id) ?? id };
  const kinds = rulebook.protections.map(({ kind }) => kind);
  const onWish = rulebook.protections.flatMap(({ kind, onWish: wished }) => (wished === true ? [kind] : []));
  const parts = PARTS.map((part) => [part, choiceOf<PartChoice>(reading, partId(part), ["no", "inspector", "consent"])] as const);
  const contact = textOf(reading, "officeContact");
  const localRules = localRulesOf(reading);
  const amount = (id: string): number => amountOf(reading, id);
  const document = {
    plan: {
      paper: choiceOf(reading, "paper", ["A4", "Letter"]),
      office: { name: textOf(reading, "officeName"), address: linesOf(reading, "officeAddress"), ...(contact === "" ? {} : { contact }) },
      replyWithin: amount("replyWithin"),
      margin: amount("margin"),
      leadTimes: {
        local: amount("leadLocal"),
        sent: amount("leadSent"),
        specialist: amount("leadSpecialist"),
        authority: amount("leadAuthority"),
      },
      workingDays: weekdaysOf(reading),
      holidays: holidaysOf(reading),
      loadLimit: amount("loadLimit"),
      coldTemperature: amount("coldTemperature"),
      boilingMargin: amount("boilingMargin"),
      tachometerError: amount("tachometerError"),
      batteryEnd: Math.round(amount("batteryEnd") * 1e6) / 1e8,
      batteryCold: Math.round(amount("batteryCold") * 1e6) / 1e8,
      mayStayOpen: parts.flatMap(([part, choice]) => (choice === "no" ? [] : [part])),
      alsoProve: amongKinds(reading, "alsoProve", onWish),
      leaveOut: amongKinds(reading, "leaveOut", kinds),
      ...(localRules === undefined ? {} : { localRules }),
    },
    units: choiceOf(reading, "units", ["metric", "us"]),
    review: {
      everyPlan: choiceOf(reading, "everyPlan", ["yes", "no"]) === "yes",
      deviations: choiceOf(reading, "deviations", ["yes", "no"]) === "yes",
      consent: parts.flatMap(([part, choice]) => (choice === "consent" ? [part] : [])),
    },
  };
  const read = officePolicySchema.safeParse(document);
  for (const issue of read.success ? [] : read.error.issues) {
    const at = issue.path.map(String).join("/");
    const bar = /^plan\/localRules\/bars\/(\d+)/.exec(at)?.[1];
    const barred = TECHNIQUES.filter((technique) => textOf(reading, barId(technique)) !== "");
    const id = bar === undefined ? FIELD_OF.find(([start]) => start.test(at))?.[1] : barId(barred[Number(bar)] ?? 1);
    if (id !== undefined && !reading.faults.some((fault) => fault.id === id))
      wrong(reading, id, faultsOf(issue, document)[0]?.wanted ?? issue.message);
    else if (id === undefined && reading.faults.length === 0)
      reading.faults.push({ id: "", says: `${at}: wanted ${faultsOf(issue, document)[0]?.wanted ?? issue.message}` });
  }
  return read.success && reading.faults.length === 0 ? success(read.data) : failure(...reading.faults);
};
