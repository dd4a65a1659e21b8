import { createHash } from "node:crypto";
import { crc32, deflateSync } from "node:zlib";
import { markOf } from "../../../lib/access/invitation.ts";
import { replyPageToken } from "../../../lib/access/replyLink.ts";
import { requestFields, testFields } from "../../../lib/letter/formFields.ts";
import { replySteps } from "../../../lib/reply/steps.ts";
import { askedThen } from "../../../lib/usecases/exchange/askedStored.ts";
import type { Sent } from "../../../lib/usecases/exchange/send.ts";
import { SECRET } from "./server.ts";
import { posted, togetherOf, torn, type Write } from "./write.ts";

const tokenOf = ({ links }: Sent, place: number): string =>
  replyPageToken(markOf(links[place]?.link.split("/").at(-1) ?? ""), SECRET, Date.now());

/** Fills in a page of the reply: the first recipient requests, by the script; the second tests, by the form. Neither meets the other. `from`: his address, as a proxy hands it on. */
export const step = (url: string, sent: Sent, place: 0 | 1, count: number, from?: string): Write => {
  const asked = askedThen(sent.letter.asked);
  const kind = place === 0 ? "requests" : "tests";
  const page = replySteps(asked).find((one) => one.kind === kind);
  if (page === undefined) throw new Error("nothing is asked");
  const words = `as far as we see (${place}, ${count})`;
  const form = new URLSearchParams({ token: tokenOf(sent, place), post: `page-${place}`, from: page.id, seen: "" });
  for (const ref of page.refs) {
    form.set((place === 0 ? requestFields : testFields)(ref).words, words);
    if (place === 1) form.set(testFields(ref).says, "another way");
  }
  const rowsIn: Write["times"] = async (db) =>
    (await db.selectFrom("reply_entry").select(["version", "value"]).where("sent", "=", sent.letter.id).execute()).filter(({ value }) =>
      value?.includes(words),
    ).length;
  return {
    kind: place === 0 ? "reply steps by the script" : "reply steps by the form",
    what: `${page.id} of ${sent.letter.id}, try ${count}`,
    send: async () => {
      const answer = await posted(`${url}/reply/at/${page.id}`, form, { json: place === 0, ...(from === undefined ? {} : { from }) });
      const text = await answer.text();
      return answer.status === 200 && (place === 0 ? text.includes("Saved at") : text.includes("Saved on"));
    },
    found: async (db) => togetherOf(await rowsIn(db), page.refs.length, "entries"),
    times: async (db) => (await rowsIn(db)) / page.refs.length,
  };
};

const chunk = (type: string, data: Buffer): Buffer => {
  const body = Buffer.concat([Buffer.from(type, "latin1"), data]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  check.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, check]);
};

/** A picture of one grey point, with a text that tells it from every other, and so many bytes more. */
export const picture = (words: string, bytes: number): Buffer =>
  Buffer.concat([
    Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]),
    chunk("IHDR", Buffer.from([0, 0, 0, 1, 0, 0, 0, 1, 8, 0, 0, 0, 0])),
    chunk("tEXt", Buffer.from(`Comment\0${words}${"-".repeat(bytes)}`, "latin1")),
    chunk("IDAT", deflateSync(Buffer.from([0, 128]))),
    chunk("IEND", Buffer.alloc(0)),
  ]);

/** Sends a picture with the reply. */
export const file = (url: string, sent: Sent, count: number): Write => {
  const content = picture(`picture ${count}`, 120_000);
  const formOf = (): FormData => {
    const form = new FormData();
    form.set("token", tokenOf(sent, 0));
    form.set("what", "photograph");
    form.set("file", new File([new Uint8Array(content)], `picture-${count}.png`, { type: "image/png" }));
    return form;
  };
  const rowsOf = (db: Parameters<Write["times"]>[0]) =>
    db.selectFrom("attachment").select("content").where("sent", "=", sent.letter.id).where("name", "=", `picture-${count}.png`).execute();
  const digest = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");
  return {
    kind: "files",
    what: `picture ${count} to ${sent.letter.id}`,
    send: async () => {
      const answer = await posted(`${url}/reply/files`, formOf());
      return answer.status === 200 && (await answer.text()).includes(`picture-${count}.png is received and kept`);
    },
    found: async (db) => {
      const [row] = await rowsOf(db);
      if (row === undefined) return "absent";
      return digest(row.content) === digest(content) ? "whole" : torn("the file is another than was sent");
    },
    times: async (db) => (await rowsOf(db)).length,
  };
};

/** Confirms a reply in which nothing is said but a remark. */
export const confirmation = (url: string, sent: Sent, count: number): Write => {
  const { id, visit } = sent.letter;
  const form = (from: string, more: Readonly<Record<string, string>>): URLSearchParams =>
    new URLSearchParams({ token: tokenOf(sent, 0), post: "page-c", from, seen: "", ...more });
  const remarks = `We sail on the 12th (${count}).`;
  return {
    kind: "replies confirmed",
    what: `letter ${id}`,
    send: async () => {
      const who = form("start", { "by.name": "Łukasz Wrona", "by.role": "chief engineer" });
      await (await posted(`${url}/reply/at/start`, who, { json: true })).text();
      const answer = await posted(`${url}/reply/confirm`, form("check", { remarks }));
      return answer.status === 200 && (await answer.text()).includes("The reply is confirmed and sent");
    },
    found: async (db) => {
      const reply = await db.selectFrom("reply").selectAll().where("sent", "=", id).executeTakeFirst();
      if (reply?.confirmed_at == null) return "absent";
      if (!(reply.reply ?? "").includes(remarks)) return torn("confirmed without what was remarked");
      const { standing } = await db.selectFrom("visit").select("standing").where("id", "=", visit).executeTakeFirstOrThrow();
      return standing?.includes("reply to take in") === true ? "whole" : torn("confirmed, and the list of visits waits for it");
    },
    times: async (db) => {
      const rows = await db.selectFrom("reply").select("sent").where("sent", "=", id).where("confirmed_at", "is not", null).execute();
      return rows.length;
    },
  };
};
