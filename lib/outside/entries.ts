import { askedNow } from "../letter/questions.ts";
import { refsOf } from "../letter/words.ts";
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
}

const referenceOf = ({ visit }: Plan): string => (visit.reference === undefined ? "" : ` (${visit.reference})`);

const testsOn = (plan: Plan): string => `tests on ${plan.visit.vessel}${referenceOf(plan)}`;

const visitEntry = (plan: Plan): Entry => ({
  id: "visit",
  from: plan.visit.window.from,
  to: plan.visit.window.to,
  summary: `Tests of generating sets on ${plan.visit.vessel}${referenceOf(plan)}`,
  location: plan.visit.place,
  description: [
    ...(plan.visit.reference === undefined ? [] : [`Reference ${plan.visit.reference}.`]),
    `Sets: ${plan.sets.map(({ name }) => name).join(", ")}.`,
    "What is tested and what is wanted for it stands in the letter.",
  ].join("\n"),
  busy: true,
});

/** What there is to be done about requests by one day: "confirm R1 to R3", "send photographs R9". */
const duties = (requests: readonly PlanRequest[]): readonly string[] => {
  const photographs = requests.filter(({ kind }) => kind === "photograph");
  const others = requests.filter(({ kind }) => kind !== "photograph");
  return [
    ...(others.length === 0 ? [] : [`confirm ${refsOf(others)}`]),
    ...(photographs.length === 0 ? [] : [`send photographs ${refsOf(photographs)}`]),
  ];
};

const lines = (requests: readonly PlanRequest[]): readonly string[] => requests.map(({ ref, actor, text }) => `${ref}, ${actor}: ${text}`);

const replyEntry = (plan: Plan, requests: readonly PlanRequest[]): Entry => {
  const questions = askedNow(plan);
  const wanted = [...(questions.length === 0 ? [] : [`answer ${refsOf(questions)}`]), ...duties(requests)];
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
  };
};

const confirmEntry = (plan: Plan, day: string, requests: readonly PlanRequest[]): Entry => {
  const wanted = capital(duties(requests).join("; "));
  return {
    id: `confirm-${day}`,
    from: day,
    to: day,
    summary: `${wanted}: ${testsOn(plan)}`,
    location: "",
    description: [`${wanted}.`, ...lines(requests)].join("\n"),
    busy: false,
  };
};

/** Requests that still need an answer. What is known to be had is only to be kept ready, which the letter says. */
const unanswered = (plan: Plan, done: ReadonlySet<string>): readonly PlanRequest[] => {
  const open = new Set(plan.open.map(({ at }) => at));
  return stillAsked(plan, done).filter(({ at }) => at === undefined || open.has(at));
};

/**
 * What a plan puts into a calendar: the visit, and unless the exchange has ended the day of the reply and each further day by which requests are to
 * be confirmed, in the order of the days. Pure.
 */
export const entriesOf = (plan: Plan, done: ReadonlySet<string>, settled: boolean): readonly Entry[] => {
  if (settled) return [visitEntry(plan)];
  const { replyBy } = plan.visit;
  const requests = unanswered(plan, done);
  const on = (day: string): readonly PlanRequest[] => requests.filter(({ confirmBy }) => confirmBy === day);
  const days = [...new Set(requests.map(({ confirmBy }) => confirmBy))].filter((day) => day !== replyBy).sort();
  return [visitEntry(plan), replyEntry(plan, on(replyBy)), ...days.map((day) => confirmEntry(plan, day, on(day)))];
};
