import { sql } from "kysely";
import { digestOf } from "../../kernel/digest.ts";
import type { Seals } from "../dialects/seals.ts";
import type { Act } from "../store.ts";
import type { Hit } from "./hits.ts";
import { valueWithout } from "./rewrite.ts";
import { isRow, type Loose, type Row, textOf, toldIn } from "./rows.ts";
import { type Instead, patternsOf, type Sought } from "./sought.ts";
import type { Visits } from "./visitOf.ts";

/** By what a text is ticked on the page: the same text wherever it stands, but apart where the name may be another’s. */
export const tickOf = (text: string, nameCounts: boolean): string => digestOf([text, nameCounts]);

/** What is erased beside what goes by itself, and what is put in place of letters. */
export interface Erasing {
  /** Ticks of texts from which the name goes too. */
  readonly texts: ReadonlySet<string>;
  /** Ids of files that came with replies and are removed. */
  readonly files: ReadonlySet<string>;
  /** The PDF that says that a letter was removed. */
  readonly notice: Uint8Array;
  readonly instead: Instead;
}

/** Tables whose rows go as a whole where they are of the person’s account or address. */
const REMOVED: ReadonlySet<string> = new Set(["session", "account", "verification", "failed_try"]);

const goes = ({ kept: { table }, row, byId }: Hit, { accounts }: Sought): boolean =>
  REMOVED.has(table) || (table === "typed" && byId && accounts.includes(textOf(row, "who")));

/** That a mail was a later one stays told; where it went names its recipient. */
const LATER = /^(?:reminder|letter again[^:]*): /;

/** What else changes with a row in which the person was named. */
const alsoChanged = ({ kept: { table }, row, certain }: Hit, when: string): Row => {
  if (table === "delivery" && certain.includes("address")) return { detail: `${LATER.exec(textOf(row, "detail"))?.[0] ?? ""}erased` };
  if (table === "reply_link" && textOf(row, "withdrawn_at") === "") return { withdrawn_at: when };
  // Whoever has the page of the visit open would otherwise write its people back.
  if (table === "visit") return { version: Number(row["version"]) + 1, frame_version: Number(row["version"]) + 1 };
  return {};
};

const changedIn = (hit: Hit, sought: Sought, { texts, instead }: Erasing): Row => {
  const { kept, row, nameCounts } = hit;
  const rewriting = { patterns: patternsOf(sought), instead, nameCounts, textToo: (text: string) => texts.has(tickOf(text, nameCounts)) };
  return Object.fromEntries(
    toldIn(kept).flatMap(([column, holds]) => {
      const before = textOf(row, column);
      const after = before === "" ? before : valueWithout(holds, before, rewriting);
      return before === after ? [] : [[column, after]];
    }),
  );
};

/** Plans that changed are told to who compares them as new ones. */
const nextSeq = async (db: Loose): Promise<number> => {
  const row = await db
    .selectFrom("kept_plan")
    .select(({ fn }) => fn.max("seq").as("seq"))
    .executeTakeFirst();
  return Number(row?.["seq"] ?? 0) + 1;
};

const changeRow = async (db: Loose, hit: Hit, sought: Sought, erasing: Erasing, when: string): Promise<boolean> => {
  const { kept, row } = hit;
  const changed = changedIn(hit, sought, erasing);
  if (Object.keys(changed).length === 0) return false;
  const seq = kept.table === "kept_plan" ? { seq: await nextSeq(db) } : {};
  await db
    .updateTable(kept.table)
    .set({ ...changed, ...alsoChanged(hit, when), ...seq })
    .where(isRow(kept, row))
    .execute();
  return true;
};

/** Tables that tell what somebody of the vessel answered, which later letters repeat. */
const ANSWERED: ReadonlySet<string> = new Set(["reply", "reply_entry", "reply_link", "attachment"]);

/**
 * Letters whose PDF may name the person: made from a file or plan that does, sent to him, or made of a visit after he had replied to a letter of it. Its
 * bytes are not read: a word may be broken there anyhow.
 */
