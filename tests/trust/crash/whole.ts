import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { type Kysely, sql } from "kysely";
import { PDFDocument } from "pdf-lib";
import { databaseOf } from "../../../lib/store/database.ts";
import type { Tables } from "../../../lib/store/schema.ts";
import { addressOf, type Settings } from "./server.ts";

/** The office's database as somebody looks at it from beside; the tables are taken as they are. */
export const lookedAt = async <Outcome>(settings: Settings, look: (db: Kysely<Tables>) => Promise<Outcome>): Promise<Outcome> => {
  const { Kysely: Opened } = await import("kysely");
  const db = new Opened<Tables>({ dialect: databaseOf(addressOf(settings)).dialect });
  try {
    return await look(db);
  } finally {
    await db.destroy();
  }
};

type Check = (db: Kysely<Tables>, settings: Settings) => Promise<readonly string[]>;

/** What the embedded database says of itself. */
const sound: Check = async (db, { database }) => {
  if (database !== undefined) return [];
  const { rows } = await sql<{ readonly integrity_check: string }>`pragma integrity_check`.execute(db);
  const { rows: lost } = await sql`pragma foreign_key_check`.execute(db);
  return [
    ...rows.flatMap(({ integrity_check: says }) => (says === "ok" ? [] : [`the database says: ${says}`])),
    ...lost.map((row) => `a row without the one it belongs to: ${JSON.stringify(row)}`),
  ];
};

const isJson = (text: string | null): boolean => {
  try {
    JSON.parse(text ?? "null");
    return true;
  } catch {
    return false;
  }
};

const visits: Check = async (db) => {
  const rows = await db
    .selectFrom("visit")
    .leftJoin("answer", "answer.visit", "visit.id")
    .select(({ fn }) => ["visit.id", "visit.version", "visit.frame", "visit.frame_version", fn.max("answer.version").as("latest")])
    .groupBy(["visit.id", "visit.version", "visit.frame", "visit.frame_version"])
    .execute();
  return rows.flatMap(({ id, version, frame, frame_version, latest }) => [
    ...(Math.max(frame_version, Number(latest ?? 0)) > version ? [`visit ${id} is older than its answers or its frame`] : []),
    ...(isJson(frame) ? [] : [`the frame of visit ${id} is cut off`]),
  ]);
};

/** A PDF of the tests' own is a few words; every other must open. */
const opensAs = async (pdf: Buffer): Promise<boolean> => {
  const text = pdf.toString("latin1");
  if (!text.startsWith("%PDF-") || !text.trimEnd().endsWith("%%EOF")) return false;
  return pdf.length < 100 || (await PDFDocument.load(pdf)).getPageCount() > 0;
};

const letters: Check = async (db) => {
  const made = await db.selectFrom("made").select(["id", "pdf", "plan", "file"]).execute();
  const broken: string[] = [];
  for (const { id, pdf, plan, file } of made)
    if (!(await opensAs(Buffer.from(pdf))) || !isJson(plan) || !isJson(file)) broken.push(`letter ${id} does not open`);
  const sent = await db.selectFrom("sent").select(["id", "made", "recipients", "kind", "visit", "number"]).execute();
  const links = await db.selectFrom("reply_link").select(["sent", "recipient"]).execute();
  const replies = new Set((await db.selectFrom("reply").select("sent").execute()).map((row) => row.sent));
  const frames = new Map((await db.selectFrom("visit").select(["id", "frame"]).execute()).map(({ id, frame }) => [id, frame]));
  return [
    ...broken,
    ...sent.flatMap((letter) => [
      ...(made.some(({ id }) => id === letter.made) ? [] : [`letter ${letter.id} went out and what it was made from is not there`]),
      ...(replies.has(letter.id) ? [] : [`letter ${letter.id} has no reply to be filled in`]),
      ...((JSON.parse(frames.get(letter.visit) ?? "{}") as { letters?: readonly { number: number }[] }).letters?.some(
        ({ number }) => number === letter.number,
      ) === true
        ? []
        : [`letter ${letter.id} is none of its visit's letters`]),
      ...(JSON.parse(letter.recipients) as readonly { name: string }[]).flatMap(({ name }) =>
        letter.kind !== "letter" || links.some((link) => link.sent === letter.id && link.recipient === name)
          ? []
          : [`letter ${letter.id} has no link for ${name}`],
      ),
    ]),
  ];
};

const replies: Check = async (db) => {
  const rows = await db.selectFrom("reply").selectAll().execute();
  const entries = await db
    .selectFrom("reply_entry")
    .select(({ fn }) => ["sent", fn.max("version").as("latest")])
    .groupBy("sent")
    .execute();
  return rows.flatMap(({ sent, version, confirmed_at, confirmed_by, reply }) => [
    ...((confirmed_at === null) === (reply === null) && (confirmed_at === null) === (confirmed_by === null)
      ? []
      : [`the reply to ${sent} is confirmed in part`]),
    ...(isJson(reply) ? [] : [`the reply to ${sent} is cut off`]),
    ...(Number(entries.find((one) => one.sent === sent)?.latest ?? 0) > version ? [`the reply to ${sent} is older than its entries`] : []),
  ]);
};

const files: Check = async (db) => {
  const rows = await db.selectFrom("attachment").select(["id", "size", "digest", "content"]).execute();
  return rows.flatMap(({ id, size, digest, content }) =>
    content.length === size && createHash("sha256").update(content).digest("hex") === digest
      ? []
      : [`file ${id} is not what its digest says`],
  );
};

/** Mails that lie in the outbox are whole; what was being written does not count as mail. */
const outbox: Check = async (db, { folder }) => {
  const box = join(folder, "outbox");
  const mails = existsSync(box) ? readdirSync(box).filter((name) => name.endsWith(".eml")) : [];
  const delivered = await db.selectFrom("delivery").select(["detail", "how"]).where("how", "=", "outbox").execute();
  return [
    ...mails.flatMap((name) => {
      const text = readFileSync(join(box, name), "latin1");
      const mark = /boundary="([^"]+)"/.exec(text)?.[1];
      // Of one part, without a file: its lines end where it does.
      const isWhole = mark === undefined ? text.endsWith("\r\n") : text.trimEnd().endsWith(`--${mark}--`);
      return isWhole ? [] : [`the mail ${name} is cut off`];
    }),
    ...delivered.flatMap(({ detail }) =>
      // A reminder, or a link that was renewed, is told with its kind in front.
      existsSync(detail.replace(/^[^/]*: /, "")) ? [] : [`the mail ${detail} is told to lie there, and does not`],
    ),
  ];
};

const CHECKS: readonly Check[] = [sound, visits, letters, replies, files, outbox];

/** Everything in an office's database and outbox that is half there; nothing where all is well. */
export const halfThere: Check = async (db, settings) => {
  const found: string[] = [];
  for (const check of CHECKS) found.push(...(await check(db, settings)));
  return found;
};
