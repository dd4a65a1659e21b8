import type { Draft, Given } from "../../flow/draft.ts";
import { type Preview, previewOf } from "../../flow/live.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { specsBy } from "../../model/places.ts";
import { type Reply, replySchema } from "../../model/reply.ts";
import { text } from "../../model/text.ts";
import type { Asked } from "../../plan/asked.ts";
import type { Planner } from "../../plan/plan.ts";
import { listAnd } from "../../plan/say.ts";
import type { Plan } from "../../plan/schema.ts";
import { type TakenIn, takenIn, type Weighed, weigh } from "../../reply/weigh.ts";
import type { SentLetter } from "../../store/exchanges.ts";
import type { Act, Json, Store, StoredVisit } from "../../store/store.ts";
import { storedPointer } from "../visits/places.ts";
import { openVisit, storedFrame } from "../visits/visitDraft.ts";
import { askedNow } from "./askedStored.ts";
import { type Before, outcomeKept } from "./outcome.ts";
import { keepStandingOf } from "./standing.ts";

interface Office {
  readonly store: Store;
  readonly planner: Planner;
}

/** A confirmed reply weighed against the visit as it stands. */
export interface ToTakeIn {
  readonly reply: Reply;
  /** What the letter asked, for the sets as they stand now. */
  readonly asked: Asked;
  /** Whether it was taken in already. */
  readonly done: boolean;
  readonly weighed: readonly Weighed[];
  readonly before: Extract<Preview, { readonly plan: unknown }>;
}

/** What a reply says, weighed; nothing is taken in. Fails where there is no confirmed reply, or where the visit cannot be planned as it stands. */
export const weighReply = async ({ store, planner }: Office, stored: StoredVisit, sent: SentLetter): Promise<Result<ToTakeIn>> => {
  const { confirmed, taken } = await store.replyOf(sent.id);
  if (confirmed === undefined) return failure("the vessel has not confirmed its reply yet");
  const reply = replySchema.safeParse(confirmed.reply);
  if (!reply.success) return failure("the reply as it is kept cannot be read");
  const { draft } = openVisit(stored);
  const before = previewOf(draft, planner);
  if (!("plan" in before)) return failure("the plan waits: some answers of the visit contradict each other, and are put right first");
  const asked = askedNow(sent.asked, stored.sets);
  const weighed = weigh(reply.data, { asked, plan: before.plan, answers: draft.answers, specAt: specsBy(planner.rulebook.facts) });
  return success({ reply: reply.data, asked, done: taken !== undefined, weighed, before });
};

/** What the inspector decides of a reply: which references are taken, and why, by reference: ways that are taken, and what is left. */
export interface Decided {
  readonly taken: ReadonlySet<string>;
  readonly reasons: ReadonlyMap<string, string>;
}

interface Deviation {
  readonly protection: string;
  readonly method: string;
  readonly reason: string;
}

interface FrameParts {
  readonly deviations?: readonly Deviation[];
  readonly confirmed?: readonly { readonly request: string; readonly letter: number }[];
  readonly letters?: readonly { readonly number: number; readonly sentOn: string; readonly repliedOn?: string }[];
}

/** The frame with the ways that are taken; by their pointers, so that each takes the place of one that was chosen before. */
const withWays = (frame: object, { deviations }: TakenIn, { tests }: Asked): object => {
  if (deviations.length === 0) return frame;
  const atOf = (ref: string): string => tests.find((test) => test.ref === ref)?.at ?? ref;
  const insisted = new Set(deviations.flatMap(({ protection }) => [protection, atOf(protection)]));
  return {
    ...frame,
    deviations: [
      ...((frame as FrameParts).deviations ?? []).filter(({ protection }) => !insisted.has(protection)),
      ...deviations.map(({ protection, method, reason = "" }): Deviation => ({ protection: atOf(protection), method, reason })),
    ],
  };
};

/** The frame of a visit with what was taken in of the reply to one letter. */
const frameWith = (frame: object, { confirmed }: TakenIn, { number }: SentLetter, day: string): object => {
  const own = frame as FrameParts;
  const again = new Set(confirmed.map(({ request }) => request));
  return {
    ...frame,
    letters: (own.letters ?? []).map((letter) => (letter.number === number ? { ...letter, repliedOn: day } : letter)),
    confirmed: [
      ...(own.confirmed ?? []).filter(({ request }) => !again.has(request)),
      ...confirmed.map((one) => ({ ...one, letter: number })),
    ],
  };
};

