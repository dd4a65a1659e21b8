import { readDay } from "../figures/readDay.ts";
import { failure, type Result, success } from "../kernel/result.ts";
import type { FactSpec } from "../model/fact.ts";
import { valueAt } from "../model/fault.ts";
import { faultsOf } from "../model/read.ts";
import { visitSchemaFor } from "../model/visit.ts";
import { readQuantity } from "../units/parse.ts";
import { withValue } from "./draft.ts";

/** One field of a visit's particulars: what is asked beside the machinery. */
export interface Particular {
  readonly at: string;
  readonly label: string;
  readonly hint?: string;
  readonly kind: "text" | "day" | "number" | "choice" | "lines";
  readonly choices?: readonly { readonly value: string; readonly label: string }[];
  /** A plan cannot be sent without it. */
  readonly wanted?: true;
}

export interface ParticularGroup {
  readonly title: string;
  readonly fields: readonly Particular[];
}

const IMO = "/visit/vessel/imo";
const NOT_TOLD = { value: "", label: "Not told" };
const yesNo = [NOT_TOLD, { value: "yes", label: "Yes" }, { value: "no", label: "No" }, { value: "not known", label: "Not known yet" }];
const kinds = [
  NOT_TOLD,
  ...["cargo", "tanker", "passenger", "offshore", "other"].map((value) => ({
    value,
    label: value.charAt(0).toUpperCase() + value.slice(1),
  })),
  { value: "not known", label: "Not known yet" },
];

/** How many people the page has room for. */
export const MOST_PEOPLE = 6;

const person = (place: number): ParticularGroup => ({
  title: `Person ${place + 1}`,
  fields: [
    { at: `/visit/people/${place}/name`, label: "Name", kind: "text" },
    { at: `/visit/people/${place}/role`, label: "Role", hint: "As one would address him: superintendent, chief engineer", kind: "text" },
    {
      at: `/visit/people/${place}/side`,
      label: "Side",
      kind: "choice",
      choices: [
        { value: "vessel", label: "Vessel" },
        { value: "office", label: "Our office" },
      ],
    },
    { at: `/visit/people/${place}/contact`, label: "Contact", hint: "E-mail or telephone", kind: "text" },
  ],
});

/** What is asked of a visit beside its machinery, in the order of asking. */
export const particulars: readonly ParticularGroup[] = [
  {
    title: "Vessel",
    fields: [
      { at: "/visit/vessel/name", label: "Vessel’s name", kind: "text", wanted: true },
      { at: IMO, label: "IMO number (optional)", hint: "Seven digits; the last one checks the others", kind: "text" },
      { at: "/visit/vessel/flag", label: "Flag (optional)", kind: "text" },
      { at: "/visit/vessel/owner", label: "Owner or manager (optional)", kind: "text" },
      { at: "/visit/vessel/kind", label: "Kind of ship", kind: "choice", choices: kinds },
      { at: "/visit/vessel/grossTonnage", label: "Gross tonnage (optional)", hint: "GT by the 1969 convention", kind: "number" },
      {
        at: "/visit/vessel/offshoreSupplyVessel",
        label: "Offshore supply vessel under 46 CFR subchapter L",
        kind: "choice",
        choices: yesNo,
      },
      {
        at: "/visit/vessel/automationReplacesCrew",
        label: "Automation replaces or reduces engine-room crew (46 CFR 130.400)",
        kind: "choice",
        choices: yesNo,
      },
    ],
  },
  {
    title: "Attendance",
    fields: [
      { at: "/visit/reference", label: "Our reference (optional)", kind: "text" },
      { at: "/visit/place/name", label: "Place", hint: "Port or anchorage", kind: "text", wanted: true },
      { at: "/visit/place/country", label: "Country (optional)", kind: "text" },
      { at: "/visit/window/from", label: "First day", hint: "For example 2026-03-24 or 24 March 2026", kind: "day", wanted: true },
      { at: "/visit/window/to", label: "Last day", hint: "The same day where one is enough", kind: "day", wanted: true },
      { at: "/preparedOn", label: "Planned from", hint: "The day from which lead times are counted", kind: "day", wanted: true },
    ],
  },
  {
    title: "Who writes",
    fields: [
      { at: "/policy/office/name", label: "Name of the office", hint: "Stands at the head of the letter", kind: "text" },
      { at: "/policy/office/address", label: "Address", hint: "One line each", kind: "lines" },
      { at: "/policy/office/contact", label: "Contact", hint: "Where the vessel answers: e-mail or telephone", kind: "text" },
      {
        at: "/policy/paper",
        label: "Paper",
        kind: "choice",
        choices: [
          { value: "A4", label: "A4" },
          { value: "Letter", label: "US Letter" },
        ],
      },
    ],
  },
  ...Array.from({ length: MOST_PEOPLE }, (_, place) => person(place)),
];

