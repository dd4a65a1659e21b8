import { resolve } from "../model/fact.ts";
import { effortOf } from "../plan/effort.ts";
import type { Plan, PlanProtection } from "../plan/schema.ts";
import { hoursOf } from "../plan/warnings.ts";
import type { Block, Labelled } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import type { Closing, Replied } from "./closed.ts";
import { arrangedBlocks, isArranged, notNeededBlocks } from "./closingRequests.ts";
import { agreedIn, detailBlocks, openBlocks, withAgreements, withoutWayBlocks } from "./closingTests.ts";
import { type Waiting, waitingBlocks, waitingIn } from "./closingWaits.ts";
import { peopleOn, signer } from "./people.ts";
import { type PlanInput, protectionBlocks } from "./protections.ts";
import { noticeBlocks, safetyBlocks } from "./safety.ts";
import { capital, longDate, methodsOf, refsOf, windowWords } from "./words.ts";

/** What becomes of each test of a visit whose exchange ends. */
export interface Outcome {
  /** Tests that are done on this visit, and those for which no acceptable way is left. */
  readonly done: readonly PlanProtection[];
  readonly without: readonly PlanProtection[];
  /** Tests that are done another time, each with what it waits for. */
  readonly later: readonly Waiting[];
  /** References of the tests that the vessel agreed to as they are planned. */
  readonly agreed: ReadonlySet<string>;
}

/** A plan as it is witnessed on this visit, and what of it is not. */
interface Witnessed extends Outcome {
  readonly plan: Plan;
}

const minutesOf = (protections: readonly PlanProtection[], set: number, { read, rulebook }: PlanInput): number =>
  protections
    .flatMap(({ kind, decision }) => methodsOf(rulebook, kind, decision.methods))
    .map((method) => effortOf(method, (template) => read.answers.get(resolve(template, set, read.sets[set]?.sisters ?? ""))).minutes)
    .reduce((sum, minutes) => sum + minutes, 0);

/** Which tests are done on this visit, which wait for what, and which have no way. Pure. */
export const outcomeOf = (input: PlanInput, { open, tests }: Pick<Closing, "open" | "tests">): Outcome => {
  const later = waitingIn(input, open);
  const waiting = new Set(later.map(({ protection }) => protection));
  const all = input.plan.sets.flatMap(({ protections }) => protections).filter((one) => one.applies !== "no" && !waiting.has(one));
  const hasNoWay = ({ decision }: PlanProtection): boolean => decision.outcome === "nothing acceptable";
  return { done: all.filter((one) => !hasNoWay(one)), without: all.filter(hasNoWay), later, agreed: agreedIn(input, tests) };
};

/** What of a plan is left once what hangs on something open and what has no way is taken out of it. */
const witnessed = (input: PlanInput, closing: Closing): Witnessed => {
  const { plan } = input;
  const outcome = outcomeOf(input, closing);
  const out = new Set([...outcome.later.map(({ protection }) => protection), ...outcome.without]);
  const sets = plan.sets.map((set, place) => {
    const protections = set.protections.filter((protection) => !out.has(protection));
    return { ...set, protections, minutes: minutesOf(protections, place, input) };
  });
  const told = new Set(sets.flatMap(({ protections }) => protections.map(({ ref }) => ref)));
  const openNow = new Set([...closing.open.questions, ...closing.open.requests]);
  return {
    ...outcome,
    plan: {
      ...plan,
      sets,
      questions: plan.questions.filter(({ ref, decides, detailFor }) =>
        decides.length > 0 ? openNow.has(ref) : (detailFor ?? []).some(({ protection }) => told.has(protection)),
      ),
      requests: plan.requests.filter((request) => openNow.has(request.ref) || isArranged(request, told)),
    },
  };
};

/** The replies of one person together, in the order of the letters. */
const repliedWords = (replied: readonly Replied[]): string => {
  const people = new Map<string, string[]>();
  for (const { name, role, when, letter } of replied) {
    const who = role === undefined ? name : `${name}, ${role}`;
    people.set(who, [...(people.get(who) ?? []), SAY.with.repliedTo(letter, longDate(when))]);
  }
  if (people.size === 0) return SAY.notes.noReply;
  return `${[...people].map(([who, letters]) => `${who} (${letters.join("; ")})`).join("; ")}.`;
};

