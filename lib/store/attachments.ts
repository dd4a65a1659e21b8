import type { Kysely } from "kysely";
import { failure, type Result, success } from "../kernel/result.ts";
import { CONFIRMED, countReply } from "./changes.ts";
import type { Attachment, ExchangeStore } from "./exchanges.ts";
import type { Tables } from "./schema.ts";

type AttachmentRow = Tables["attachment"];

const attachmentFrom = ({ added_at, ...row }: Omit<AttachmentRow, "content">): Attachment => ({ ...row, when: added_at });

const ATTACHMENT = ["id", "sent", "what", "name", "type", "size", "digest", "who", "added_at"] as const;

/** Files that come with replies, on an open database. */
export const attachmentsOn = (
  db: Kysely<Tables>,
): Pick<ExchangeStore, "keepAttachment" | "dropAttachment" | "attachmentsOf" | "attachment"> => ({
  keepAttachment: (attachment, content, most) =>
    db.transaction().execute(async (inner): Promise<Result<true>> => {
      if ((await countReply(inner, attachment.sent)) === null) return failure(CONFIRMED);
      const kept = await inner.selectFrom("attachment").select(["digest", "size"]).where("sent", "=", attachment.sent).execute();
      if (kept.some(({ digest }) => digest === attachment.digest)) return success(true);
      const together = kept.reduce((sum, { size }) => sum + size, attachment.size);
      if (together > most) return failure(`all files together: given ${together} bytes; wanted at most ${most}`);
      const { when, ...row } = attachment;
      await inner
        .insertInto("attachment")
        .values({ ...row, added_at: when, content: Buffer.from(content) })
        .execute();
      return success(true);
    }),
  dropAttachment: (sent, id) =>
    db.transaction().execute(async (inner): Promise<Result<true>> => {
      if ((await countReply(inner, sent)) === null) return failure(CONFIRMED);
      await inner.deleteFrom("attachment").where("sent", "=", sent).where("id", "=", id).execute();
      return success(true);
    }),
  attachmentsOf: async (sent) =>
    (await db.selectFrom("attachment").select(ATTACHMENT).where("sent", "=", sent).orderBy("added_at").orderBy("id").execute()).map(
      attachmentFrom,
    ),
  attachment: async (id) => {
    const row = await db.selectFrom("attachment").selectAll().where("id", "=", id).executeTakeFirst();
    if (row === undefined) return null;
    const { content, ...rest } = row;
    return { ...attachmentFrom(rest), content: new Uint8Array(content) };
  },
});
