import * as z from "zod";
import { imoNumber } from "../figures/checkDigit.ts";
import { convert, formatNumber, isUnit, unitsLike } from "../units/units.ts";
import { daySettingsSchema } from "./daySettings.ts";
import { type FactSpec, NOT_KNOWN, said } from "./fact.ts";
import { ROLES } from "./facts/set.ts";
import { policySchema } from "./policy.ts";
import { lastTimeSchema } from "./result.ts";
import { plainDate, text } from "./text.ts";

export const FORMAT = "forehail visit 1";

const GRID = 1e6;

/** So many sets a visit has at most. */
export const MOST_SETS = 60;

/** A number with a unit of its own. */
export const quantitySchema = z.object({ value: z.number(), unit: z.string() });

/** A number fact's value in the fact's own unit, or what is wrong with it. */
export const inUnit = (spec: FactSpec, given: unknown): { readonly value: number } | { readonly wanted: string } => {
  const domain = spec.domain;
  if (domain.kind !== "number") return { wanted: "one of its choices" };
  const inRange = (value: number): boolean => value >= domain.from && value <= domain.to;
  // Every number of a visit goes through here at every keystroke: what is wanted is put into words only where something is wrong.
  const wanted = (): string =>
    `a number from ${formatNumber(domain.from, 6)} to ${formatNumber(domain.to, 6)}${spec.unit === undefined ? "" : ` ${spec.unit}`}`;
  if (typeof given === "number") return inRange(given) ? { value: given } : { wanted: wanted() };
  const pair = quantitySchema.safeParse(given);
  const own = spec.unit;
  if (!pair.success || own === undefined) return { wanted: wanted() };
  const from = pair.data.unit;
  const unitWanted = (): string => `${wanted()}, or a unit of the same kind (${unitsLike(own).join(", ")})`;
  if (!isUnit(from)) return { wanted: unitWanted() };
  const converted = convert(pair.data.value, from, own);
  const zero = spec.difference === true ? convert(0, from, own) : { ok: true as const, value: 0 };
  if (!converted.ok || !zero.ok) return { wanted: unitWanted() };
  const value = Math.round((converted.value - zero.value) * GRID) / GRID;
  return inRange(value) ? { value } : { wanted: wanted() };
};

/** No pointer of a fact is as long, in characters; nor is an answer. */
const LONGEST_POINTER = 200;

/** An answer that is set aside may be any that a fact can have. */
const setAsideSchema = z.union(
  [z.string().max(LONGEST_POINTER), z.number(), z.strictObject({ value: z.number(), unit: z.string().max(20) })],
  {
    error: "wanted an answer: text, a number, or a number with its unit",
  },
);

const factSchema = (spec: FactSpec): z.ZodType => {
  const about = [spec.question, `Use: ${spec.use}.`, spec.unit === undefined ? "" : `Unit: ${spec.unit}.`]
    .filter((part) => part !== "")
    .join(" ");
  if (spec.domain.kind === "choice") {
    const meanings = spec.domain.values.filter((value) => said(spec, value) !== value).map((value) => `${value}: ${said(spec, value)}`);
    const description = meanings.length === 0 ? about : `${about} ${meanings.join("; ")}.`;
    return z
      .enum([...spec.domain.values, NOT_KNOWN])
      .optional()
      .describe(description);
  }
  const withUnit = spec.unit === undefined ? [] : [z.strictObject({ value: z.number(), unit: z.enum(unitsLike(spec.unit)) })];
  return z
    .union([z.number(), ...withUnit, z.literal(NOT_KNOWN)], {
      error: (issue) => `wanted ${wantedOf(spec, issue.input)}, or "${NOT_KNOWN}"`,
    })
    .superRefine((given, context) => {
      if (given === NOT_KNOWN) return;
      const read = inUnit(spec, given);
      if ("wanted" in read) context.addIssue({ code: "custom", message: `wanted ${read.wanted}, or "${NOT_KNOWN}"` });
    })
    .optional()
    .describe(`${about} From ${spec.domain.from} to ${spec.domain.to}.`);
};

const wantedOf = (spec: FactSpec, given: unknown): string => {
  const read = inUnit(spec, given);
  return "wanted" in read ? read.wanted : "a number";
};

/** The facts whose template starts with a prefix, nested by the rest of the template. */
const factsUnder = (facts: readonly FactSpec[], prefix: string): Record<string, z.ZodType> => {
  const inside = facts.filter(({ at }) => at.startsWith(prefix)).map((spec) => ({ spec, path: spec.at.slice(prefix.length).split("/") }));
  const shape: Record<string, z.ZodType> = {};
  for (const name of new Set(inside.map(({ path }) => path[0] ?? ""))) {
    const here = inside.filter(({ path }) => path[0] === name);
    const leaf = here.find(({ path }) => path.length === 1);
    if (leaf !== undefined) shape[name] = factSchema(leaf.spec);
    else shape[name] = z.strictObject(factsUnder(facts, `${prefix}${name}/`)).optional();
  }
  return shape;
};

const person = z.strictObject({
  name: text(120),
  role: text(80).describe("as a reader would address it: inspector, superintendent, chief engineer"),
  side: z.enum(["office", "vessel"]),
  contact: text(200).optional(),
});

const yesOrNo = z.enum(["yes", "no", NOT_KNOWN]);