const fields = particulars.flatMap((group) => group.fields);

/** What stands in a field for what a frame holds. */
export const textOf = (frame: object, { at }: Particular): string => {
  const value = valueAt(frame, at);
  return Array.isArray(value) ? value.join("\n") : typeof value === "string" || typeof value === "number" ? String(value) : "";
};

/** A field's text as the visit file holds it; undefined where it is left open. */
const valueIn = ({ kind, at }: Particular, text: string): Result<unknown> => {
  const written = text.trim();
  if (written === "") return success(undefined);
  if (kind === "day") return readDay(written);
  if (kind === "number") {
    const read = readQuantity(written.replace(/\s*GT$/i, ""), undefined);
    return read.ok ? success(read.value.value) : read;
  }
  if (kind !== "lines") return success(at === IMO ? written.replace(/^IMO\s*(no\.?|number)?\s*/i, "").replace(/\s+/g, "") : written);
  const lines = written.split(/\r?\n/).map((line) => line.trim());
  return success(lines.filter((line) => line !== ""));
};

export interface ParticularFault {
  readonly at: string;
  readonly says: string;
}

const said = ({ label }: Particular, text: string, wanted: string): string =>
  `${label.replace(/ \(optional\)$/, "")}: given “${text.trim().slice(0, 80)}”; wanted ${wanted}`;

/** A frame whose people without a name are gone; a side alone makes no person. */
const withPeople = (frame: object): object => {
  const people = valueAt(frame, "/visit/people");
  if (!Array.isArray(people)) return frame;
  const named = people.filter((one: unknown) => ["/name", "/role", "/contact"].some((at) => valueAt(one, at) !== undefined));
  return withValue(frame, ["visit", "people"], named.length === 0 ? undefined : named) as object;
};

const withRoom = (frame: object): object => {
  const people = valueAt(frame, "/visit/people");
  const known: readonly unknown[] = Array.isArray(people) ? people : [];
  return withValue(
    frame,
    ["visit", "people"],
    [...known, ...Array.from({ length: Math.max(0, MOST_PEOPLE - known.length) }, () => ({}))],
  ) as object;
};

/**
 * A frame with what the fields say. Nothing has to be told yet; what is told must be right, and every fault of it is told. A
 * window that ends before it begins is one.
 */
export const withParticulars = (
  frame: object,
  texts: ReadonlyMap<string, string>,
  facts: readonly FactSpec[],
): Result<object, ParticularFault> => {
  const faults: ParticularFault[] = [];
  let changed: object = withRoom(frame);
  for (const field of fields) {
    const text = texts.get(field.at);
    if (text === undefined) continue;
    const value = valueIn(field, text);
    if (value.ok) changed = withValue(changed, field.at.slice(1).split("/"), value.value) as object;
    else faults.push({ at: field.at, says: said(field, text, value.faults.join("; ")) });
  }
  changed = withPeople(changed);
  const [from, to] = ["/visit/window/from", "/visit/window/to"].map((at) => valueAt(changed, at));
  if (typeof from === "string" && typeof to === "string" && to < from)
    faults.push({ at: "/visit/window/to", says: `Last day: given ${to}; wanted the first day, ${from}, or a later one` });
  const parsed = visitSchemaFor(facts).safeParse(changed, { reportInput: true });
  const wrong = parsed.success ? [] : parsed.error.issues.flatMap((issue) => faultsOf(issue, changed));
  for (const { at, wanted } of wrong) {
    const field = fields.find((one) => at === one.at || at.startsWith(`${one.at}/`));
    const text = field === undefined ? undefined : texts.get(field.at);
    if (field === undefined || text === undefined || faults.some((fault) => fault.at === field.at)) continue;
    const missing = text.trim() === "";
    // A person half told is a fault; anything else may wait.
    if (missing && !at.startsWith("/visit/people/")) continue;
    faults.push({
      at: field.at,
      says: missing ? `${field.label} of a person who is named: given nothing; wanted ${wanted}` : said(field, text, wanted),
    });
  }
  return faults.length > 0 ? failure(...faults) : success(changed);
};

/** What a plan cannot be sent without and is not told yet. */
export const missingIn = (frame: object): readonly Particular[] =>
  fields.filter((field) => field.wanted === true && textOf(frame, field) === "");
