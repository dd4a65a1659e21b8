import type { Given } from "../../flow/draft.ts";
import { type Preview, previewOf } from "../../flow/live.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { type Reply, replySchema } from "../../model/reply.ts";
import type { Asked } from "../../plan/asked.ts";
import type { Planner } from "../../plan/plan.ts";
import { type TakenIn, takenIn, type Weighed, weigh } from "../../reply/weigh.ts";
import type { SentLetter } from "../../store/exchanges.ts";
import type { Act, Json, Store, StoredVisit } from "../../store/store.ts";
import { storedPointer } from "../visits/places.ts";
import { openVisit, storedFrame } from "../visits/visitDraft.ts";
import { askedNow } from "./askedStored.ts";
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
  const weighed = weigh(reply.data, { asked, plan: before.plan, answers: draft.answers });
  return success({ reply: reply.data, asked, done: taken !== undefined, weighed, before });
};

/** What the inspector decides of a reply: which references are taken, and with which reason ways that the vessel proposed. */
export interface Decided {
  readonly taken: ReadonlySet<string>;
  readonly reasons: ReadonlyMap<string, string>;
}

interface FrameParts {
  readonly deviations?: readonly { readonly protection: string; readonly method: string; readonly reason: string }[];
  readonly confirmed?: readonly { readonly request: string; readonly letter: number }[];
  readonly letters?: readonly { readonly number: number; readonly sentOn: string; readonly repliedOn?: string }[];
}

/** The frame of a visit with what was taken in of the reply to one letter. */
const frameWith = (
  frame: object,
  { confirmed, deviations }: TakenIn,
  { number }: SentLetter,
  { reasons, day }: { readonly reasons: Decided["reasons"]; readonly day: string },
): object => {
  const own = frame as FrameParts;
  const again = new Set(confirmed.map(({ request }) => request));
  const insisted = new Set(deviations.map(({ protection }) => protection));
  return {
    ...frame,
    letters: (own.letters ?? []).map((letter) => (letter.number === number ? { ...letter, repliedOn: day } : letter)),
    confirmed: [
      ...(own.confirmed ?? []).filter(({ request }) => !again.has(request)),
      ...confirmed.map((one) => ({ ...one, letter: number })),
    ],
    ...(deviations.length === 0
      ? {}
      : {
          deviations: [
            ...(own.deviations ?? []).filter(({ protection }) => !insisted.has(protection)),
            ...deviations.map(({ protection, method, words }) => ({
              protection,
              method,
              reason: reasons.get(protection) ?? (words === undefined ? "proposed by the vessel" : `proposed by the vessel: ${words}`),
            })),
          ],
        }),
  };
};

/** The visit as it would be with what is taken; for showing what a reply changes before it is taken in. Pure. */
export const previewTaken = (stored: StoredVisit, outcome: TakenIn, planner: Planner): Preview => {
  const { draft } = openVisit(stored);
  const answers = new Map<string, Given>([...draft.answers, ...outcome.answers.map(({ at, value }) => [at, value] as const)]);
  return previewOf({ ...draft, answers }, planner);
};

/**
 * Takes in what the inspector decided of a confirmed reply: answers, confirmations and proposed ways at once or, where something stands against it,
 * nothing. Fails where the reply was taken in already, where the answers taken contradict what is known, where a proposed way is not
 * fit once they are known, or where somebody else changed the visit meanwhile. What is left is kept as left, by its references.
 */
export const takeInReply = async (
  { store, planner }: Office,
  stored: StoredVisit,
  sent: SentLetter,
  { taken, reasons }: Decided,
  by: Act,
): Promise<Result<TakenIn>> => {
  const weighed = await weighReply({ store, planner }, stored, sent);
  if (!weighed.ok) return weighed;
  if (weighed.value.done) return failure("the reply was taken in already");
  const outcome = takenIn(weighed.value.weighed, taken, weighed.value);
  const after = previewTaken(stored, outcome, planner);
  if (!("plan" in after)) return failure(...after.waits.map(({ says }) => says));
  const protections = after.plan.sets.flatMap((set) => set.protections);
  const unfit = outcome.deviations.flatMap(({ protection, method }) => {
    const verdict = protections.find(({ ref }) => ref === protection)?.verdicts.find((one) => one.method === method);
    return verdict?.verdict === "fit"
      ? []
      : [`${protection}: the proposed way is ${verdict?.verdict ?? "none of this test's"}: ${verdict?.reason ?? "not known"}`];
  });
  if (unfit.length > 0) return failure(...unfit);
  const { draft } = openVisit(stored);
  const frame = frameWith(draft.frame, outcome, sent, { reasons, day: by.when.slice(0, 10) });
  const answers = outcome.answers.map(({ at, value }) => ({ at: storedPointer(at, stored.sets), value: value as Json }));
  const kept = await store.saveFrame(stored.id, storedFrame(frame, stored.sets), stored.frameVersion, by, answers);
  if (!kept.ok) return kept;
  const recorded = await store.keepTaken(sent.id, JSON.parse(JSON.stringify(outcome)) as Json, by);
  if (!recorded.ok) return recorded;
  await keepStandingOf(store, planner, stored.id);
  return success(outcome);
};
