import { randomBytes, randomUUID } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { type Accounts, openAccounts } from "../access/accounts.ts";
import type { World } from "../kernel/ports.ts";
import { failure, type Result, success } from "../kernel/result.ts";
import { openPool, type Renderer } from "../letter/render.ts";
import { messageOf } from "../model/fault.ts";
import { type PostOffice, postOffice } from "../outside/postOffice.ts";
import { mailServerOf } from "../outside/smtpUrl.ts";
import { newPlanner, type Planner } from "../plan/plan.ts";
import { formReader, type ReadForm } from "../reply/readForm.ts";
import { rulebook } from "../rulebook/rulebook.ts";
import { openDatabase } from "../store/database.ts";
import { storeOn } from "../store/open.ts";
import { type PrivacyStore, privacyOn } from "../store/privacy/privacy.ts";
import type { Store } from "../store/store.ts";
import { type Compare, newComparer } from "./review/comparer.ts";
import { type PreviewFor, previewsBy } from "./visits/preview.ts";

/** One office as it runs: its store, its people, the planner, and the world it lives in. */
export interface Office {
  readonly store: Store;
  /** What is kept about people: found, given out, removed. */
  readonly privacy: PrivacyStore;
  readonly accounts: Accounts;
  readonly planner: Planner;
  readonly letters: Renderer;
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
}

export type Environment = Readonly<Record<string, string | undefined>>;

const HEAP_MB = 512;
const MOST_WAITING = 40;
/** A long letter with its reply form takes eight seconds on a machine that does nothing else, and was seen to take over forty on a busy one. */
const SLOWEST_LETTER = 120_000;

/** The folder of the embedded database and of what goes with it; made where it is missing, readable by its owner only. */
const folderOf = (env: Environment): string => {
  const folder = resolve(/* turbopackIgnore: true */ env["FOREHAIL_DATA"] ?? "data");
  if (!existsSync(folder)) mkdirSync(folder, { mode: 0o700 });
  return folder;
};

/** The key that seals sign-ins and forms: given, or made once and kept beside the database. */
const secretOf = (env: Environment, folder: string): string => {
  const given = env["FOREHAIL_SECRET"];
  if (given !== undefined && given !== "") return given;
  const file = join(folder, "secret");
  if (!existsSync(file)) writeFileSync(file, randomBytes(32).toString("base64url"), { mode: 0o600, flag: "wx" });
  return readFileSync(file, "utf8").trim();
};

/** Where the bundles of worker and core lie; the program that starts the server makes them and says where. */
export const bundleAt = (env: Environment, name: string): string =>
  join(/* turbopackIgnore: true */ env["FOREHAIL_BUNDLES"] ?? "node_modules/.cache/forehail", name);

/** The office's post; where no mail server is named, mails are laid into a folder beside the database. */
const postOf = (env: Environment, folder: string): Result<PostOffice> => {
  const given = env["SMTP_URL"]?.trim() ?? "";
  const server = given === "" ? null : mailServerOf(given);
  return server === null || server.ok ? success(postOffice(env, join(folder, "outbox"))) : failure(...server.faults.map(messageOf));
};

/** Opens an office by its environment: DATABASE_URL, FOREHAIL_DATA, FOREHAIL_SECRET, FOREHAIL_URL, SMTP_URL. Fails with the reason. */
export const openOffice = async (env: Environment): Promise<Result<Office>> => {
  const folder = folderOf(env);
  const secret = secretOf(env, folder);
  if (secret.length < 32) return failure("FOREHAIL_SECRET: given fewer than 32 characters; wanted at least 32 that nobody can guess");
  const url = env["FOREHAIL_URL"] ?? `http://localhost:${env["PORT"] ?? "3000"}`;
  if (!URL.canParse(url)) return failure(`FOREHAIL_URL: given "${url}"; wanted an address such as https://plans.example.org`);
  const post = postOf(env, folder);
  if (!post.ok) return post;
  const database = await openDatabase(env["DATABASE_URL"] ?? join(folder, "office.db"));
  if (!database.ok) return database;
  const accounts = await openAccounts(database.value, { secret, url });
  const planner = newPlanner(rulebook);
  const store = storeOn(database.value.db);
  return success({
    store,
    privacy: privacyOn(database.value),
    compare: newComparer(store),
    accounts,
    planner,
    post: post.value,
    preview: previewsBy(planner),
    letters: openPool(
      Math.max(1, availableParallelism() - 1),
      { timeout: SLOWEST_LETTER, memory: HEAP_MB, waiting: MOST_WAITING },
      pathToFileURL(resolve(/* turbopackIgnore: true */ bundleAt(env, "worker.mjs"))),
    ),
    readForm: formReader(undefined, pathToFileURL(resolve(/* turbopackIgnore: true */ bundleAt(env, "formReader.mjs")))),
    world: { now: () => new Date().toISOString(), newId: () => randomUUID() },
    clock: () => Date.now(),
    secret,
    url,
    urlGiven: env["FOREHAIL_URL"] !== undefined,
  });
};
