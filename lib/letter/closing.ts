import { resolve } from "../model/fact.ts";
import { effortOf } from "../plan/effort.ts";
import type { Plan, PlanProtection } from "../plan/schema.ts";
import { hoursOf } from "../plan/warnings.ts";
import type { Block, Labelled } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import type { Closing, Replied } from "./closed.ts";
import { arrangedBlocks, isArranged, notNeededBlocks } from "./closingRequests.ts";
import { detailBlocks, hangingOn, openBlocks, untestedBlocks, waitingForHandStop, withAgreements } from "./closingTests.ts";
import { peopleOn, signer } from "./people.ts";
import { type PlanInput, protectionBlocks } from "./protections.ts";
import { noticeBlocks, safetyBlocks } from "./safety.ts";
import { capital, longDate, methodsOf, refsOf, windowWords } from "./words.ts";

/** A plan as it is witnessed on this visit, and what of it is not. */
interface Witnessed {
  readonly plan: Plan;
  /** Tests that hang on what is open, and tests without an acceptable way. */
  readonly later: readonly PlanProtection[];
  /** Whether some of them only wait for the hand stop of their set. */
  readonly behind: boolean;
  readonly without: readonly PlanProtection[];
}

const minutesOf = (protections: readonly PlanProtection[], set: number, { read, rulebook }: PlanInput): number =>
  protections
    .flatMap(({ kind, decision }) => methodsOf(rulebook, kind, decision.methods))
    .map((method) => effortOf(method, (template) => read.answers.get(resolve(template, set, read.sets[set]?.sisters ?? ""))).minutes)
    .reduce((sum, minutes) => sum + minutes, 0);

/** What of a plan is left once what hangs on something open and what has no way is taken out of it. */
const witnessed = (input: PlanInput, { open }: Closing): Witnessed => {
  const { plan } = input;
  const hanging = hangingOn(input, open);
  const behind = waitingForHandStop(plan, hanging);
  const all = testedIn({ plan });
  const later = all.filter(({ ref }) => hanging.has(ref) || behind.has(ref));
  const without = all.filter((one) => !later.includes(one) && one.decision.outcome === "nothing acceptable");
  const out = new Set([...later, ...without]);
  const sets = plan.sets.map((set, place) => {
    const protections = set.protections.filter((protection) => !out.has(protection));
    return { ...set, protections, minutes: minutesOf(protections, place, input) };
  });
  const told = new Set(sets.flatMap(({ protections }) => protections.map(({ ref }) => ref)));
  const openNow = new Set([...open.questions, ...open.requests]);
  return {
    plan: {
      ...plan,
      sets,
      questions: plan.questions.filter(({ ref, decides, detailFor }) =>
        decides.length > 0 ? openNow.has(ref) : (detailFor ?? []).some(({ protection }) => told.has(protection)),
      ),
      requests: plan.requests.filter((request) => openNow.has(request.ref) || isArranged(request, told)),
    },
    later,
    behind: [...behind].some((ref) => !hanging.has(ref)),
    without,
  };
};

/** The tests that are done on this visit. */
const testedIn = ({ plan }: Pick<Witnessed, "plan">): readonly PlanProtection[] =>
  plan.sets.flatMap(({ protections }) => protections).filter(({ applies }) => applies !== "no");

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
const outcomeLines = (input: PlanInput, closing: Closing, { plan, later, without }: Witnessed): readonly Labelled[] => {
  const { read } = input;
  const tested = testedIn({ plan });
  const { vessel, place, window } = plan.visit;
  return [
    closing.kind === "settled"
      ? { label: SAY.labels.allSettled, text: SAY.with.allSettled(tested.length) }
      : { label: SAY.labels.notAllSettled, text: SAY.with.notAllSettled(tested.length, later.length) },
    ...(without.length === 0 ? [] : [{ label: SAY.labels.withoutWay, text: `${refsOf(without)}.` }]),
    { label: SAY.labels.daysAndPlace, text: `${windowWords(window)}, ${place}, ${vessel}.` },
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

/** The plan as far as a letter that ends the exchange tells it; what changed is worked out with it. What waits for another time is planned no longer. */
export const closingPlan = (input: PlanInput, closing: Closing): Plan => {
  const { plan, later } = witnessed(input, closing);
  const sets = input.plan.sets.map((set) => ({ ...set, protections: set.protections.filter((protection) => !later.includes(protection)) }));
  return { ...plan, sets };
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
    ...untestedBlocks(
      SAY.headings.anotherTime,
      told.behind ? `${SAY.notes.anotherTime} ${SAY.notes.handStopWaits}` : SAY.notes.anotherTime,
      told.later,
      input,
    ),
    { kind: "heading", text: SAY.headings.howProven },
    ...(testedIn(told).length === 0
      ? [{ kind: "paragraph" as const, text: SAY.notes.noTestNow }]
      : withAgreements(protectionBlocks(now), input, closing.tests)),
    ...untestedBlocks(SAY.headings.withoutWay, SAY.notes.withoutWay, told.without, input),
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
