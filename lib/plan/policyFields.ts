import type { OfficePolicy } from "../model/officePolicy.ts";
import { PARTS, type Part, type Rulebook } from "../rulebook/types.ts";
import { convert, formatNumber, type UnitSystem } from "../units/units.ts";
import { longDate } from "./longDate.ts";
import { capital, listAnd } from "./say.ts";

export const POLICY_GROUPS = [
  "Letter and letterhead",
  "Deadlines and lead times",
  "Working days and holidays",
  "Limits and margins",
  "Loop parts that may stay unproven",
  "What is reviewed",
  "Protections",
  "Local rules",
] as const;

/**
 * Whom a field binds: `visit` is taken over by each visit, `letterhead` too but is the inspector's to change there, `office` is how the office itself
 * works.
 */
export type PolicyScope = "letterhead" | "visit" | "office";

/** What a number of the policy is written in. A temperature difference is no temperature: 3 K is 5.4 °F of margin. */
export type PolicyUnit = "working days" | "%" | "°C" | "K" | "rpm";

interface Words {
  readonly units: UnitSystem;
  readonly rulebook: Pick<Rulebook, "protections" | "techniques">;
}

interface Common {
  /** Names the field in forms, faults and differences. */
  readonly id: string;
  readonly group: (typeof POLICY_GROUPS)[number];
  readonly label: string;
  readonly hint?: string;
  readonly scope: PolicyScope;
}

/** A number with the bounds it is kept to, in its unit. */
export interface AmountField extends Common {
  readonly kind: "amount";
  readonly unit: PolicyUnit;
  readonly from: number;
  readonly to: number;
  readonly whole?: true;
  readonly number: (policy: OfficePolicy) => number | undefined;
}

/** Anything else: what of it is compared, and how it reads. */
export interface OtherField extends Common {
  readonly kind: "text" | "lines" | "days" | "choice" | "several";
  readonly choices?: readonly { readonly value: string; readonly label: string }[];
  readonly value: (policy: OfficePolicy) => unknown;
  readonly text: (policy: OfficePolicy, words: Words) => string;
}

export type PolicyField = AmountField | OtherField;

export const PART_NAMES: Readonly<Record<Part, string>> = {
  sensing: "Sensing element",
  wiring: "Wiring",
  logic: "Logic",
  final: "Final element",
};

export const WEEKDAYS = ["Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"] as const;

/** The days of the week as an office reads them, from Monday. */
const WEEK = [1, 2, 3, 4, 5, 6, 0] as const;

/** What of a loop part may stay unproven, and who sees to it. */
export const PART_CHOICES = [
  { value: "no", label: "May not stay unproven" },
  { value: "inspector", label: "May, the inspector sees to it" },
  { value: "consent", label: "May, with the supervisor’s consent" },
] as const;

export type PartChoice = (typeof PART_CHOICES)[number]["value"];

export const partChoice = ({ plan, review }: OfficePolicy, part: Part): PartChoice =>
  plan.mayStayOpen.includes(part) ? (review.consent.includes(part) ? "consent" : "inspector") : "no";

const labelOf = (choices: readonly { readonly value: string; readonly label: string }[], value: string): string =>
  choices.find((choice) => choice.value === value)?.label ?? value;

const PAPERS = [
  { value: "A4", label: "A4" },
  { value: "Letter", label: "US Letter" },
];
const UNIT_CHOICES = [
  { value: "metric", label: "bar and °C" },
  { value: "us", label: "psi and °F" },
];
export const YES_NO = [
  { value: "yes", label: "Yes" },
  { value: "no", label: "No" },
];

const yesNo = (value: boolean): string => (value ? "yes" : "no");

const text = (common: Common, value: (policy: OfficePolicy) => string | undefined): OtherField => ({
  ...common,
  kind: "text",
  value,
  text: (policy) => value(policy) ?? "none",
});

const lines = (common: Common, value: (policy: OfficePolicy) => readonly string[]): OtherField => ({
  ...common,
  kind: "lines",
  value,
  text: (policy) => (value(policy).length === 0 ? "none" : value(policy).join(", ")),
});

const choice = (common: Common, choices: OtherField["choices"] & object, value: (policy: OfficePolicy) => string): OtherField => ({
  ...common,
  kind: "choice",
  choices,
  value,
  text: (policy) => labelOf(choices, value(policy)),
});

const amount = (
  common: Common,
  unit: PolicyUnit,
  [from, to]: readonly [number, number],
  number: (policy: OfficePolicy) => number | undefined,
): AmountField => ({ ...common, kind: "amount", unit, from, to, number, ...(unit === "working days" ? { whole: true } : {}) });

const LETTER = { group: "Letter and letterhead" } as const;
const DEADLINES = { group: "Deadlines and lead times", scope: "visit" } as const;
const LIMITS = { group: "Limits and margins", scope: "visit" } as const;
const LOCAL = { group: "Local rules", scope: "visit" } as const;
const DAYS = [0, 120] as const;

/** 0.55 as per cent, without the noise of binary fractions. */
const percent = (fraction: number): number => Math.round(fraction * 1e8) / 1e6;

