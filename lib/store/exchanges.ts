import type { Kysely } from "kysely";
import { failure, type Result, success } from "../kernel/result.ts";
import { attachmentsOn } from "./attachments.ts";
import {
  CONFIRMED,
  changeFrame,
  count,
  countReply,
  insertMade,
  MEANWHILE,
  NO_VISIT,
  rolledBack,
  setStanding,
  TakenBack,
} from "./changes.ts";
import { requestsIn } from "./histories.ts";
import { insertPlan, type KeptPlan } from "./plans.ts";
import type { Tables } from "./schema.ts";
import type { Act, Frame, Json, Made, Standing, Write } from "./store.ts";
import { takingOn } from "./taking.ts";

/** A letter that went out. Neither it nor what it was made from is ever changed. */
export interface SentLetter extends Act {
  readonly id: string;
  readonly visit: string;
  /** What it is: one that asks, or one that ends the exchange, with all agreed or with what remains for another time. */
  readonly kind: "letter" | "settled" | "not settled";
  /** Letter 1, letter 2, … of the visit. */
  readonly number: number;
  /** The letter that was made for it, with its file, plan and PDF. */
  readonly made: string;
  /** Tells the letter in a form that comes back. */
  readonly mark: string;
  /** A plain date. */
  readonly replyBy: string;
  /** Names of those it went to, with their addresses where these are known. */
  readonly to: readonly { readonly name: string; readonly address: string }[];
  /** What it asked, as its reader was asked it. */
  readonly asked: Json;
}

/** What became of the mail to one recipient of a letter, each time it was tried. */
export interface Delivery {
  readonly sent: string;
  readonly address: string;
  readonly when: string;
  readonly how: "sent" | "outbox" | "failed";
  /** Where it went, or why it did not. */
  readonly detail: string;
}

/** All that is kept when a letter goes out: together or not at all. */
export interface Sending {
  readonly sent: SentLetter;
  readonly made: Made;
  readonly links: readonly ReplyLink[];
  /** The visit's frame as it is once the letter has gone, and the version of it that was seen. */
  readonly frame: Frame;
  readonly seen: number;
  /** The plan that it was made of, to be compared with others. */
  readonly plan?: KeptPlan;
  /** How far the exchange is once it has gone. */
  readonly standing?: Standing;
}

/** A private link to the reply of one letter, of one recipient. Its code is kept nowhere. */
export interface ReplyLink {
  readonly mark: string;
  readonly sent: string;
  readonly recipient: string;
  readonly madeAt: string;
  readonly expiresAt: string;
  /** Undefined while it stands. */
  readonly withdrawnAt?: string;
}

/** What was filled in at one reference of a letter, by whom; each filling in is kept, the latest counts. */
export interface Entry extends Act {
  readonly ref: string;
  /** Undefined where it was emptied again. */
  readonly value?: Json;
  readonly version: number;
  /** The key of the page that it was sent from. */
  readonly post?: string;
}

export interface EntryWrite {
  readonly ref: string;
  readonly value?: Json;
  /** The version that the writer saw; 0 where there was none. */
  readonly seen: number;
  /** A key of the writer's page: what came from that very page before is his own and overwritten, so that a post cut off can be sent again. */
  readonly post?: string;
}

/** A file that came with the reply to a letter. */
export interface Attachment extends Act {
  readonly id: string;
  readonly sent: string;
  /** What it is, in words. */
  readonly what: string;
  /** The name that its sender gave it, for showing only. */
  readonly name: string;
  readonly type: string;
  /** In bytes. */
  readonly size: number;
  /** Of its content; the same file is kept once for a letter. */
  readonly digest: string;
}

/** How far the reply to a letter is. */
export interface ReplyState {
  /** The reply as it was confirmed. */
  readonly confirmed?: Act & { readonly reply: Json };
  /** What of it the inspector took in, and what not. */
  readonly taken?: Act & { readonly outcome: Json };
}