/** A visit as it is filled in, with what is taken. */
const draftTaken = (stored: StoredVisit, outcome: TakenIn, asked: Asked): Draft => {
  const { draft } = openVisit(stored);
  const answers = new Map<string, Given>([...draft.answers, ...outcome.answers.map(({ at, value }) => [at, value] as const)]);
  return { frame: withWays(draft.frame, outcome, asked), answers };
};

/** The visit as it would be planned with what is taken; for showing what a reply changes before it is taken in. Pure. */
export const previewTaken = (
  stored: StoredVisit,
  outcome: TakenIn,
  { planner, asked }: { readonly planner: Planner; readonly asked: Asked },
): Preview => previewOf(draftTaken(stored, outcome, asked), planner);

/** What keeps something from being taken in, with the references that it is about; none where it is about the visit itself. */
export interface TakingFault {
  readonly refs: readonly string[];
  readonly says: string;
}

/** What contradicts itself once this is taken, each with the references without which it would not. */
const contradictions = (
  waits: Extract<Preview, { readonly waits: unknown }>["waits"],
  { outcome, weighed }: { readonly outcome: TakenIn; readonly weighed: readonly Weighed[] },
  preview: (outcome: TakenIn) => Preview,
): readonly TakingFault[] => {
  const given = weighed.filter(({ write }) => write !== undefined && outcome.answers.some(({ at }) => at === write.at));
  const without = given.map(({ ref, write }) => {
    const rest = preview({ ...outcome, answers: outcome.answers.filter(({ at }) => at !== write?.at) });
    return { ref, still: "plan" in rest ? [] : rest.waits.map(({ says }) => says) };
  });
  return waits.map(({ says }) => ({ refs: without.filter(({ still }) => !still.includes(says)).map(({ ref }) => ref), says }));
};

const LONGEST_REASON = 600;

/** What is wrong with a reason; none where it can be kept. */
const reasonFaults = (ref: string, reason: string, of: string): readonly TakingFault[] => {
  const read = text(LONGEST_REASON).safeParse(reason);
  return read.success ? [] : [{ refs: [ref], says: `reason: ${read.error.issues[0]?.message ?? "wanted"}, why ${of}` }];
};

/** What keeps a proposed way from being taken, once everything else is. */
const unfit = ({ deviations }: TakenIn, { plan }: { readonly plan: Plan }): readonly TakingFault[] => {
  const protections = plan.sets.flatMap((set) => set.protections);
  return deviations.flatMap(({ protection, method, reason = "" }) => {
    const verdict = protections.find(({ ref }) => ref === protection)?.verdicts.find((one) => one.method === method);
    if (verdict?.verdict !== "fit")
      return [
        {
          refs: [protection],
          says: `the proposed way is ${verdict?.verdict ?? "none of this test’s"}: ${verdict?.reason ?? "it is not among its methods"}`,
        },
      ];
    return reasonFaults(protection, reason, "this way is taken");
  });
};

/**
 * Why what is left is left: as the inspector says, else as the program does of a way that is barred. The vessel is told so with the next letter.
 */
const becauseOf = (weighed: readonly Weighed[], { taken, left }: TakenIn, reasons: Decided["reasons"]): Readonly<Record<string, string>> =>
  Object.fromEntries(
    weighed.flatMap(({ ref, proposal, without = [] }) => {
      if (!left.includes(ref)) return [];
      const barred = proposal?.verdict?.verdict === "barred" ? proposal.verdict.reason : "";
      const lost = without.filter((request) => taken.includes(request));
      const missed = lost.length === 0 ? "" : `it needs ${listAnd(lost)}, which cannot be had in time`;
      const because = (reasons.get(ref) ?? "").trim() || barred || missed;
      return because === "" ? [] : [[ref, because] as const];
    }),
  );

/** Ways that the plan refuses although they are fit by themselves. */
const refusedIn = ({ deviations }: TakenIn, { plan }: { readonly plan: Plan }): readonly TakingFault[] =>
  plan.sets
    .flatMap(({ protections }) => protections)
    .flatMap(({ ref, deviation }) =>
      deviation?.refused === true && deviations.some(({ protection }) => protection === ref)
        ? [{ refs: [ref], says: `the proposed way is refused: ${deviation.reason}` }]
        : [],
    );

export interface Taking {
  readonly outcome: TakenIn;
  /** The visit as it would be planned then. */
  readonly after: Extract<Preview, { readonly plan: unknown }>;
}

/**
 * What taking this in would write and how the visit would be planned then; or everything that stands against it: answers that contradict each other or
 * what is known, ways that are not fit once the answers are known, ways without a reason. Pure.
 */
