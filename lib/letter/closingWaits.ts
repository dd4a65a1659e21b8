import { mentions } from "../logic/condition.ts";
import { HAND_STOP } from "../model/facts/stops.ts";
import { askedOf, confirmedIn } from "../plan/asked.ts";
import { askedNowOf, testsOf } from "../plan/places.ts";
import { listAnd } from "../plan/say.ts";
import type { PlanProtection, PlanRequest } from "../plan/schema.ts";
import type { Block } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import type { Closing } from "./closed.ts";
import type { PlanInput } from "./protections.ts";
import { testsFor } from "./requests.ts";
import { capital, methodsOf, protectionOf, refRange, refsOf, setIn, setsInWords } from "./words.ts";

/** A test that is not done on this visit, and what it waits for. */
export interface Waiting {
  readonly protection: PlanProtection;
  /** References of what is open and decides it, or without which it cannot be done. */
  readonly questions: readonly string[];
  readonly requests: readonly string[];
  /** The hand stop of its set, where that waits and has to be proven first. */
  readonly behind?: string;
}

/** The tests that a request keeps from being done: a paper that is asked for with every visit only those whose way needs it. */
const waitingFor = (request: PlanRequest, { plan, rulebook }: PlanInput): readonly string[] => {
  if (!rulebook.always.includes(request.need)) return testsFor(request);
  return plan.sets
    .flatMap(({ protections }) => protections)
    .filter(({ ref, kind, decision }) => {
      const needs = methodsOf(rulebook, kind, decision.methods).flatMap((method) => method.needs);
      return request.neededBy.includes(ref) && needs.includes(request.need);
    })
    .map(({ ref }) => ref);
};

/**
 * Whether the way of a test is arranged though the plan holds others in reserve: all that its way hangs on was confirmed, in words of the vessel's own
 * for instance, which answer no fact. What only decides between the later ways is of no consequence then.
 */
const isArranged = ({ applies, decision, options }: PlanProtection, { plan, read }: PlanInput): boolean => {
  const [first] = options;
  if (applies !== "yes" || decision.outcome !== "combination" || first === undefined) return false;
  const confirmed = confirmedIn(read.visit);
  const had = new Set(plan.requests.flatMap(({ ref, at }) => (at !== undefined && confirmed.has(ref) ? [at] : [])));
  const open = new Set(plan.open.map(({ at }) => at));
  return mentions(first.when).every((at) => had.has(at) || !open.has(at));
};

/** What each test hangs on of what is open, by its reference: questions that decide it, requests without which it cannot be done. */
const hangingOn = (input: PlanInput, { questions, requests }: Closing["open"]): ReadonlyMap<string, Omit<Waiting, "protection">> => {
  const arranged = new Set(
    testsOf(input.plan)
      .filter((one) => isArranged(one, input))
      .map(({ ref }) => ref),
  );
  const hanging = new Map<string, { readonly questions: string[]; readonly requests: string[] }>();
  const at = (ref: string) => {
    const own = hanging.get(ref) ?? { questions: [], requests: [] };
    hanging.set(ref, own);
    return own;
  };
  for (const { ref, decides } of input.plan.questions.filter((one) => questions.includes(one.ref)))
    for (const { protection } of decides) if (!arranged.has(protection)) at(protection).questions.push(ref);
  for (const request of input.plan.requests.filter(({ ref }) => requests.includes(ref)))
    for (const test of waitingFor(request, input)) at(test).requests.push(request.ref);
  return hanging;
};

/** The tests that hang on one of these, in the order of the plan. */
export const testsHangingOn = (input: PlanInput, open: Closing["open"]): readonly string[] => {
  const hanging = hangingOn(input, open);
  return testsOf(input.plan).flatMap(({ ref }) => (hanging.has(ref) ? [ref] : []));
};

/** The caution of every test before which the hand stop at the engine is proven. */
const HAND_STOP_FIRST = "hand-stop-first";