const day = (id: string, label: string, number: (policy: OfficePolicy) => number, hint?: string): AmountField =>
  amount({ ...DEADLINES, id, label, ...(hint === undefined ? {} : { hint }) }, "working days", DAYS, number);

export const partId = (part: Part): string => `part-${part}`;
export const barId = (technique: number): string => `bar-${technique}`;

const kindNames = (kinds: readonly string[], { rulebook }: Words): string =>
  kinds.length === 0
    ? "none"
    : capital(listAnd(kinds.map((kind) => rulebook.protections.find((protection) => protection.kind === kind)?.name ?? kind)));

const ON_WISH = ["preferentialTrips", "undervoltageRelease", "overcurrent"] as const;

/** Everything that an office settles, in the order in which it is asked and told. */
export const POLICY_FIELDS: readonly PolicyField[] = [
  text(
    { ...LETTER, scope: "letterhead", id: "officeName", label: "Name of the office", hint: "Stands at the head of the letter" },
    (policy) => policy.plan.office.name,
  ),
  lines(
    { ...LETTER, scope: "letterhead", id: "officeAddress", label: "Address", hint: "One line each, at most six" },
    (policy) => policy.plan.office.address,
  ),
  text(
    {
      ...LETTER,
      scope: "letterhead",
      id: "officeContact",
      label: "Contact (optional)",
      hint: "Where the vessel answers: e-mail or telephone",
    },
    (policy) => policy.plan.office.contact,
  ),
  choice({ ...LETTER, scope: "letterhead", id: "paper", label: "Paper" }, PAPERS, (policy) => policy.plan.paper),
  choice(
    { ...LETTER, scope: "office", id: "units", label: "Units of letters", hint: "Unless another choice is made at the letter" },
    UNIT_CHOICES,
    (policy) => policy.units,
  ),

  day("replyWithin", "The vessel answers within", (policy) => policy.plan.replyWithin, "Working days from the letter"),
  day("margin", "What is sent or travels is settled before the visit by", (policy) => policy.plan.margin, "Working days"),
  day("leadLocal", "Hire or purchase at the place takes", (policy) => policy.plan.leadTimes.local, "Working days"),
  day("leadSent", "A part that is sent takes", (policy) => policy.plan.leadTimes.sent, "Working days, agent and customs included"),
  day("leadSpecialist", "A maker’s technician takes", (policy) => policy.plan.leadTimes.specialist, "Working days until he can be aboard"),
  day("leadAuthority", "The authority’s written acceptance takes", (policy) => policy.plan.leadTimes.authority, "Working days"),

  {
    group: "Working days and holidays",
    scope: "visit",
    kind: "several",
    id: "workingDays",
    label: "Days of the week that count",
    choices: WEEK.map((weekday) => ({ value: String(weekday), label: WEEKDAYS[weekday] })),
    value: (policy) => [...policy.plan.workingDays].sort((a, b) => a - b),
    text: (policy) => listAnd(WEEK.filter((weekday) => policy.plan.workingDays.includes(weekday)).map((weekday) => WEEKDAYS[weekday])),
  },
  {
    group: "Working days and holidays",
    scope: "visit",
    kind: "days",
    id: "holidays",
    label: "Days that do not count",
    hint: "One a line, for example 2026-12-25 or 25 December 2026",
    value: (policy) => [...policy.plan.holidays].sort(),
    text: (policy) => (policy.plan.holidays.length === 0 ? "none" : [...policy.plan.holidays].sort().map(longDate).join(", ")),
  },

  amount(
    { ...LIMITS, id: "loadLimit", label: "Highest load on the sets left running", hint: "% of their rating, from 10 to 100" },
    "%",
    [10, 100],
    (policy) => policy.plan.loadLimit,
  ),
  amount(
    {
      ...LIMITS,
      id: "coldTemperature",
      label: "A drained circuit is opened at or under",
      hint: "Local temperature, for example 45 °C or 113 °F; common practice without a source",
    },
    "°C",
    [0, 60],
    (policy) => policy.plan.coldTemperature,
  ),
  amount(
    {
      ...LIMITS,
      id: "boilingMargin",
      label: "An open water bath stays below boiling by",
      hint: "For example 3 K or 5.4 °F; common practice without a source",
    },
    "K",
    [0, 30],
    (policy) => policy.plan.boilingMargin,
  ),
  amount(
    { ...LIMITS, id: "tachometerError", label: "Largest error of the tachometer in overspeed tests", hint: "rpm" },
    "rpm",
    [0, 200],
    (policy) => policy.plan.tachometerError,
  ),
  amount(
    {
      ...LIMITS,
      id: "batteryEnd",
      label: "Left in a starting battery when it no longer cranks",
      hint: "% of its capacity; common practice without a source",
    },
    "%",
    [0, 95],
    (policy) => percent(policy.plan.batteryEnd),
  ),
  amount(
    {
      ...LIMITS,
      id: "batteryCold",
      label: "There in a starting battery in the cold",
      hint: "% of its capacity; common practice without a source",
    },
    "%",
    [10, 100],
    (policy) => percent(policy.plan.batteryCold),
  ),

  ...PARTS.map((part) =>
    choice(
      {
        group: "Loop parts that may stay unproven",
        scope: "visit",
        id: partId(part),
        label: PART_NAMES[part],
        ...(part === "logic" ? { hint: "A protection whose logic was not seen to act counts as not tested where it may not" } : {}),
      },
      PART_CHOICES,
      (policy) => partChoice(policy, part),
    ),
  ),

  choice(
    { group: "What is reviewed", scope: "office", id: "everyPlan", label: "A supervisor reviews every plan before its letter goes out" },
    YES_NO,
    (policy) => yesNo(policy.review.everyPlan),
  ),
  choice(
    {
      group: "What is reviewed",
      scope: "office",
      id: "deviations",
      label: "A supervisor reviews every choice against the order of preference",
    },
    YES_NO,
    (policy) => yesNo(policy.review.deviations),
  ),

  {
    group: "Protections",
    scope: "visit",
    kind: "several",
    id: "alsoProve",
    label: "Proven as well",
    hint: "Protections of the switchboard that are proven only where the office wishes it",
    choices: ON_WISH.map((value) => ({ value, label: value })),
    value: (policy) => ON_WISH.filter((kind) => policy.plan.alsoProve.includes(kind)),
    text: (policy, words) =>
      kindNames(
        ON_WISH.filter((kind) => policy.plan.alsoProve.includes(kind)),
        words,
      ),
  },
  {
    group: "Protections",
    scope: "visit",
    kind: "several",
    id: "leaveOut",
    label: "Left out",
    hint: "Not proven in any visit; each letter says so",
    value: (policy) => [...policy.plan.leaveOut].sort(),
    text: (policy, words) =>
      kindNames(
        words.rulebook.protections.map(({ kind }) => kind).filter((kind) => policy.plan.leaveOut.includes(kind)),
        words,
      ),
  },

  text(
    { ...LOCAL, id: "rulesName", label: "What they are called", hint: "As they are cited; empty where there are none" },
    (policy) => policy.plan.localRules?.name,
  ),
  text(
    { ...LOCAL, id: "rulesSay", label: "What they say", hint: "In your own words, at most 600 characters" },
    (policy) => policy.plan.localRules?.says,
  ),
  amount(
    { ...LOCAL, id: "overspeedFactor", label: "Highest trip speed under them (optional)", hint: "% of rated speed, for example 115" },
    "%",
    [101, 130],
    (policy) => (policy.plan.localRules?.overspeedFactor === undefined ? undefined : percent(policy.plan.localRules.overspeedFactor)),
  ),
  ...([1, 2, 3, 4, 5, 6, 7] as const).map(
    (technique): OtherField => ({
      ...LOCAL,
      kind: "text",
      id: barId(technique),
      label: `Technique ${technique} is barred because`,
      value: (policy) => policy.plan.localRules?.bars.find((bar) => bar.technique === technique)?.because,
      text: (policy) => policy.plan.localRules?.bars.find((bar) => bar.technique === technique)?.because ?? "not barred",
    }),
  ),
];

