import * as z from "zod";
import { failure, type Result, success } from "../kernel/result.ts";
import { type Condition, conditionSchema, mentions } from "../logic/condition.ts";
import type { FactSpec } from "../model/fact.ts";
import { basisSchema } from "./basis.ts";
import { PARTS, type Protection, type Rulebook, STATES } from "./types.ts";

const text = z.string().min(1).max(4_000);
const id = z.string().min(1).max(120);
const bases = z.array(basisSchema);
const asks = z.strictObject({ text, basis: bases });
const facts = z.record(z.string(), z.union([z.string(), z.number()]));

const factSchema = z.looseObject({
  at: z.string().startsWith("/").max(200),
  domain: z.union([
    z.strictObject({ kind: z.literal("choice"), values: z.array(z.string()).min(1).max(30) }),
    z.strictObject({ kind: z.literal("number"), from: z.number(), to: z.number(), step: z.number().positive() }),
  ]),
  use: z.enum(["deciding", "detail", "record"]),
  carriedBy: z.enum(["question", "request"]),
  name: text,
  question: text,
  why: text,
  parent: conditionSchema.optional(),
});

const methodSchema = z.looseObject({
  id,
  name: text,
  technique: z.int().min(1).max(7),
  does: text,
  proves: z.partialRecord(z.enum(PARTS), z.enum(STATES)),
  grade: z.enum(["as found", "in signal terms", "running value", "action only"]),
  hazard: z.int().min(0).max(3),
  minutes: z.number().min(0).max(1_000),
  stops: z.int().min(0),
  starts: z.int().min(0),
  blinds: z.boolean(),
  requirements: z.array(
    z.strictObject({ bar: z.enum(["veto", "rule", "practical"]), when: conditionSchema, otherwise: text, basis: bases }),
  ),
  needs: z.array(id),
  details: z.array(z.string()),
  cautions: z.array(id),
  expected: text,
  basis: bases,
  examples: z.strictObject({ fit: facts.nullable(), barred: facts, open: z.string().nullable() }),
});

const protectionSchema = z.looseObject({
  kind: id,
  name: text,
  short: text,
  applies: conditionSchema,
  appliesNot: text,
  danger: conditionSchema,
  dangerReason: z.string(),
  methods: z.array(methodSchema).min(1).max(40),
  basis: bases,
});

const ruleBasisSchema = z.looseObject({
  id,
  name: text,
  says: text,
  bars: z.array(
    z.strictObject({
      technique: z.int().min(1).max(7),
      openedBy: z.array(z.enum(["danger", "approved step", "written acceptance"])),
      otherwise: text,
      basis: bases,
    }),
  ),
  procedure: z.array(z.string()),
  overspeedFactor: z.number().nullable(),
  shows: z.array(asks.extend({ protection: id })),
  limits: z.array(asks),
  intervals: z.array(asks),
  basis: bases,
});

const rulebookSchema = z.strictObject({
  version: z.string().min(1).max(40),
  facts: z.array(factSchema).min(1).max(2_000),
  ruleBases: z.array(ruleBasisSchema).min(1).max(20),
  protections: z.array(protectionSchema).min(1).max(100),
  needs: z.array(
    z.looseObject({
      id,
      kind: z.enum(["technician", "spare", "equipment", "document", "photograph", "condition"]),
      text,
      actor: z.enum(["master", "chief engineer", "electrician", "superintendent"]),
      lead: z.enum(["reply", "local", "sent", "specialist", "authority"]),
      ways: z.array(z.strictObject({ values: z.array(z.string()), burden: z.int().min(0).max(4) })).optional(),
    }),
  ),
  always: z.array(id),
  cautions: z.array(z.looseObject({ id, text, basis: bases, when: conditionSchema.optional() })),
  techniques: z.record(z.string(), text),
  hazards: z.record(z.string(), text),
  orderOfPreference: z.array(z.strictObject({ id, text })),
  photographs: z.record(z.string(), text),
});

const doubled = (ids: readonly string[]): readonly string[] => [...new Set(ids.filter((one, place) => ids.indexOf(one) !== place))];

/** What a condition says of facts that there are none of, or twice, which would make it inexact. */
const faultsOfCondition = (where: string, condition: Condition, known: ReadonlyMap<string, FactSpec>): readonly string[] => {
  const named = mentions(condition);
  return [
    ...[...new Set(named)].filter((at) => !known.has(at)).map((at) => `${where}: given "${at}"; wanted a fact of this rulebook`),
    ...doubled(named).map((at) => `${where}: given "${at}" twice; wanted each fact at most once in a condition`),
  ];
};

const faultsOfProtection = (protection: Protection, known: ReadonlyMap<string, FactSpec>, rulebook: Rulebook): readonly string[] => {
  const [needs, cautions] = [rulebook.needs, rulebook.cautions].map((list) => new Set(list.map((one) => one.id)));
  return [
    ...faultsOfCondition(`${protection.kind}, applies`, protection.applies, known),
    ...faultsOfCondition(`${protection.kind}, danger`, protection.danger, known),
    ...protection.methods.flatMap(({ id: method, requirements, needs: wants, cautions: heeds }) => [
      ...requirements.flatMap(({ when }, place) =>
        faultsOfCondition(`${protection.kind}, ${method}, requirement ${place + 1}`, when, known),
      ),
      ...wants
        .filter((one) => !needs?.has(one))
        .map((one) => `${protection.kind}, ${method}: given need "${one}"; wanted one of this rulebook`),
      ...heeds
        .filter((one) => !cautions?.has(one))
        .map((one) => `${protection.kind}, ${method}: given caution "${one}"; wanted one of this rulebook`),
    ]),
  ];
};

const MOST_FAULTS = 20;

/**
 * Reads a rulebook from its data as `npm run rulebook` prints it. Fails with every fault, the first twenty: another shape, facts, needs and cautions
 * that there are none of, a fact twice in one condition, names given twice.
 */
export const readRulebook = (document: unknown): Result<Rulebook> => {
  const { digest: _, ...data } = typeof document === "object" && document !== null ? (document as Record<string, unknown>) : {};
  if (!["version", "facts", "protections"].every((field) => field in data))
    return failure(
      "the file: given something without version, facts and protections; wanted a rulebook as `npm run -s rulebook` prints it",
    );
  const read = rulebookSchema.safeParse(data);
  if (!read.success)
    return failure(
      ...read.error.issues
        .slice(0, MOST_FAULTS)
        .map(({ path, message }) => `${path.length === 0 ? "the file" : path.join(", ")}: ${message}`),
    );
  // The shape is what the schema says; what it leaves loose is only told, never decided by.
  const rulebook = read.data as unknown as Rulebook;
  const known = new Map(rulebook.facts.map((fact) => [fact.at, fact]));
  const faults = [
    ...doubled(rulebook.facts.map(({ at }) => at)).map((at) => `facts: given "${at}" twice; wanted each once`),
    ...doubled(rulebook.protections.flatMap(({ methods }) => methods.map((method) => method.id))).map(
      (one) => `methods: given "${one}" twice; wanted each once`,
    ),
    ...doubled(rulebook.protections.map(({ kind }) => kind)).map((one) => `protections: given "${one}" twice; wanted each once`),
    ...rulebook.protections.flatMap((protection) => faultsOfProtection(protection, known, rulebook)),
  ];
  return faults.length > 0 ? failure(...faults.slice(0, MOST_FAULTS)) : success(rulebook);
};
