import type { Given } from "../../flow/draft.ts";
import { type FieldFault, readPage, type Typed } from "../../flow/fields.ts";
import type { Glance } from "../../flow/glance.ts";
import type { Waiting } from "../../flow/live.ts";
import { type Aside, answerWords, type Question, questionsOf, setAsideIn } from "../../flow/questions.ts";
import { type Asked, askedOn, candidatesOn, neighbours, stepsOf } from "../../flow/steps.ts";
import type { Labelled } from "../../letter/blocks.ts";
import { lastTimeLines } from "../../letter/results.ts";
import { NOT_KNOWN } from "../../model/fact.ts";
import { valueAt } from "../../model/fault.ts";
import type { PastResult } from "../../model/result.ts";
import type { Planner } from "../../plan/plan.ts";
import type { Store, StoredVisit } from "../../store/store.ts";
import { storedPointer } from "./places.ts";
import type { PreviewFor } from "./preview.ts";
import { typedOn } from "./typed.ts";
import { openVisit } from "./visitDraft.ts";

/** What somebody else answered meanwhile, beside what stands typed. */
export interface Meanwhile {
  readonly theirs: string;
  readonly who: string;
  readonly when: string;
}

/** A page of questions as it is shown to one person. */
export interface StepView {
  readonly path: string;
  readonly title: string;
  /** The name of the set that the page belongs to; empty for the whole visit. */
  readonly setName: string;
  readonly questions: readonly Question[];
  readonly values: Readonly<Record<string, Typed>>;
  /** The version of every answer that the page can come to ask. */
  readonly seen: Readonly<Record<string, number>>;
  readonly problems: Readonly<Record<string, FieldFault>>;
  readonly meanwhile: Readonly<Record<string, Meanwhile>>;
  readonly aside: readonly Aside[];
  /** What was found at an earlier visit of the protection that the page asks about. */
  readonly lastTime: readonly Labelled[];
  readonly preview: { readonly glance: Glance } | { readonly waits: readonly Waiting[] };
  readonly before: string | null;
  readonly after: string | null;
  /** Ids of the sets as they stand on the page, which a form sends back with it. */
  readonly sets: readonly number[];
  /** When an answer of the visit was last saved. */
  readonly savedAt: string;
}

/** An answer as it stands in a form. */
export const typedOf = (given: Given | undefined, kind: "choice" | "number"): Typed => {
  if (given === undefined) return { text: "" };
  if (given === NOT_KNOWN) return kind === "choice" ? { text: NOT_KNOWN } : { text: "", notKnown: true };
  return typeof given === "object" ? { text: String(given.value), unit: given.unit } : { text: String(given) };
};

const sameTyped = (one: Typed, other: Typed): boolean =>
  one.text.trim() === other.text.trim() && (one.notKnown ?? false) === (other.notKnown ?? false);

/** The page of a visit at a path for one person; null where there is none. */
export const stepView = async (
  { store, planner, preview: previewFor }: { readonly store: Store; readonly planner: Planner; readonly preview: PreviewFor },
  stored: StoredVisit,
  path: string,
  who: string,
): Promise<StepView | null> => {
  const { rulebook } = planner;
  const { draft, seen } = openVisit(stored);
  const steps = stepsOf(draft, rulebook);
  const step = steps.find((page) => page.path === path);
  if (step === undefined) return null;
  const candidates = candidatesOn(draft, rulebook, path);
  const typed = await typedOn(store, stored, path, who);
  const asked: readonly Asked[] = [
    ...step.asked,
    // What was typed under an answer that was not kept either is shown again with it.
    ...candidates.filter(({ at }) => typed[at] !== undefined && !step.asked.some((one) => one.at === at)),
  ];
  const preview = previewFor(stored);
  const plan = "plan" in preview ? preview.plan : null;
  const own = (at: string, kind: "choice" | "number"): Typed => typedOf(draft.answers.get(at), kind);
  const read = readPage(asked, new Map(asked.flatMap(({ at }) => (typed[at] === undefined ? [] : [[at, typed[at]] as const]))));
  return {
    path,
    title: step.title,
    setName: step.set === null ? "" : String(valueAt(draft.frame, `/sets/${step.set}/name`) ?? `Set ${step.set + 1}`),
    questions: questionsOf(asked, plan, { rulebook, frame: draft.frame }),
    values: Object.fromEntries(asked.map(({ at, spec }) => [at, typed[at] ?? own(at, spec.domain.kind)])),
    seen: Object.fromEntries(candidates.map(({ at }) => [at, seen.get(at) ?? 0])),
    problems: read.ok ? {} : Object.fromEntries(read.faults.map((fault) => [fault.at, fault])),
    meanwhile: Object.fromEntries(
      asked.flatMap(({ at, spec }) => {
        const mine = typed[at];
        const current = stored.answers.get(storedPointer(at, stored.sets));
        if (mine === undefined || current === undefined || current.version <= mine.seen) return [];
        if (sameTyped(mine, own(at, spec.domain.kind))) return [];
        const given = draft.answers.get(at);
        const theirs = given === undefined ? "no answer" : answerWords({ spec }, given);
        return [[at, { theirs, who: current.who, when: current.when }] as const];
      }),
    ),
    aside: setAsideIn(draft, rulebook, step.set),
    lastTime: lastTimeLines(
      `/sets/${step.set}/${path.split("/").at(-1)}`,
      (draft.frame as { readonly lastTime?: readonly PastResult[] }).lastTime,
      rulebook,
    ),
    preview: "glance" in preview ? { glance: preview.glance } : preview,
    ...neighbours(steps, path),
    sets: stored.sets,
    savedAt: stored.changedAt,
  };
};

/** The pointers of the questions that a page asks as a visit stands. */
export const openOn = (stored: StoredVisit, planner: Planner, path: string): readonly string[] =>
  askedOn(openVisit(stored).draft, planner.rulebook, path).map(({ at }) => at);
