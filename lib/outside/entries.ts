import { onlyForLater } from "../letter/asks.ts";
import { SAY } from "../letter/catalogue.ts";
import { askedNow } from "../letter/questions.ts";
import { refRange, refsOf } from "../letter/words.ts";
import { stillAsked } from "../plan/asked.ts";
import { capital } from "../plan/say.ts";
import type { Plan, PlanRequest } from "../plan/schema.ts";

/** One thing that stands in a calendar on whole days, first and last one given as YYYY-MM-DD. */
export interface Entry {
  /** What it is within its visit; the same in every letter. */
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly summary: string;
  /** Empty where it has no place. */
  readonly location: string;
  readonly description: string;
  /** Whether it takes up the day of those who have it in their calendar. */
  readonly busy: boolean;
  /** Whether it was to be and is not any more. */
  readonly off: boolean;
}

/** How the exchange of a visit ended: the tests that are done on its days, and those of another time, by their references. */
export interface Ended {
  readonly done: readonly string[];
  readonly later: readonly string[];
}

const referenceOf = ({ visit }: Plan): string => (visit.reference === undefined ? "" : ` (${visit.reference})`);

const testsOn = (plan: Plan): string => `tests on ${plan.visit.vessel}${referenceOf(plan)}`;

/** Without a test that is done on it the visit is called off. */
const isOff = (ended: Ended | null): boolean => ended !== null && ended.done.length === 0;

const visitEntry = (plan: Plan, ended: Ended | null): Entry => ({
  id: "visit",
  from: plan.visit.window.from,
  to: plan.visit.window.to,
  // Some calendars show what is called off like all else.
  summary: `${isOff(ended) ? "Called off: tests" : "Tests"} of generating sets on ${plan.visit.vessel}${referenceOf(plan)}`,
  location: plan.visit.place,
  description: [
    ...(plan.visit.reference === undefined ? [] : [`Reference ${plan.visit.reference}.`]),
    `Sets: ${plan.sets.map(({ name }) => name).join(", ")}.`,
    ...(ended === null || ended.done.length === 0 ? [] : [`Tests on these days: ${refRange(ended.done)}.`]),
    ...(ended === null || ended.later.length === 0 ? [] : [`Tests of another time: ${refRange(ended.later)}.`]),
    "What is tested and what is wanted for it stands in the letter.",
  ].join("\n"),
  busy: true,
  off: isOff(ended),
});

/** What there is to be done about requests by one day: "confirm R1 to R3", "have R4 ready", "send photographs R9". */
const duties = (plan: Plan, requests: readonly PlanRequest[]): readonly string[] => {
  const unknown = new Set(plan.open.map(({ at }) => at));
  // What is known to be had is not asked again: it is to be there.
  const isKnown = ({ at }: PlanRequest): boolean => at !== undefined && !unknown.has(at);
  const photographs = requests.filter(({ kind }) => kind === "photograph");
  const known = requests.filter(isKnown);
  const open = requests.filter((request) => request.kind !== "photograph" && !isKnown(request));
  const others = open.filter((request) => !onlyForLater(request));
  const later = open.filter(onlyForLater);
  const [held, asked] = [later.filter(({ hold }) => hold === true), later.filter(({ hold }) => hold !== true)];
  return [
    ...(others.length === 0 ? [] : [`confirm ${refsOf(others)}`]),
    ...(known.length === 0 ? [] : [`have ${refsOf(known)} ready`]),
    ...(photographs.length === 0 ? [] : [`send photographs ${refsOf(photographs)}`]),
    ...(held.length === 0 ? [] : [SAY.with.reserve(refsOf(held))]),
    ...(asked.length === 0 ? [] : [SAY.with.couldBeHad(refsOf(asked))]),
  ];
};

const lines = (requests: readonly PlanRequest[]): readonly string[] => requests.map(({ ref, actor, text }) => `${ref}, ${actor}: ${text}`);

const replyEntry = (plan: Plan, requests: readonly PlanRequest[]): Entry => {
  const questions = askedNow(plan);
  const wanted = [...(questions.length === 0 ? [] : [`answer ${refsOf(questions)}`]), ...duties(plan, requests)];
  return {
    id: "reply",
    from: plan.visit.replyBy,
    to: plan.visit.replyBy,
    summary: `Reply due: ${testsOn(plan)}`,
    location: "",
    description: [
      wanted.length === 0 ? "Please tell us whether you agree with the letter." : `${capital(wanted.join("; "))}.`,
      ...lines(requests),
    ].join("\n"),
    busy: false,
    off: false,
  };
};

const confirmEntry = (plan: Plan, day: string, requests: readonly PlanRequest[]): Entry => {
  const wanted = capital(duties(plan, requests).join("; "));
  return {
    id: `confirm-${day}`,
    from: day,
    to: day,
    summary: `${wanted}: ${testsOn(plan)}`,
    location: "",
    description: [`${wanted}.`, ...lines(requests)].join("\n"),
    busy: false,
    off: false,
  };
};

/**
 * What a plan puts into a calendar: the visit, and unless the exchange has ended the day of the reply and each further day by which requests are to
 * be confirmed or things to be had ready, in the order of the days. `done` are the requests that need no answer any more. Pure.
 */
export const entriesOf = (plan: Plan, done: ReadonlySet<string>, ended: Ended | null): readonly Entry[] => {
  if (ended !== null) return [visitEntry(plan, ended)];
  const { replyBy } = plan.visit;
  const requests = stillAsked(plan, done);
  const on = (day: string): readonly PlanRequest[] => requests.filter(({ confirmBy }) => confirmBy === day);
  const days = [...new Set(requests.map(({ confirmBy }) => confirmBy))].filter((day) => day !== replyBy).sort();
  return [visitEntry(plan, null), replyEntry(plan, on(replyBy)), ...days.map((day) => confirmEntry(plan, day, on(day)))];
};