/** One field of a policy as it reads. */
export interface PolicyLine {
  readonly id: string;
  readonly group: (typeof POLICY_GROUPS)[number];
  readonly label: string;
  readonly text: string;
  readonly scope: PolicyScope;
  /** JSON of what is compared: two lines that read alike may yet differ. */
  readonly value: string;
}

const FAHRENHEIT_PER_KELVIN = 1.8;

/** So many decimals tell every value apart that a person would type. */
const DECIMALS = 4;

const amountText = (value: number, unit: PolicyUnit, units: UnitSystem): string => {
  const shown = (number: number, as: string): string => `${formatNumber(number, DECIMALS)} ${as}`;
  if (unit === "working days") return value === 1 ? "1 working day" : shown(value, unit);
  if (units === "us" && unit === "K") return shown(value * FAHRENHEIT_PER_KELVIN, "°F");
  if (units === "us" && unit === "°C") {
    const converted = convert(value, "°C", "°F");
    return shown(converted.ok ? converted.value : value, "°F");
  }
  return shown(value, unit);
};

/** What a field's label reads as where the rulebook has words for it. */
export const fieldLabel = ({ id, label }: Pick<PolicyField, "id" | "label">, { techniques }: Pick<Rulebook, "techniques">): string => {
  const technique = Object.entries(techniques).find(([number]) => barId(Number(number)) === id);
  return technique === undefined ? label.replace(/ \(optional\)$/, "") : `${capital(technique[1])}: barred because`;
};

/** A policy field by field, in the order in which it is told. */
export const policyLines = (policy: OfficePolicy, words: Words): readonly PolicyLine[] =>
  POLICY_FIELDS.map((field) => {
    const { id, group, scope } = field;
    const shared = { id, group, scope, label: fieldLabel(field, words.rulebook) };
    if (field.kind !== "amount") return { ...shared, text: field.text(policy, words), value: JSON.stringify(field.value(policy)) ?? "" };
    const value = field.number(policy);
    return { ...shared, text: value === undefined ? "none" : amountText(value, field.unit, words.units), value: String(value) };
  });