/** The tests that are not done on this visit, each with all that it waits for; where the hand stop of a set waits, those that come after it wait too. */
export const waitingIn = (input: PlanInput, open: Closing["open"]): readonly Waiting[] => {
  const hanging = hangingOn(input, open);
  return input.plan.sets.flatMap(({ protections }) => {
    const stop = protections.find(({ kind, ref }) => kind === HAND_STOP && hanging.has(ref));
    return protections.flatMap((protection): readonly Waiting[] => {
      if (protection.applies === "no") return [];
      const own = hanging.get(protection.ref);
      const behind = stop !== undefined && protection.cautions.includes(HAND_STOP_FIRST) ? { behind: stop.ref } : {};
      return own === undefined && !("behind" in behind) ? [] : [{ protection, questions: [], requests: [], ...own, ...behind }];
    });
  });
};

/** What tests wait for, in words: the answers, papers and other things by their references, and the hand stop. */
export const waitsWords = ({ questions, requests, behind }: Omit<Waiting, "protection">, { plan, rulebook }: PlanInput): string => {
  // What no letter asked yet stands nowhere in this one either.
  const told = new Set(askedNowOf(askedOf(plan, rulebook).questions).map(({ ref }) => ref));
  const asked = questions.filter((ref) => told.has(ref));
  const kinds = new Map(plan.requests.map(({ ref, kind }) => [ref, kind]));
  const papers = requests.filter((ref) => kinds.get(ref) === "document");
  const others = requests.filter((ref) => kinds.get(ref) !== "document");
  return listAnd([
    ...(asked.length === 0 ? [] : [SAY.with.waitsForAnswers(refRange(asked), asked.length)]),
    ...(asked.length < questions.length && asked.length === 0 ? [SAY.notes.notAskedYet] : []),
    ...(papers.length === 0 ? [] : [SAY.with.waitsForPapers(refRange(papers), papers.length)]),
    ...(others.length === 0 ? [] : [SAY.with.waitsForRequests(refRange(others))]),
    ...(behind === undefined ? [] : [SAY.with.waitsForHandStop(behind)]),
  ]);
};

/** Tests that wait for the same, together in the order of the plan. */
export const waitingAlike = (
  waiting: readonly Waiting[],
  input: PlanInput,
): readonly { readonly tests: readonly PlanProtection[]; readonly waitsFor: string }[] => {
  const alike = new Map<string, PlanProtection[]>();
  for (const one of waiting) {
    const words = waitsWords(one, input);
    alike.set(words, [...(alike.get(words) ?? []), one.protection]);
  }
  return [...alike].map(([waitsFor, tests]) => ({ tests, waitsFor }));
};

/** The tests of another time by their names and sets, each with what it waits for. */
export const waitingBlocks = (waiting: readonly Waiting[], input: PlanInput): readonly Block[] => {
  if (waiting.length === 0) return [];
  const { plan, rulebook } = input;
  const rows = new Map<string, Waiting[]>();
  for (const one of waiting) {
    const key = `${one.protection.kind}|${waitsWords(one, input)}`;
    rows.set(key, [...(rows.get(key) ?? []), one]);
  }
  const behind = waiting.some((one) => one.behind !== undefined);
  return [
    { kind: "heading", text: SAY.headings.anotherTime },
    { kind: "paragraph", text: behind ? `${SAY.notes.anotherTime} ${SAY.notes.handStopWaits}` : SAY.notes.anotherTime },
    {
      kind: "table",
      compact: true,
      columns: [
        { title: SAY.columns.test, share: 14 },
        { title: SAY.columns.protection, share: 28 },
        { title: SAY.columns.sets, share: 20 },
        { title: SAY.columns.waitsFor, share: 38 },
      ],
      rows: [...rows.values()].map((own) => {
        const [first] = own;
        const protections = own.map(({ protection }) => protection);
        const kind = first?.protection.kind ?? "";
        return [
          refsOf(protections),
          capital(protectionOf(rulebook, kind)?.name ?? kind),
          setsInWords(
            protections.map(({ at }) => setIn(at) ?? 0),
            plan,
          ),
          `${capital(first === undefined ? "" : waitsWords(first, input))}.`,
        ];
      }),
    },
  ];
};
