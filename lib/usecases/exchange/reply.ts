import { markOf } from "../../access/invitation.ts";
import { opens } from "../../access/replyLink.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { knownFields, OWN, questionFields, requestFields, testFields } from "../../letter/formFields.ts";
import { type Fault, quoted } from "../../model/fault.ts";
import type { Reply } from "../../model/reply.ts";
import type { Asked } from "../../plan/asked.ts";
import { type Fields, replyFromFields } from "../../reply/fromForm.ts";
import type { Reading } from "../../reply/values.ts";
import type { Entry, ReplyLink, SentLetter } from "../../store/exchanges.ts";
import type { Act, Json, Store } from "../../store/store.ts";
import { askedThen } from "./askedStored.ts";

/** The link that a code opens now; null where it opens nothing, whatever the reason: guessing learns nothing from it. */
export const openLink = async (store: Store, code: string, now: string): Promise<ReplyLink | null> => {
  const link = await store.link(markOf(code));
  return opens(link, now) ? link : null;
};

/** Under these the fields that belong to the whole reply are kept: who answers, and what is remarked. */
export const WHO = "by";
export const REMARKS = "remarks";

/** The fields of each reference, and of the whole reply; what is filled in is kept by these. */
export const fieldsByRef = ({ questions, requests, tests, known }: Asked): ReadonlyMap<string, readonly string[]> =>
  new Map<string, readonly string[]>([
    ...questions.map(({ ref }) => [ref, Object.values(questionFields(ref))] as const),
    ...requests.map(({ ref }) => [ref, Object.values(requestFields(ref))] as const),
    ...tests.map(({ ref }) => [ref, Object.values(testFields(ref))] as const),
    ...known.map(({ ref }) => [ref, Object.values(knownFields(ref))] as const),
    [WHO, [OWN.name, OWN.role, OWN.contact]],
    [REMARKS, [OWN.remarks]],
  ]);

const LONGEST = 2_000;

/** One reference as it was filled in, with the version of it that the page showed; 0 where it showed none. */
export interface Filled {
  readonly ref: string;
  readonly fields: Readonly<Record<string, string>>;
  readonly seen: number;
  /** A key of the page that it was filled in on. */
  readonly post?: string;
}

/** What is filled in of a reply by now, by the names of the fields. */
export const fieldsOf = (entries: readonly Entry[]): Fields =>
  new Map(entries.flatMap(({ value }) => Object.entries((value ?? {}) as Readonly<Record<string, string>>)));

/**
 * Keeps what was filled in, right or wrong, as it stands: it is read when the reply is confirmed. What somebody else filled in otherwise meanwhile
 * is told. Fails where the reply is confirmed, or where a field is none of the letter's.
 */
export const fillIn = async (store: Store, sent: SentLetter, filled: readonly Filled[], by: Act): Promise<Result<readonly Entry[]>> => {
  const known = fieldsByRef(askedThen(sent.asked));
  const strange = filled.flatMap(({ ref, fields }) => {
    const names = known.get(ref);
    return names === undefined ? [ref] : Object.keys(fields).filter((name) => !names.includes(name));
  });
  if (strange.length > 0) return failure(...strange.map((name) => `no such field: ${quoted(name)}`));
  return store.saveEntries(
    sent.id,
    filled.map(({ ref, fields, seen, post }) => {
      const written = Object.entries(fields)
        .map(([name, text]) => [name, text.slice(0, LONGEST)] as const)
        .filter(([, text]) => text.trim() !== "");
      return {
        ref,
        seen,
        ...(post === undefined ? {} : { post }),
        ...(written.length === 0 ? {} : { value: Object.fromEntries(written) as Json }),
      };
    }),
    by,
  );
};

/** The reply as it stands filled in, or everything that keeps it from being one, each by its reference. */
export const replyAsFilled = async (store: Store, sent: SentLetter, reading: Reading): Promise<Result<Reply, Fault>> =>
  replyFromFields(fieldsOf(await store.entriesOf(sent.id)), { mark: sent.mark, asked: askedThen(sent.asked) }, reading);

/** Whether a reply says nothing of what bears a reference. */
export const saysNothing = ({ questions, requests, tests, corrections = {} }: Reply): boolean =>
  [questions, requests, tests, corrections].every((said) => Object.keys(said).length === 0);

/** Ends the exchange with the reply as it stands filled in. Fails with everything that is wrong with it, or where it was ended already. */
export const confirmAsFilled = async (store: Store, sent: SentLetter, reading: Reading, by: Act): Promise<Result<Reply, Fault>> => {
  const reply = await replyAsFilled(store, sent, reading);
  if (!reply.ok) return reply;
  if (reply.value.remarks === undefined && saysNothing(reply.value))
    return failure({ at: REMARKS, given: "nothing", wanted: "at least one answer, or a remark" });
  return confirmReply(store, sent, reply.value, by);
};

/** Ends the exchange with a reply that came in the form of the letter, by mail, or on paper and was keyed in. Fails where it was ended already. */
export const confirmReply = async (store: Store, sent: SentLetter, reply: Reply, by: Act): Promise<Result<Reply, Fault>> => {
  const done = await store.confirmReply(sent.id, JSON.parse(JSON.stringify(reply)) as Json, by);
  if (!done.ok)
    return failure(...done.faults.map((wanted) => ({ at: "", given: `a reply to letter ${sent.number}`, wanted: `none more: ${wanted}` })));
  return success(reply);
};
