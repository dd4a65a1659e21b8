import { randomUUID } from "node:crypto";
import { mkdirSync, statSync } from "node:fs";
import { availableParallelism } from "node:os";
import { join, resolve } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { pathToFileURL } from "node:url";
import { type Accounts, openAccounts } from "../access/accounts.ts";
import type { World } from "../kernel/ports.ts";
import { failure, type Result, success } from "../kernel/result.ts";
import { type LetterFigures, openPool, type Renderer } from "../letter/render.ts";
import { quoted } from "../model/fault.ts";
import { type PostOffice, postOffice } from "../outside/postOffice.ts";
import { newPlanner, type Planner } from "../plan/plan.ts";
import { formReader, type ReadForm } from "../reply/readForm.ts";
import { rulebook } from "../rulebook/rulebook.ts";
import { type OpenDatabase, openDatabase } from "../store/database.ts";
import { storeOn } from "../store/open.ts";
import { type PrivacyStore, privacyOn } from "../store/privacy/privacy.ts";
import type { Store } from "../store/store.ts";
import { type Compare, newComparer } from "./review/comparer.ts";
import { stopWhatIfs } from "./review/whatIf.ts";
import { type Environment, type Settings, urlOf } from "./settings.ts";
import { readSettings } from "./settingsHere.ts";
import { type DayThread, openDayThread } from "./visits/dayThread.ts";
import { type PreviewFor, previewsBy } from "./visits/preview.ts";

/** One office as it runs: its store, its people, the planner, and the world it lives in. */
export interface Office {
  readonly store: Store;
  /** What is kept about people: found, given out, removed. */
  readonly privacy: PrivacyStore;
  readonly accounts: Accounts;
  readonly planner: Planner;
  readonly letters: Renderer;
  readonly days: DayThread;
  /** Reads the form of a PDF file that came from outside. */
  readonly readForm: ReadForm;
  readonly post: PostOffice;
  readonly preview: PreviewFor;
  /** All kept plans side by side. */
  readonly compare: () => Promise<Compare>;
  readonly world: World;
  /** Milliseconds since 1970. */
  readonly clock: () => number;
  readonly secret: string;
  /** Where people reach it, as far as is known. */
  readonly url: string;
  /** Whether that was told by who runs it, so that nothing from elsewhere is taken. */
  readonly urlGiven: boolean;
  /** What of it does not work just now; nothing where it can serve. */
  readonly notReady: () => Promise<readonly Part[]>;
  /** What its parts have done since the start, for those who watch over it. */
  readonly figures: () => OfficeFigures;
  /** Something that runs by itself until the office is closed, by what ends it. */
  readonly goesOn: (end: () => Promise<unknown>) => void;
  /** Stops what runs by itself, lets what it began come to its end for a while, then shuts workers and database. Trials go on where they were cut off. */
  readonly close: () => Promise<void>;
}

/** A part of an office without which it cannot serve: the database, its tables as this program knows them, the workers of letters. */
export type Part = "database" | "tables" | "letters";

export interface OfficeFigures {
  readonly letters: LetterFigures;
  /** Queries that the database refused. */
  readonly databaseErrors: number;
}

const HEAP_MB = 512;
const MOST_WAITING = 40;
/** A long letter with its reply form takes eight seconds on a machine that does nothing else, and was seen to take over forty on a busy one. */
const SLOWEST_LETTER = 120_000;

/** The folder of the embedded database and of what goes with it; made where it is missing, readable by its owner only. */
const folderOf = ({ FOREHAIL_DATA }: Settings): Result<string> => {
  const folder = resolve(/* turbopackIgnore: true */ FOREHAIL_DATA);
  try {
    const there = statSync(folder, { throwIfNoEntry: false });
    if (there === undefined) mkdirSync(folder, { mode: 0o700 });
    if (there?.isDirectory() ?? true) return success(folder);
  } catch {}
  return failure(
    `FOREHAIL_DATA: given ${quoted(FOREHAIL_DATA)}; wanted a folder, or the name of one that can be made in a folder that is there`,
  );
};

/** Where the bundles of worker and core lie; the program that starts the server makes them and says where. */
export const bundleAt = (env: Environment, name: string): string =>
  join(/* turbopackIgnore: true */ env["FOREHAIL_BUNDLES"] ?? "node_modules/.cache/forehail", name);

/** So long the database may take to answer who asks whether it can, in milliseconds. */
const PATIENCE = 1000;

/** A mail that is being handed over may take so long at the end, in milliseconds: cut off, it would go out once more at the next start. */
const LAST_MAILS = 10_000;

/** Whether the database answers, with the tables that this program knows. */
const troubleOf = async ({ inStep }: OpenDatabase): Promise<readonly Part[]> => {
  const answered = await Promise.race([inStep().catch(() => null), pause(PATIENCE, null, { ref: false })]);
  return answered === null ? ["database"] : answered ? [] : ["tables"];
};

/** Opens an office by its environment (`settings.ts`). Fails with the reasons, one for each variable that is wrong. */
export const openOffice = async (env: Environment): Promise<Result<Office>> => {
  const read = readSettings(env);
  if (!read.ok) return read;
  const settings = read.value;
  const place = folderOf(settings);
  if (!place.ok) return place;
  const folder = place.value;
  const [secret, url] = [settings.FOREHAIL_SECRET, urlOf(settings)];
  const database = await openDatabase(settings.DATABASE_URL ?? join(folder, "office.db"));
  if (!database.ok) return database;
  const accounts = await openAccounts(database.value, { secret, url });
  const planner = newPlanner(rulebook);
  const store = storeOn(database.value.db);
  const letters = openPool(
    Math.max(1, availableParallelism() - 1),
    { timeout: SLOWEST_LETTER, memory: HEAP_MB, waiting: MOST_WAITING },
    pathToFileURL(resolve(/* turbopackIgnore: true */ bundleAt(env, "worker.mjs"))),
  );
  const days = openDayThread(pathToFileURL(resolve(/* turbopackIgnore: true */ bundleAt(env, "dayWorker.mjs"))));
  const ends: (() => Promise<unknown>)[] = [];
  return success({
    store,
    privacy: privacyOn(database.value),
    compare: newComparer(store),
    accounts,
    planner,
    post: postOffice({ SMTP_URL: settings.SMTP_URL }, join(folder, "outbox")),
    preview: previewsBy(planner),
    letters,
    days,
    readForm: formReader(undefined, pathToFileURL(resolve(/* turbopackIgnore: true */ bundleAt(env, "formReader.mjs")))),
    world: { now: () => new Date().toISOString(), newId: () => randomUUID() },
    clock: () => Date.now(),
    secret,
    url,
    urlGiven: settings.FOREHAIL_URL !== undefined,
    notReady: async () => [...(await troubleOf(database.value)), ...(letters.revive() ? [] : (["letters"] as const))],
    figures: () => ({ letters: letters.figures(), databaseErrors: database.value.refused() }),
    goesOn: (end) => ends.push(end),
    close: async () => {
      await Promise.race([Promise.allSettled(ends.map((end) => end())), pause(LAST_MAILS, null, { ref: false })]);
      await stopWhatIfs();
      await letters.close();
      await days.close();
      await store.close();
    },
  });
};
