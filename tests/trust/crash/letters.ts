import type { Kysely } from "kysely";
import { PDFDocument } from "pdf-lib";
import type { Tables } from "../../../lib/store/schema.ts";
import { tokenOf } from "./inspectors.ts";
import { type Member, RECIPIENTS } from "./stage.ts";
import { type Found, ledTo, posted, torn, type Write } from "./write.ts";

/** Makes the letter of a visit, to be looked at. */
export const made = (url: string, member: Member, visit: string, count: number): Write => {
  let id: string | null = null;
  return {
    kind: "letters made",
    what: `of ${visit}, try ${count}`,
    send: async () => {
      const form = new URLSearchParams({ token: tokenOf(member), units: "metric" });
      const answer = await posted(`${url}/visits/${visit}/letter/make`, form, { cookie: member.cookie });
      id = new URL((await ledTo(answer)) || "/", url).searchParams.get("made");
      return id !== null;
    },
    found: async (db) => {
      const row = id === null ? undefined : await db.selectFrom("made").select("pdf").where("id", "=", id).executeTakeFirst();
      if (row === undefined) return "absent";
      return (await PDFDocument.load(row.pdf)).getPageCount() > 0 ? "whole" : torn("a letter without pages");
    },
    times: async () => (id === null ? 0 : 1),
  };
};

const rowsOf = (db: Kysely<Tables>, visit: string) =>
  db.selectFrom("sent").selectAll().where("visit", "=", visit).where("number", "=", 1).execute();

/** What of a letter that went out is there beside its own row. */
const besides = async (db: Kysely<Tables>, { id, visit, made: of }: Tables["sent"]): Promise<readonly string[]> => {
  const one = await db.selectFrom("made").select("pdf").where("id", "=", of).executeTakeFirst();
  const links = await db.selectFrom("reply_link").select("recipient").where("sent", "=", id).execute();
  const mails = await db.selectFrom("delivery").select(["address", "how"]).where("sent", "=", id).execute();
  const plan = await db.selectFrom("kept_plan").select("seq").where("visit", "=", visit).executeTakeFirst();
  const { standing } = await db.selectFrom("visit").select("standing").where("id", "=", visit).executeTakeFirstOrThrow();
  return [
    ...(one === undefined ? ["its PDF"] : []),
    ...RECIPIENTS.filter(({ name }) => !links.some(({ recipient }) => recipient === name)).map(({ name }) => `the link of ${name}`),
    ...RECIPIENTS.filter(({ address }) => !mails.some((mail) => mail.address === address && mail.how === "outbox")).map(
      ({ address }) => `the mail to ${address}`,
    ),
    ...(plan === undefined ? ["its plan"] : []),
    ...(standing === null ? ["its standing in the list"] : []),
  ];
};

/** Sends the first letter of a visit to two. */
export const sending = (url: string, member: Member, visit: string): Write => ({
  kind: "letters sent",
  what: `of ${visit}`,
  send: async () => {
    const form = new URLSearchParams({ token: tokenOf(member), number: "1", version: "1", units: "metric", kind: "letter" });
    RECIPIENTS.forEach(({ name, address }, place) => {
      form.set(`name-${place + 1}`, name);
      form.set(`address-${place + 1}`, address);
    });
    const answer = await posted(`${url}/visits/${visit}/exchange/send`, form, { cookie: member.cookie });
    const on = await ledTo(answer);
    return on.startsWith(`/visits/${visit}/exchange?`) || `${answer.status}, on to “${on}”`;
  },
  found: async (db): Promise<Found> => {
    const [row] = await rowsOf(db, visit);
    if (row === undefined) return "absent";
    const missing = await besides(db, row);
    return missing.length === 0 ? "whole" : torn(`the letter is sent without ${missing.join(", ")}`);
  },
  times: async (db) => (await rowsOf(db, visit)).length,
});