export const lettersNaming = async (db: Loose, hits: readonly Hit[], { bySent }: Visits): Promise<readonly string[]> => {
  const named = hits.flatMap(({ kept: { table }, row, certain, texts }) =>
    certain.length === 0 && texts.length === 0
      ? []
      : table === "made"
        ? [textOf(row, "id")]
        : table === "sent"
          ? [textOf(row, "made")]
          : [],
  );
  const since = new Map<string, string>();
  for (const { kept, row, visit, certain } of hits) {
    const at = bySent.get(textOf(row, "sent"))?.at ?? "";
    if (visit === null || at === "" || !ANSWERED.has(kept.table) || certain.length === 0) continue;
    if (at < (since.get(visit) ?? "9")) since.set(visit, at);
  }
  const later: string[] = [];
  for (const [visit, at] of since) {
    const rows = await db.selectFrom("made").select("id").where("visit", "=", visit).where("made_at", ">=", at).execute();
    later.push(...rows.map((row) => textOf(row, "id")));
  }
  return [...new Set([...named, ...later])].sort();
};

/** Files that came with replies in which the person took part, by their ids. */
export const filesBeside = async (db: Loose, hits: readonly Hit[]): Promise<readonly Row[]> => {
  const letters = hits.flatMap(({ kept: { table }, row, certain }) =>
    certain.length === 0
      ? []
      : table === "sent"
        ? [textOf(row, "id")]
        : table === "delivery" || ANSWERED.has(table)
          ? [textOf(row, "sent")]
          : [],
  );
  const wanted = [...new Set(letters)];
  if (wanted.length === 0) return [];
  return db
    .selectFrom("attachment")
    .select(["id", "sent", "what", "name", "who", "added_at"])
    .where("sent", "in", wanted)
    .orderBy("added_at")
    .orderBy("id")
    .execute();
};

/** What was erased, as the log and the page tell it. */
export interface Erased {
  readonly rows: number;
  readonly letters: number;
  readonly files: number;
  /** Texts that still hold the name, since they were not ticked. */
  readonly left: number;
}

const removeFiles = async (db: Loose, hits: readonly Hit[], { files }: Erasing): Promise<number> => {
  const own = (await filesBeside(db, hits)).map((row) => textOf(row, "id")).filter((id) => files.has(id));
  if (own.length > 0) await db.deleteFrom("attachment").where("id", "in", own).execute();
  return own.length;
};

/** Takes a person out of every row that names him, within a transaction in which nobody else writes. */
export const eraseIn = async (
  db: Loose,
  seals: Seals,
  { hits, sought, visits }: { readonly hits: readonly Hit[]; readonly sought: Sought; readonly visits: Visits },
  erasing: Erasing,
  by: Act,
): Promise<Erased> => {
  const letters = await lettersNaming(db, hits, visits);
  const files = await removeFiles(db, hits, erasing);
  const open = [...new Set(hits.flatMap(({ kept: { table, sealed } }) => (sealed === true ? [table] : [])))];
  for (const table of open) await seals.open(db as never, table);
  let rows = 0;
  for (const hit of hits) {
    if (goes(hit, sought)) await db.deleteFrom(hit.kept.table).where(isRow(hit.kept, hit.row)).execute();
    else if (!(await changeRow(db, hit, sought, erasing, by.when))) continue;
    rows += 1;
  }
  for (const table of open) await seals.close(db as never, table);
  const pdf = Buffer.from(erasing.notice);
  for (const id of letters) await db.updateTable("made").set({ pdf }).where(sql<boolean>`id = ${id}`).execute();
  const ticks = hits.flatMap((hit) => (goes(hit, sought) ? [] : hit.texts.map((text) => tickOf(text, hit.nameCounts))));
  const left = new Set(ticks.filter((tick) => !erasing.texts.has(tick))).size;
  return { rows, letters: letters.length, files, left };
};