const vessel = z.strictObject({
  name: text(120),
  imo: z
    .string()
    .superRefine((given, context) => {
      const read = imoNumber(given);
      if (!read.ok)
        context.addIssue({ code: "custom", message: `wanted an IMO number with the right check digit: ${read.faults.join("; ")}` });
    })
    .optional()
    .describe("IMO number, seven digits with check digit"),
  flag: text(80).optional(),
  owner: text(120).optional(),
  kind: z
    .enum(["cargo", "tanker", "passenger", "offshore", "other", NOT_KNOWN])
    .optional()
    .describe("kind of ship; the hours of emergency power depend on it"),
  grossTonnage: z
    .union([z.number().positive().max(500000), z.literal(NOT_KNOWN)], {
      error: `wanted gross tonnage (GT ITC) above 0 and up to 500000, or "${NOT_KNOWN}"`,
    })
    .optional()
    .describe("gross tonnage by the 1969 convention, GT; with manning it decides which section of 46 CFR binds"),
  offshoreSupplyVessel: yesOrNo.optional().describe("certificated under 46 CFR subchapter L"),
  automationReplacesCrew: yesOrNo.optional().describe("automation replaces or reduces engine-room crew (46 CFR 130.400)"),
});

const window = z.strictObject({ from: plainDate, to: plainDate }).describe("first and last day of attendance");

const schemaOver = (facts: readonly FactSpec[]) => {
  const set = z.strictObject({
    name: text(60).describe("as it is called aboard; names decide nothing"),
    sisters: z
      .string()
      .regex(/^[A-Z]$/, { error: "wanted one capital letter" })
      .default("A")
      .describe("sets of the same make and type bear the same letter; they share service engineer, tool and spares"),
    maker: text(80).optional(),
    model: text(80).optional(),
    ...factsUnder(facts, "/sets/*/"),
    role: z
      .enum(ROLES)
      .default("ship service")
      .describe("what the set is for; a set driven by the propulsion engine or shaft is shaft-driven"),
  });
  const { sisters: _, ...supportShape } = factsUnder(facts, "/support/");
  const support = z.strictObject({
    ...supportShape,
    sisters: z
      .record(z.string().regex(/^[A-Z]$/, { error: "wanted one capital letter" }), z.strictObject(factsUnder(facts, "/support/sisters/*/")))
      .optional(),
  });
  /** Facts of the whole visit that stand at the top of the file. */
  const top = Object.fromEntries(
    facts.filter(({ at }) => !at.slice(1).includes("/")).map((spec) => [spec.at.slice(1), factSchema(spec)] as const),
  );
  return z
    .strictObject({
      format: z.literal(FORMAT),
      preparedOn: plainDate.describe("the plan's today; a plan never looks at the clock"),
      visit: z.strictObject({
        reference: text(40).optional().describe("the office's reference of this visit"),
        vessel,
        place: z.strictObject({
          name: text(120),
          country: text(80).optional(),
          airPressure: z
            .number({ error: "wanted air pressure from 600 to 1100 hPa" })
            .min(600)
            .max(1100)
            .optional()
            .describe("lowest air pressure to count with at the place, hPa; 1000 when left out"),
        }),
        window,
        people: z.array(person).max(30).default([]),
      }),
      ...top,
      plant: z.strictObject(factsUnder(facts, "/plant/")).default({}),
      policy: policySchema.prefault({}),
      day: daySettingsSchema.prefault({}).describe("the order of the day; the plan does not depend on it"),
      sets: z.array(set).min(1).max(MOST_SETS),
      support: support.default({}),
      deviations: z
        .array(
          z.strictObject({
            protection: text(80).describe('reference ("T3") or pointer ("/sets/0/overspeed")'),
            method: text(60).describe("id of a method of the rulebook"),
            reason: text(600),
          }),
        )
        .max(500)
        .default([]),
      references: z
        .array(
          z.strictObject({
            ref: z.string().regex(/^[TQRK][1-9]\d{0,3}$/, { error: 'wanted a reference like "T3", "Q5" or "R2"' }),
            for: text(200),
          }),
        )
        .max(5000)
        .default([])
        .describe("append-only list of references handed out, so that T3 stays T3"),
      letters: z
        .array(z.strictObject({ number: z.int().min(1).max(99), sentOn: plainDate, repliedOn: plainDate.optional() }))
        .max(99)
        .default([]),
      confirmed: z
        .array(
          z.strictObject({
            request: z.string().regex(/^R[1-9]\d{0,3}$/, { error: 'wanted a reference like "R2"' }),
            letter: z.int().min(1).max(99),
            by: plainDate.optional().describe("the day that the vessel named"),
            words: text(600).optional(),
          }),
        )
        .max(2000)
        .default([])
        .describe("requests that the vessel confirmed, by the letter that it answered"),
      lastTime: lastTimeSchema.optional(),
      setAside: z
        .record(z.string().max(LONGEST_POINTER), setAsideSchema)
        .optional()
        .describe("answers hidden because they no longer apply; ignored by the planner"),
    })
    .describe('A visit: any fact may be left out or be "not known", which is the same.');
};

type VisitSchema = ReturnType<typeof schemaOver>;

/** Building a schema costs more than reading a visit with it; a rulebook's facts are the same list for as long as it lives. */
const built = new WeakMap<readonly FactSpec[], VisitSchema>();

/** The schema of the visit file for the facts of a rulebook. It is the single source of the file's shape. */
export const visitSchemaFor = (facts: readonly FactSpec[]): VisitSchema => {
  const known = built.get(facts);
  if (known !== undefined) return known;
  const schema = schemaOver(facts);
  built.set(facts, schema);
  return schema;
};

export type Visit = z.infer<VisitSchema>;