/** What was come to, in at most seven lines: whether all is settled, the days, who agreed, and what it rests on. */
const outcomeLines = (input: PlanInput, closing: Closing, { plan, done, later, without, agreed }: Witnessed): readonly Labelled[] => {
  const { read } = input;
  const agreedTo = (tests: readonly PlanProtection[]): number => tests.filter(({ ref }) => agreed.has(ref)).length;
  const put = later.map(({ protection }) => protection);
  const { vessel, place, window } = plan.visit;
  return [
    closing.kind === "settled"
      ? { label: SAY.labels.allSettled, text: SAY.with.allSettled(done.length) }
      : {
          label: SAY.labels.notAllSettled,
          text: [
            SAY.with.doneNow(done.length, agreedTo(done)),
            ...(put.length === 0 ? [] : [SAY.with.doneLater(put.length, agreedTo(put))]),
          ].join(" "),
        },
    ...(without.length === 0 ? [] : [{ label: SAY.labels.withoutWay, text: `${refsOf(without)}.` }]),
    {
      label: SAY.labels.daysAndPlace,
      text: `${windowWords(window)}, ${place}, ${vessel}.${done.length === 0 ? ` ${SAY.notes.calledOff}` : ""}`,
    },
    { label: SAY.labels.forTheVessel, text: repliedWords(closing.replied) },
    { label: SAY.labels.forThisOffice, text: capital(SAY.with.agreesWithThis(peopleOn(read.visit, "office"))) },
    {
      label: SAY.labels.restsOn,
      text: SAY.with.restsOn(plan.rulebook.version, plan.rulebook.digest, closing.answers, closing.version),
    },
    { label: SAY.labels.toAnswer, text: closing.kind === "settled" ? SAY.notes.nothingToAnswer : SAY.notes.newVisit },
  ];
};

/** What was noticed; where tests are put off it is said that they were counted in. */
const noticed = ({ plan }: PlanInput, { later }: Witnessed): readonly Block[] => {
  const [heading, ...rest] = noticeBlocks(plan);
  if (heading === undefined || later.length === 0) return noticeBlocks(plan);
  return [heading, { kind: "paragraph", text: SAY.notes.noticedBefore, tone: "quiet" }, ...rest];
};

const theDay = ({ read }: PlanInput, { plan }: Witnessed): readonly Block[] => {
  const minutes = plan.sets.reduce((sum, set) => sum + set.minutes, 0);
  const { wanted, has } = hoursOf(plan.visit.window, minutes);
  const { contact, name } = read.visit.policy.office;
  return [
    { kind: "heading", text: SAY.headings.theDay },
    {
      kind: "bullets",
      items: [
        ...(wanted > has ? [SAY.with.willNotFit(wanted, has)] : []),
        SAY.notes.asFound,
        SAY.notes.stopTheWork,
        SAY.notes.ifTestFails,
        SAY.with.ifItChanges(contact ?? name),
      ],
    },
    { kind: "signature", text: SAY.with.signed(signer(read.visit), name) },
  ];
};

/** The plan as far as a letter that ends the exchange tells it, with the tests that it puts off: what changed is worked out with both. */
export const closingPlan = (input: PlanInput, closing: Closing): { readonly plan: Plan; readonly putOff: ReadonlySet<string> } => {
  const { plan, later } = witnessed(input, closing);
  const putOff = new Set(later.map(({ protection }) => protection.ref));
  const sets = input.plan.sets.map((set) => ({ ...set, protections: set.protections.filter(({ ref }) => !putOff.has(ref)) }));
  return { plan: { ...plan, sets }, putOff };
};

/** A letter that ends the exchange: what was come to, what is open, then set by set what will be witnessed, and what is arranged for it. */
export const closingBlocks = (input: PlanInput, closing: Closing, changes: readonly Block[]): readonly Block[] => {
  const told = witnessed(input, closing);
  const now: PlanInput = { ...input, plan: told.plan };
  return [
    { kind: "heading", text: closing.kind === "settled" ? SAY.headings.whatIsSettled : SAY.headings.howItEnds },
    { kind: "labelled", items: outcomeLines(input, closing, told) },
    ...changes,
    ...openBlocks(input, closing.open),
    ...waitingBlocks(told.later, input),
    { kind: "heading", text: SAY.headings.howProven },
    ...(told.done.length === 0
      ? [{ kind: "paragraph" as const, text: SAY.notes.noTestNow }]
      : withAgreements(protectionBlocks(now), input, closing.tests)),
    ...withoutWayBlocks(told.without, input),
    { kind: "heading", text: SAY.headings.arranged },
    ...arrangedBlocks(now, closing),
    ...notNeededBlocks(now, closing),
    ...detailBlocks(now),
    { kind: "heading", text: SAY.headings.cautions },
    ...safetyBlocks(told.plan, input.rulebook),
    ...noticed(input, told),
    ...theDay(input, told),
  ];
};