/** What taking in a reply writes into its visit. */
export interface TakingReply {
  readonly visit: string;
  readonly sent: string;
  /** The version of the visit that was looked at. */
  readonly seen: number;
  readonly frame: Frame;
  readonly answers: readonly Omit<Write, "seen">[];
  /** What became of the reply. */
  readonly outcome: Json;
}

/** What the store keeps of letters that went out and of what came back. */
export interface ExchangeStore {
  /**
   * Keeps a letter as sent. Fails where that letter of the visit was sent already, so that sending twice sends once, and where somebody else
   * changed the visit's frame meanwhile.
   */
  readonly keepSent: (sending: Sending) => Promise<Result<SentLetter>>;
  readonly keepDelivery: (delivery: Delivery) => Promise<void>;
  /** Every try, the first first. */
  readonly deliveriesOf: (sent: string) => Promise<readonly Delivery[]>;
  /** The letters of a visit that went out, the first first. */
  readonly sentOf: (visit: string) => Promise<readonly SentLetter[]>;
  readonly sent: (id: string) => Promise<SentLetter | null>;
  /** Letters that ask and went out in a time, to its end, with whom they went to and the mails that were tried; instants in UTC. */
  readonly mailsBetween: (
    since: string,
    until: string,
  ) => Promise<readonly { readonly sent: string; readonly to: SentLetter["to"]; readonly tried: readonly Pick<Delivery, "address">[] }[]>;
  readonly link: (mark: string) => Promise<ReplyLink | null>;
  readonly linksOf: (sent: string) => Promise<readonly ReplyLink[]>;
  readonly keepLink: (link: ReplyLink) => Promise<void>;
  readonly withdrawLink: (mark: string, when: string) => Promise<void>;
  /**
   * Keeps what was filled in. What somebody else filled in otherwise meanwhile is told by its reference and not overwritten. Fails where the reply
   * is confirmed.
   */
  readonly saveEntries: (sent: string, writes: readonly EntryWrite[], by: Act) => Promise<Result<readonly Entry[]>>;
  /** The latest at every reference. */
  readonly entriesOf: (sent: string) => Promise<readonly Entry[]>;
  /** Ends the exchange with this reply, and says in the list of visits that it came: together or not at all. Fails where that was done already. */
  readonly confirmReply: (sent: string, reply: Json, by: Act) => Promise<Result<true>>;
  readonly replyOf: (sent: string) => Promise<ReplyState>;
  /**
   * Keeps a file; one that is kept already is not kept twice. Fails where the reply is confirmed, or where all files of the letter would
   * together have more than `most` bytes.
   */
  readonly keepAttachment: (attachment: Attachment, content: Uint8Array, most: number) => Promise<Result<true>>;
  /** Takes a file away again. Fails where the reply is confirmed. */
  readonly dropAttachment: (sent: string, id: string) => Promise<Result<true>>;
  /** The first first. */
  readonly attachmentsOf: (sent: string) => Promise<readonly Attachment[]>;
  readonly attachment: (id: string) => Promise<(Attachment & { readonly content: Uint8Array }) | null>;
  /**
   * Takes a reply into its visit: frame, answers and what became of the reply, all or nothing. Fails where that was done already, where the reply
   * is not confirmed, and where anything of the visit was changed since the version seen.
   */
  readonly takeReply: (taking: TakingReply, by: Act) => Promise<Result<{ readonly version: number }>>;
  /** Takes that back: frame and answers as they are given, and the reply waits again. Fails as `takeReply` does. */
  readonly takeBackReply: (taking: Omit<TakingReply, "outcome">, by: Act) => Promise<Result<{ readonly version: number }>>;
}

type Row = Tables["sent"];

const sentFrom = ({ sent_at, reply_by, recipients, asked, kind, requests: _, ...row }: Row): SentLetter => ({
  ...row,
  kind: kind as SentLetter["kind"],
  when: sent_at,
  replyBy: reply_by,
  to: JSON.parse(recipients) as SentLetter["to"],
  asked: JSON.parse(asked) as Json,
});

const linkFrom = ({ made_at, expires_at, withdrawn_at, ...row }: Tables["reply_link"]): ReplyLink => ({
  ...row,
  madeAt: made_at,
  expiresAt: expires_at,
  ...(withdrawn_at === null ? {} : { withdrawnAt: withdrawn_at }),
});