export const takingIn = (
  stored: StoredVisit,
  { asked, weighed, planner }: Pick<ToTakeIn, "asked" | "weighed"> & Pick<Office, "planner">,
  { taken, reasons }: Decided,
): Result<Taking, TakingFault> => {
  const plain = takenIn(weighed, taken);
  const deviations = plain.deviations.map((one) => ({ ...one, reason: (reasons.get(one.protection) ?? "").trim() }));
  const leftBecause = becauseOf(weighed, plain, reasons);
  const outcome = { ...plain, deviations, leftBecause };
  const preview = (of: TakenIn): Preview => previewTaken(stored, of, { planner, asked });
  const known = preview({ ...outcome, deviations: [] });
  if (!("plan" in known)) return failure(...contradictions(known.waits, { outcome: { ...outcome, deviations: [] }, weighed }, preview));
  const against = [
    ...unfit(outcome, known),
    ...Object.entries(leftBecause).flatMap(([ref, because]) => reasonFaults(ref, because, "it is left")),
  ];
  if (against.length > 0) return failure(...against);
  const after = deviations.length === 0 ? known : preview(outcome);
  if (!("plan" in after)) return failure(...after.waits.map(({ says }) => ({ refs: [], says })));
  const refused = refusedIn(outcome, after);
  return refused.length === 0 ? success({ outcome, after }) : failure(...refused);
};

/** A fault with its references in front: "T3: the proposed way is barred: …". */
export const takingFaultWords = ({ refs, says }: TakingFault): string => (refs.length === 0 ? says : `${listAnd(refs)}: ${says}`);

/**
 * Takes in what the inspector decided of a confirmed reply: answers, confirmations and proposed ways at once or, where something stands against it,
 * nothing. Fails where the reply was taken in already, where the answers taken contradict what is known, where a proposed way is not
 * fit once they are known or has no reason, or where somebody else changed the visit meanwhile. What is left is kept as left, by its references.
 */
export const takeInReply = async (
  { store, planner }: Office,
  stored: StoredVisit,
  sent: SentLetter,
  decided: Decided,
  by: Act,
): Promise<Result<TakenIn>> => {
  const weighed = await weighReply({ store, planner }, stored, sent);
  if (!weighed.ok) return weighed;
  if (weighed.value.done) return failure("the reply was taken in already");
  const taking = takingIn(stored, { ...weighed.value, planner }, decided);
  if (!taking.ok) return failure(...taking.faults.map(takingFaultWords));
  const { outcome } = taking.value;
  const { draft } = openVisit(stored);
  const frame = withWays(frameWith(draft.frame, outcome, sent, by.when.slice(0, 10)), outcome, weighed.value.asked);
  const answers = outcome.answers.map(({ at, value }) => ({ at: storedPointer(at, stored.sets), value: value as Json }));
  const before: Before = {
    ...storedFrame(draft.frame, stored.sets),
    answers: answers.map(({ at }) => {
      const { value } = stored.answers.get(at) ?? {};
      return { at, ...(value === undefined ? {} : { value }) };
    }),
    made: stored.version + 1,
  };
  const kept = await store.takeReply(
    {
      visit: stored.id,
      sent: sent.id,
      seen: stored.version,
      frame: storedFrame(frame, stored.sets),
      answers,
      outcome: JSON.parse(JSON.stringify({ ...outcome, before })) as Json,
    },
    by,
  );
  if (!kept.ok) return kept;
  await keepStandingOf(store, planner, stored.id);
  return success(outcome);
};

/** Whether taking in can be taken back: nothing of the visit was changed since. */
export const canTakeBack = ({ version }: Pick<StoredVisit, "version">, outcome: Json): boolean =>
  outcomeKept(outcome).before?.made === version;

/**
 * Takes back that a reply was taken in: frame and answers stand again as before, and the reply waits to be taken in. Gives what had been decided. Fails
 * where the reply was not taken in, or where anything of the visit was changed since; single answers are then corrected on their pages.
 */
export const takeBack = async ({ store, planner }: Office, stored: StoredVisit, sent: SentLetter, by: Act): Promise<Result<TakenIn>> => {
  const { taken } = await store.replyOf(sent.id);
  const outcome = taken === undefined ? undefined : outcomeKept(taken.outcome);
  if (outcome?.before === undefined || !canTakeBack(stored, taken?.outcome ?? null))
    return failure("the visit was changed since the reply was taken in; correct single answers on their pages");
  const { answers, made, ...frame } = outcome.before;
  const kept = await store.takeBackReply({ visit: stored.id, sent: sent.id, seen: made, frame, answers }, by);
  if (!kept.ok) return kept;
  await keepStandingOf(store, planner, stored.id);
  return success(outcome);
};
