import * as z from "zod";
import { failure, type Result, success } from "../kernel/result.ts";
import { type FactSpec, NOT_KNOWN, said } from "../model/fact.ts";
import { quoted } from "../model/fault.ts";
import { unlikely } from "../model/usual.ts";
import { inUnit } from "../model/visit.ts";
import { capital } from "../plan/say.ts";
import { readQuantity } from "../units/parse.ts";
import { formatNumber, isUnit } from "../units/units.ts";
import type { Given } from "./draft.ts";

/** One question as it was filled in: exactly what stands in the form, right or wrong. */
export interface Typed {
  /** A choice's value, a number as written, or nothing. */
  readonly text: string;
  /** The unit chosen beside a number. */
  readonly unit?: string | undefined;
  readonly notKnown?: boolean | undefined;
  /** An unlikely value was looked at again and is meant. */
  readonly sure?: boolean | undefined;
}

/** Longer texts are no answer to any question. */
export const LONGEST_TEXT = 200;

/** Why an answer is not taken; an unlikely one is taken once it is said to be meant. */
export interface Problem {
  readonly kind: "wrong" | "unlikely";
  /** The whole sentence as a person reads it: what is asked, what was given, what is wanted. */
  readonly says: string;
}

const wrong = (spec: FactSpec, text: string, wanted: string): Problem => ({
  kind: "wrong",
  says: `${capital(spec.name)}: given ${quoted(text)}; wanted ${wanted}, or “${NOT_KNOWN}”`,
});

const choiceIn = (spec: FactSpec, values: readonly string[], text: string): Result<Given, Problem> =>
  values.includes(text) ? success(text) : failure(wrong(spec, text, `one of: ${values.map((value) => said(spec, value)).join(", ")}`));

/** What has no unit and goes by whole steps is counted: there is no half pole. A file may hold such a value; a person who types it has slipped. */
const isBroken = ({ domain, unit }: FactSpec, value: number): boolean =>
  domain.kind === "number" && unit === undefined && domain.step >= 1 && (value - domain.from) % domain.step !== 0;

const wholeWanted = ({ domain }: FactSpec): string =>
  domain.kind === "number"
    ? `a whole${domain.step === 2 ? ", even" : ""} number from ${formatNumber(domain.from, 6)} to ${formatNumber(domain.to, 6)}`
    : "a whole number";

/** A difference of temperatures is written in kelvin as well, which is as much as in °C. */
const kelvinRead = ({ difference, unit }: FactSpec, text: string): string =>
  difference === true && unit === "°C" ? text.replace(/(\d)\s*K$/, "$1 °C") : text;

const numberIn = (spec: FactSpec, { text, unit: chosen, sure }: Typed): Result<Given, Problem> => {
  const read = readQuantity(kelvinRead(spec, text), spec.unit);
  if (!read.ok) return failure(wrong(spec, text, read.faults.join("; ")));
  // A unit written behind the number goes before the one chosen beside it.
  const unit = read.value.unit ?? (chosen !== undefined && isUnit(chosen) ? chosen : undefined);
  const given = unit === undefined || unit === spec.unit ? read.value.value : { value: read.value.value, unit };
  const within = inUnit(spec, given);
  if (!("value" in within)) return failure(wrong(spec, typeof given === "number" ? text : `${text} ${unit ?? ""}`.trim(), within.wanted));
  if (isBroken(spec, within.value)) return failure(wrong(spec, text, wholeWanted(spec)));
  const odd = sure === true ? undefined : unlikely(spec, within.value);
  if (odd === undefined) return success(given);
  const own = spec.unit === undefined ? "" : ` ${spec.unit}`;
  const source = odd.mark === "read" ? odd.cite : `${odd.cite}; common practice without a source`;
  const usual = `usually ${formatNumber(odd.from, 3)} to ${formatNumber(odd.to, 3)}${own}: ${source}`;
  return failure({
    kind: "unlikely",
    says: `${capital(spec.name)}: ${formatNumber(within.value, 3)}${own} is unusual (${usual}). Look at number and unit again, or say that it is so`,
  });
};

/** What a filled-in question says: an answer, "not known", or undefined where it was left open. */
export const answerIn = (spec: FactSpec, typed: Typed): Result<Given | undefined, Problem> => {
  const text = typed.text.trim();
  if (typed.notKnown === true && text !== "" && text !== NOT_KNOWN)
    return failure({ kind: "wrong", says: `${capital(spec.name)}: given ${quoted(text)} and “${NOT_KNOWN}”; wanted one of the two` });
  if (typed.notKnown === true || text === NOT_KNOWN) return success(NOT_KNOWN);
  if (text === "") return success(undefined);
  if (text.length > LONGEST_TEXT) return failure(wrong(spec, text, `at most ${LONGEST_TEXT} characters`));
  return spec.domain.kind === "choice" ? choiceIn(spec, spec.domain.values, text) : numberIn(spec, { ...typed, text });
};

const typedSchema = z.object({
  text: z.string().default(""),
  unit: z.string().optional(),
  notKnown: z.boolean().optional(),
  sure: z.boolean().optional(),
});

/** The schema of one filled-in question; its output is the answer. */
const answerSchema = (spec: FactSpec) =>
  typedSchema.transform((typed, context): Given | undefined => {
    const answer = answerIn(spec, typed);
    if (answer.ok) return answer.value;
    for (const { says, kind } of answer.faults) context.addIssue({ code: "custom", message: says, path: ["text"], params: { kind } });
    return z.NEVER;
  });

/** A question of a page: which fact, at which pointer. */
interface Placed {
  readonly spec: FactSpec;
  readonly at: string;
}

/** The schema of a page of questions as filled in, by pointer. Browser and server read with this one. */
export const pageSchema = (asked: readonly Placed[]) =>
  z.strictObject(Object.fromEntries(asked.map(({ spec, at }) => [at, answerSchema(spec).optional()] as const)));

/** A field that cannot be taken: "strange" where the page asks no such question. */
export interface FieldFault {
  readonly at: string;
  readonly kind: Problem["kind"] | "strange";
  readonly says: string;
}

const faultsIn = (issue: z.core.$ZodIssue): readonly FieldFault[] => {
  if (issue.code === "unrecognized_keys")
    return issue.keys.map((at) => ({ at, kind: "strange", says: `${quoted(at)}: this page asks no such question` }));
  const unlikelyOne = issue.code === "custom" && issue.params?.["kind"] === "unlikely";
  return [{ at: String(issue.path[0] ?? ""), kind: unlikelyOne ? "unlikely" : "wrong", says: issue.message }];
};

/** The answers of a page by pointer, or every fault of it. */
export const readPage = (
  asked: readonly Placed[],
  typed: ReadonlyMap<string, Typed>,
): Result<ReadonlyMap<string, Given | undefined>, FieldFault> => {
  const read = pageSchema(asked).safeParse(Object.fromEntries(typed));
  return read.success
    ? success(new Map(Object.entries(read.data).map(([at, answer]) => [at, answer] as const)))
    : failure(...read.error.issues.flatMap(faultsIn));
};
