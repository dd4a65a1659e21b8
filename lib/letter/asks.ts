import { namesIn } from "../plan/readable.ts";
import type { Plan, PlanRequest } from "../plan/schema.ts";
import { hoursOf } from "../plan/warnings.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { Block } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { capital, longDate, refsOf } from "./words.ts";

const ACTORS = ["master", "chief engineer", "electrician", "superintendent"] as const;
const MOST_LINES = 7;

interface Asking {
  readonly plan: Plan;
  readonly rulebook: Rulebook;
}

/** One thing that one reader has to do by one day. */
interface Duty {
  readonly actor: string;
  readonly by: string;
  readonly what: string;
}

const isTechnician = ({ kind, at }: PlanRequest): boolean => kind === "technician" && at !== undefined;
/** Of a technician it is told apart what is to be done about him now. */
export const onlyForLater = (request: PlanRequest): boolean => !isTechnician(request) && request.neededBy.length === 0;

/** What has to be done about a technician now. */
const technicianWords = (request: PlanRequest, plan: Plan): string => {
  const open = plan.open.some(({ at }) => at === request.at);
  const hold =
    request.hold === true
      ? "reserve now and cancel later if not needed"
      : open
        ? "confirm whether to be had; the lead time runs"
        : "order and confirm the day";
  const wait =
    request.notBefore === undefined
      ? ""
      : `; do not order before ${refsOf(request.notBefore.map((ref) => ({ ref })))} ${request.notBefore.length === 1 ? "is" : "are"} answered`;
  return `${hold}${wait}`;
};

/** Technicians of whom the same is asked by the same day stand together, each by what he is. */
const technicianDuties = (actor: string, requests: readonly PlanRequest[], { plan, rulebook }: Asking): readonly Duty[] => {
  const names = namesIn(plan, rulebook);
  const together = new Map<string, Duty & { readonly who: string[] }>();
  for (const request of requests) {
    const words = technicianWords(request, plan);
    const key = `${request.confirmBy}|${words}`;
    const duty = together.get(key) ?? { actor, by: request.confirmBy, what: words, who: [] };
    duty.who.push(`${request.ref} (${names.specAt(request.at ?? "")?.name ?? request.text})`);
    together.set(key, duty);
  }
  return [...together.values()].map(({ by, what, who }) => ({ actor, by, what: `${who.join(", ")}: ${what}` }));
};

const daysOf = (requests: readonly PlanRequest[]): ReadonlyMap<string, readonly PlanRequest[]> => {
  const days = new Map<string, PlanRequest[]>();
  for (const request of requests) days.set(request.confirmBy, [...(days.get(request.confirmBy) ?? []), request]);
  return days;
};

/** The duties that a group of requests makes, one for each day. */
const duties = (actor: string, requests: readonly PlanRequest[], words: (refs: string) => string): readonly Duty[] =>
  [...daysOf(requests)].map(([by, own]) => ({ actor, by, what: words(refsOf(own)) }));

const answering = (plan: Plan): readonly Duty[] => {
  const deciding = plan.questions.filter(({ decides }) => decides.length > 0);
  const details = plan.questions.filter(({ decides }) => decides.length === 0);
  const by = plan.visit.replyBy;
  return [
    ...(deciding.length === 0 ? [] : [{ actor: "chief engineer", by, what: SAY.with.answer(refsOf(deciding)) }]),
    ...(details.length === 0 ? [] : [{ actor: "chief engineer", by, what: SAY.with.giveDetails(refsOf(details)) }]),
  ];
};

/** What only the superintendent can settle: a visit too near or too short, tests without a way. */
const deciding = (plan: Plan): readonly Duty[] => {
  const minutes = plan.sets.reduce((sum, set) => sum + set.minutes, 0);
  const { wanted, has } = hoursOf(plan.visit.window, minutes);
  const without = plan.sets
    .flatMap(({ protections }) => protections)
    .filter(({ applies, decision }) => applies !== "no" && decision.outcome === "nothing acceptable");
  const words = [
    ...(plan.requests.some(({ late }) => late === true) ? [SAY.notes.tooNear] : []),
    ...(wanted > has ? [SAY.with.tooLong(wanted, has)] : []),
    ...(without.length === 0 ? [] : [SAY.with.choose(refsOf(without))]),
  ];
  return words.map((what) => ({ actor: "superintendent", by: plan.visit.replyBy, what }));
};

const dutiesOf = (actor: string, asking: Asking): readonly Duty[] => {
  const { plan } = asking;
  const own = plan.requests.filter((request) => request.actor === actor);
  const photographs = own.filter(({ kind }) => kind === "photograph");
  const needed = own.filter((request) => !isTechnician(request) && !onlyForLater(request) && !photographs.includes(request));
  const open = new Set(plan.open.map(({ at }) => at));
  const known = ({ at }: PlanRequest): boolean => at !== undefined && !open.has(at);
  const wanted = needed.filter((request) => !known(request));
  const later = own.filter(onlyForLater);
  return [
    ...(actor === "superintendent" ? deciding(plan) : []),
    ...(actor === "chief engineer" ? answering(plan) : []),
    ...duties(actor, photographs, SAY.with.sendPhotographs),
    ...duties(actor, wanted, SAY.with.confirm),
    ...duties(actor, needed.filter(known), SAY.with.haveReady),
    ...technicianDuties(actor, own.filter(isTechnician), asking),
    ...duties(
      actor,
      later.filter(({ hold }) => hold === true),
      SAY.with.reserve,
    ),
    ...duties(
      actor,
      later.filter(({ hold }) => hold !== true),
      SAY.with.couldBeHad,
    ),
  ];
};

interface Line {
  readonly who: string;
  readonly what: string;
  readonly by: string;
}

const joined = (own: readonly Duty[]): string => `${capital(own.map(({ what }) => what).join("; "))}.`;

/** A day in words; the day of the letter itself is no day to wait for. */
const byDay = (day: string, today: string): string => (day <= today ? SAY.notes.atOnce : SAY.with.byDate(longDate(day)));

/** One line for each day of one reader. */
const linesByDay = (own: readonly Duty[], today: string): readonly Line[] => {
  const days = [...new Set(own.map(({ by }) => by))].sort();
  return days.map((day) => {
    const due = own.filter(({ by }) => by === day);
    return { who: capital(due[0]?.actor ?? ""), what: joined(due), by: byDay(day, today) };
  });
};

/** Where days are many: one line for each reader, with the first day in front and the others in the text. */
const lineOf = (own: readonly Duty[], today: string): readonly Line[] => {
  const [day] = own.map(({ by }) => by).sort();
  if (day === undefined) return [];
  const told = own.map((duty) => (duty.by === day ? duty : { ...duty, what: `${duty.what} (${byDay(duty.by, today)})` }));
  return [{ who: capital(own[0]?.actor ?? ""), what: joined(told), by: byDay(day, today) }];
};

/** What is asked, and by when, in at most seven lines, sorted by who acts. */
export const asksBlock = (asking: Asking): Block => {
  const own = ACTORS.map((actor) => dutiesOf(actor, asking));
  const today = asking.plan.visit.preparedOn;
  const lines = own.flatMap((duties) => linesByDay(duties, today));
  if (lines.length === 0) return { kind: "paragraph", text: SAY.notes.nothingAsked };
  return { kind: "asks", lines: lines.length <= MOST_LINES ? lines : own.flatMap((duties) => lineOf(duties, today)) };
};