const linkRow = ({ mark, sent, recipient, madeAt, expiresAt, withdrawnAt }: ReplyLink): Tables["reply_link"] => ({
  mark,
  sent,
  recipient,
  made_at: madeAt,
  expires_at: expiresAt,
  withdrawn_at: withdrawnAt ?? null,
});

const latestOf = async (db: Kysely<Tables>, sent: string): Promise<ReadonlyMap<string, Entry>> => {
  const rows = await db.selectFrom("reply_entry").selectAll().where("sent", "=", sent).orderBy("version").execute();
  return new Map(
    rows.map(({ ref, value, version, who, saved_at, post }) => [
      ref,
      {
        ref,
        version,
        who,
        when: saved_at,
        ...(value === null ? {} : { value: JSON.parse(value) as Json }),
        ...(post === null ? {} : { post }),
      },
    ]),
  );
};

/** What stood at a reference in the version that a writer saw. */
const valueShown = async (db: Kysely<Tables>, sent: string, { ref, seen }: Pick<EntryWrite, "ref" | "seen">): Promise<Json | undefined> => {
  const row = await db
    .selectFrom("reply_entry")
    .select("value")
    .where("sent", "=", sent)
    .where("ref", "=", ref)
    .where("version", "=", seen)
    .executeTakeFirst();
  return row === undefined || row.value === null ? undefined : (JSON.parse(row.value) as Json);
};

const same = (one: Json | undefined, other: Json | undefined): boolean => JSON.stringify(one) === JSON.stringify(other);

const repliesOf = (db: Kysely<Tables>): Pick<ExchangeStore, "saveEntries" | "entriesOf" | "confirmReply" | "replyOf"> => ({
  saveEntries: (sent, writes, { who, when }) =>
    db.transaction().execute(async (inner): Promise<Result<readonly Entry[]>> => {
      const version = await countReply(inner, sent);
      if (version === null) return failure(CONFIRMED);
      const latest = await latestOf(inner, sent);
      const conflicts: Entry[] = [];
      for (const { ref, value, seen, post } of writes) {
        const now = latest.get(ref);
        if (same(now?.value, value)) continue;
        const foreign = now !== undefined && now.version > seen && (post === undefined || now.post !== post);
        // What the writer was shown and left so is no answer of his, whatever somebody else made of it meanwhile.
        if (foreign && same(await valueShown(inner, sent, { ref, seen }), value)) continue;
        if (foreign) conflicts.push(now);
        else
          await inner
            .insertInto("reply_entry")
            .values({
              sent,
              ref,
              version,
              value: value === undefined ? null : JSON.stringify(value),
              who,
              saved_at: when,
              post: post ?? null,
            })
            .execute();
      }
      return success(conflicts);
    }),
  entriesOf: async (sent) => [...(await latestOf(db, sent)).values()],
  confirmReply: (sent, reply, { who, when }) =>
    db.transaction().execute(async (inner): Promise<Result<true>> => {
      const done = await inner
        .updateTable("reply")
        .set({ confirmed_at: when, confirmed_by: who, reply: JSON.stringify(reply) })
        .where("sent", "=", sent)
        .where("confirmed_at", "is", null)
        .executeTakeFirst();
      if (done.numUpdatedRows === 0n) return failure(CONFIRMED);
      const { visit, number } = await inner.selectFrom("sent").select(["visit", "number"]).where("id", "=", sent).executeTakeFirstOrThrow();
      // Whatever else is under way, the reply that came goes before it; no plan is needed to say so.
      await setStanding(inner, visit, { stage: "reply to take in", letter: number });
      return success(true);
    }),
  replyOf: async (sent) => {
    const row = await db.selectFrom("reply").selectAll().where("sent", "=", sent).executeTakeFirst();
    if (row === undefined) return {};
    const { confirmed_at, confirmed_by, reply, taken_at, taken_by, outcome } = row;
    return {
      ...(confirmed_at === null
        ? {}
        : { confirmed: { who: confirmed_by ?? "", when: confirmed_at, reply: JSON.parse(reply ?? "null") as Json } }),
      ...(taken_at === null ? {} : { taken: { who: taken_by ?? "", when: taken_at, outcome: JSON.parse(outcome ?? "null") as Json } }),
    };
  },
});

