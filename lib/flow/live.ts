import { addWorkingDays } from "../figures/workingDays.ts";
import { type Fault, valueAt } from "../model/fault.ts";
import { type ReadVisit, readVisit } from "../model/read.ts";
import type { Planner } from "../plan/plan.ts";
import { capital } from "../plan/say.ts";
import type { Plan } from "../plan/schema.ts";
import { type Draft, type Given, visitFileOf } from "./draft.ts";
import { pageSchema, type Typed } from "./fields.ts";
import { type Glance, glanceOf } from "./glance.ts";
import { type Aside, type Question, questionsOf, setAsideIn } from "./questions.ts";
import { type Asked, askedOn, candidatesOn, pathOf, setOfPath } from "./steps.ts";

/** What keeps a draft from being planned, with the page where it is put right; null for the visit's particulars. */
export interface Waiting {
  readonly says: string;
  readonly page: string | null;
}

export type Preview = { readonly glance: Glance; readonly plan: Plan; readonly read: ReadVisit } | { readonly waits: readonly Waiting[] };

/** Days without which nothing can be planned stand in until they are told, so that the methods can be seen already. */
const STAND_IN_DAYS = 60;
const EVERY_DAY = { workingDays: [0, 1, 2, 3, 4, 5, 6], holidays: [] };

interface Particulars {
  readonly vessel?: { readonly name?: string };
  readonly place?: { readonly name?: string };
  readonly window?: { readonly from?: string; readonly to?: string };
}

/** The file with stand-ins for what of the particulars is not told yet; null where nothing is missing. */
const stoodIn = (file: object): object | null => {
  const { preparedOn, visit = {} } = file as { readonly preparedOn?: string; readonly visit?: Particulars };
  const [from, to] = [visit.window?.from, visit.window?.to];
  if (visit.vessel?.name !== undefined && visit.place?.name !== undefined && from !== undefined && to !== undefined) return null;
  const ahead = addWorkingDays(preparedOn ?? "", STAND_IN_DAYS, EVERY_DAY);
  const day = ahead.ok ? ahead.value : "";
  return {
    ...file,
    visit: {
      ...visit,
      vessel: { name: "the vessel", ...visit.vessel },
      place: { name: "the place", ...visit.place },
      window: from !== undefined && to !== undefined ? visit.window : { from: from ?? to ?? day, to: to ?? from ?? day },
    },
  };
};

/** The set that a pointer lies in, and the pointer as the rulebook's facts have it. */
const templated = (at: string): { readonly set: number | null; readonly template: string } => {
  const set = /^\/sets\/(\d+)\//.exec(at)?.[1];
  return set === undefined ? { set: null, template: at } : { set: Number(set), template: at.replace(/^\/sets\/\d+\//, "/sets/*/") };
};

/** The page on which what stands at a pointer is asked; null for what is no question. */
export const pageOf = (at: string, draft: Draft, planner: Planner): string | null => {
  const { set, template } = templated(at);
  const known = planner.rulebook.facts.some((spec) => spec.at === template);
  if (known) return pathOf(template, set);
  return at.startsWith("/support/") && draft.answers.has(at) ? "support" : null;
};

/** What a pointer is called by a reader: the set's name and the fact's. */
const called = (at: string, draft: Draft, planner: Planner): string => {
  const { set, template } = templated(at);
  const name =
    planner.rulebook.facts.find((spec) => spec.at === template)?.name ??
    at
      .split("/")
      .slice(set === null ? 1 : 3)
      .join(" ");
  const where = set === null ? "" : `${String(valueAt(draft.frame, `/sets/${set}/name`) ?? `Set ${set + 1}`)}, `;
  return capital(`${where}${name}`);
};

const waitingFor = ({ at, given, wanted }: Fault, draft: Draft, planner: Planner): Waiting => ({
  says: `${called(at, draft, planner)}: given ${given}; wanted ${wanted}`,
  page: pageOf(at, draft, planner),
});

/** A draft as it would be planned today, whatever of it is missing; what contradicts itself waits. Pure. */
export const previewOf = (draft: Draft, planner: Planner): Preview => {
  const file = visitFileOf(draft, planner.rulebook.facts);
  const read = readVisit(stoodIn(file) ?? file, planner.rulebook.facts, planner.known);
  if (!read.ok) return { waits: read.faults.map((fault) => waitingFor(fault, draft, planner)) };
  const plan = planner.plan(read.value);
  return { glance: glanceOf(plan, planner.rulebook), plan, read: read.value };
};

/** What a page shows beside its questions, for what is typed on it. */
export interface Live {
  readonly questions: readonly Question[];
  readonly aside: readonly Aside[];
  readonly preview: { readonly glance: Glance } | { readonly waits: readonly Waiting[] };
}

/** A draft with what is typed on a page in place of its answers, as far as that can be read. */
const typedInto = (draft: Draft, typed: Readonly<Record<string, Typed>>, path: string, planner: Planner): Draft => {
  const answers = new Map<string, Given>(draft.answers);
  for (const placed of candidatesOn(draft, planner.rulebook, path)) {
    const one = typed[placed.at];
    if (one === undefined) continue;
    const read = pageSchema([placed]).safeParse({ [placed.at]: one });
    const answer = read.success ? read.data[placed.at] : undefined;
    if (answer === undefined) answers.delete(placed.at);
    else answers.set(placed.at, answer);
  }
  return { ...draft, answers };
};

/** Answers what a page asks while somebody types: which questions apply now, what is set aside, what the plan becomes. Pure. */
export const liveAnswer = (planner: Planner, base: Draft, path: string, typed: Readonly<Record<string, Typed>>): Live => {
  const draft = typedInto(base, typed, path, planner);
  const preview = previewOf(draft, planner);
  const plan = "plan" in preview ? preview.plan : null;
  return {
    questions: questionsOf(askedOn(draft, planner.rulebook, path), plan, { rulebook: planner.rulebook, frame: draft.frame }),
    aside: setAsideIn(draft, planner.rulebook, setOfPath(path)),
    preview: "glance" in preview ? { glance: preview.glance } : preview,
  };
};

/** The questions that a page asks with what is typed on it. */
export const askedWith = (planner: Planner, base: Draft, path: string, typed: Readonly<Record<string, Typed>>): readonly Asked[] =>
  askedOn(typedInto(base, typed, path, planner), planner.rulebook, path);
