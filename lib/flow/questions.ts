import { NO } from "../logic/kleene.ts";
import { photographs, said } from "../model/fact.ts";
import { valueAt } from "../model/fault.ts";
import { sistersIn } from "../model/read.ts";
import { capital, listAnd } from "../plan/say.ts";
import type { Plan } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import { formatNumber, type Unit, unitsOffered } from "../units/units.ts";
import { type Draft, type Given, placedIn } from "./draft.ts";
import type { Asked } from "./steps.ts";

/** One question as a page shows it. */
export interface Question {
  readonly at: string;
  readonly name: string;
  readonly question: string;
  readonly why: string;
  readonly look?: string;
  readonly photograph?: string;
  /** What hangs on the answer, by today's plan. */
  readonly hangs: string;
  readonly choices: readonly { readonly value: string; readonly label: string }[];
  readonly unit?: Unit;
  readonly units: readonly Unit[];
  readonly kind: "choice" | "number";
  /** Whether no answer to it would change anything as things stand. */
  readonly idle: boolean;
}

const HANGS: Readonly<Record<string, string>> = {
  record: "Decides no method.",
  detail: "Fills in figures or steps of a test.",
  deciding: "Changes nothing as things stand.",
};

const MOST_NAMED = 4;

/** What hangs on a fact: the tests that it decides, counts in or fills in. */
const hangsOn = ({ at, spec }: Asked, plan: Plan | null, names: ReadonlyMap<string, string>): string => {
  const question = plan?.questions.find((asked) => asked.at === at);
  const request = plan?.requests.find((asked) => asked.at === at);
  const told = (refs: readonly string[]): string => {
    const own = [...new Set(refs)];
    const shown = own.slice(0, MOST_NAMED).map((ref) => `${ref} ${names.get(ref) ?? ""}`.trim());
    return listAnd(own.length > MOST_NAMED ? [...shown, `${own.length - MOST_NAMED} more`] : shown);
  };
  const decides = question?.decides.map(({ protection }) => protection) ?? [];
  if (decides.length > 0) return `Decides ${told(decides)}.`;
  const needed = [...(request?.neededBy ?? []), ...(request?.laterFor ?? [])];
  if (needed.length > 0) return `Needed for ${told(needed)}.`;
  const details = question?.detailFor?.map(({ protection }) => protection) ?? [];
  if (details.length > 0) return `Fills in ${told(details)}.`;
  const named = (plan?.sets ?? []).flatMap(({ protections }) =>
    protections.filter(({ decision }) => decision.because.includes(at)).map(({ ref }) => ref),
  );
  if (named.length > 0) return `Counts in ${told(named)}.`;
  return plan === null ? "" : (HANGS[spec.use] ?? "");
};

const uncapital = (text: string): string => `${text.charAt(0).toLowerCase()}${text.slice(1)}`;

const GROUP = /^\/support\/sisters\/([A-Z])\//;

/** The sets that a thing is for which sister sets share, where there are several groups of them; empty otherwise. */
export const groupOf = (at: string, frame: object): string => {
  const letter = GROUP.exec(at)?.[1];
  const sets = sistersIn(frame);
  if (letter === undefined || new Set(sets.map(({ sisters }) => sisters)).size < 2) return "";
  return listAnd(
    sets.flatMap(({ sisters }, place) => (sisters === letter ? [String(valueAt(frame, `/sets/${place}/name`) ?? `Set ${place + 1}`)] : [])),
  );
};

/** Questions as they are shown, a photograph that answers several with the first of them only. */
export const questionsOf = (
  asked: readonly Asked[],
  plan: Plan | null,
  { rulebook, frame }: { readonly rulebook: Rulebook; readonly frame: object },
): readonly Question[] => {
  const told = new Set<string>();
  const short = new Map(rulebook.protections.map((entry) => [entry.kind, entry.short]));
  const names = new Map(
    (plan?.sets ?? []).flatMap(({ protections }) => protections.map(({ ref, kind }) => [ref, short.get(kind) ?? kind] as const)),
  );
  return asked.map((one) => {
    const { photograph, ...plain } = questionOf(one, plan, names);
    const group = groupOf(one.at, frame);
    const question =
      group === "" ? plain : { ...plain, name: `${plain.name} (${group})`, question: `For ${group}: ${uncapital(plain.question)}` };
    if (photograph === undefined || told.has(photograph)) return question;
    told.add(photograph);
    const others = asked.filter(({ spec }) => spec.photograph === one.spec.photograph).length - 1;
    return { ...question, photograph: others === 0 ? photograph : `${photograph} (it answers ${others} more on this page)` };
  });
};

/** A question as it is shown. Where today's plan is not to be had, what hangs on it is left out. */
const questionOf = (asked: Asked, plan: Plan | null, names: ReadonlyMap<string, string>): Question => {
  const { spec, at } = asked;
  const hangs = hangsOn(asked, plan, names);
  return {
    at,
    name: capital(spec.name),
    question: spec.question,
    why: spec.why,
    ...(spec.look === undefined ? {} : { look: spec.look }),
    ...(spec.photograph === undefined ? {} : { photograph: photographs[spec.photograph] }),
    hangs,
    idle: hangs === HANGS["deciding"],
    kind: spec.domain.kind,
    choices: spec.domain.kind === "choice" ? spec.domain.values.map((value) => ({ value, label: capital(said(spec, value)) })) : [],
    ...(spec.unit === undefined ? {} : { unit: spec.unit }),
    units: spec.unit === undefined ? [] : unitsOffered(spec.unit),
  };
};

/** An answer as a reader is told it; "not known" is one. */
export const answerWords = ({ spec }: Pick<Asked, "spec">, given: Given): string => {
  if (typeof given === "object") return `${formatNumber(given.value, 6)} ${given.unit}`;
  if (typeof given === "number") return `${formatNumber(given, 6)}${spec.unit === undefined ? "" : ` ${spec.unit}`}`;
  return said(spec, given);
};

export interface Aside {
  readonly at: string;
  readonly name: string;
  readonly answer: string;
}

/**
 * Answers that were given but do not apply as things stand. They are kept, and count again when they apply again. All of them, or those
 * only that belong to one set or, with null, to none.
 */
export const setAsideIn = (draft: Draft, rulebook: Rulebook, of?: number | null): readonly Aside[] =>
  placedIn(draft, rulebook.facts)
    .filter(({ at, applies, set }) => applies === NO && draft.answers.has(at) && (of === undefined || set === of))
    .map(({ at, spec, set }) => {
      const name = set === null ? "" : `${String(valueAt(draft.frame, `/sets/${set}/name`) ?? "")}: `;
      return { at, name: `${name}${spec.name}`, answer: answerWords({ spec }, draft.answers.get(at) ?? "") };
    });