/** Everything of the exchanges on an open database. */
export const exchangesOn = (db: Kysely<Tables>): ExchangeStore => ({
  keepSent: ({ sent, made, links, frame, seen, plan, standing }) =>
    rolledBack(
      db.transaction().execute(async (inner): Promise<Result<SentLetter>> => {
        const version = await count(inner, sent.visit, sent);
        if (version === null) throw new TakenBack(failure(NO_VISIT));
        const before = await inner
          .selectFrom("sent")
          .select("id")
          .where("visit", "=", sent.visit)
          .where("number", "=", sent.number)
          .executeTakeFirst();
        if (before !== undefined) throw new TakenBack(failure(`letter ${sent.number} was sent already`));
        if (!(await changeFrame(inner, sent.visit, frame, { version, seen }))) throw new TakenBack(failure(MEANWHILE));
        await insertMade(inner, made);
        const { when, replyBy, to, asked, ...row } = sent;
        await inner
          .insertInto("sent")
          .values({
            ...row,
            sent_at: when,
            reply_by: replyBy,
            recipients: JSON.stringify(to),
            asked: JSON.stringify(asked),
            requests: requestsIn(asked),
          })
          .execute();
        await inner.insertInto("reply").values({ sent: sent.id, version: 0 }).execute();
        if (links.length > 0) await inner.insertInto("reply_link").values(links.map(linkRow)).execute();
        if (plan !== undefined) await insertPlan(inner, plan);
        if (standing !== undefined) await setStanding(inner, sent.visit, standing);
        return success(sent);
      }),
    ),
  keepDelivery: async ({ when, ...delivery }) => {
    await db
      .insertInto("delivery")
      .values({ ...delivery, tried_at: when })
      .execute();
  },
  deliveriesOf: async (sent) => {
    const rows = await db.selectFrom("delivery").selectAll().where("sent", "=", sent).orderBy("tried_at").orderBy("address").execute();
    return rows.map(({ tried_at, how, ...row }) => ({ ...row, how: how as Delivery["how"], when: tried_at }));
  },
  sentOf: async (visit) => (await db.selectFrom("sent").selectAll().where("visit", "=", visit).orderBy("number").execute()).map(sentFrom),
  sent: async (id) => {
    const row = await db.selectFrom("sent").selectAll().where("id", "=", id).executeTakeFirst();
    return row === undefined ? null : sentFrom(row);
  },
  mailsBetween: async (since, until) => {
    const rows = await db
      .selectFrom("sent")
      .select(["id", "recipients"])
      .where("sent_at", ">=", since)
      .where("sent_at", "<=", until)
      .execute();
    const ids = rows.map(({ id }) => id);
    const mails = ids.length === 0 ? [] : await db.selectFrom("delivery").select(["sent", "address"]).where("sent", "in", ids).execute();
    return rows.map(({ id, recipients }) => ({
      sent: id,
      to: JSON.parse(recipients) as SentLetter["to"],
      tried: mails.filter(({ sent }) => sent === id),
    }));
  },
  link: async (mark) => {
    const row = await db.selectFrom("reply_link").selectAll().where("mark", "=", mark).executeTakeFirst();
    return row === undefined ? null : linkFrom(row);
  },
  linksOf: async (sent) =>
    (await db.selectFrom("reply_link").selectAll().where("sent", "=", sent).orderBy("made_at").orderBy("mark").execute()).map(linkFrom),
  keepLink: async (link) => {
    await db.insertInto("reply_link").values(linkRow(link)).execute();
  },
  withdrawLink: async (mark, when) => {
    await db.updateTable("reply_link").set({ withdrawn_at: when }).where("mark", "=", mark).where("withdrawn_at", "is", null).execute();
  },
  ...repliesOf(db),
  ...takingOn(db),
  ...attachmentsOn(db),
});
