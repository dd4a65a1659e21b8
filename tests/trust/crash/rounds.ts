import { mkdirSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { newRandom } from "../../bench/random.ts";
import { freePort } from "../../port.ts";
import { type PrivateServer, startPostgres } from "../../store/postgres.ts";
import { load } from "./load.ts";
import { type Running, type Settings, start } from "./server.ts";
import { type Stage, staged } from "./stage.ts";
import { both, judged, NOTHING_WRONG, sentAgain, type Verdict } from "./verdict.ts";
import { lookedAt } from "./whole.ts";
import type { Entry } from "./write.ts";

/** Where in its work the program, or the database server, was killed. */
export type Phase = "writing" | "mailing" | "starting again" | "first start" | "database process" | "database server";

export interface Tally {
  readonly verdict: Verdict;
  readonly kills: ReadonlyMap<Phase, number>;
  readonly kept: ReadonlyMap<string, number>;
  readonly cutOff: number;
  /** Milliseconds from the start to the first answer, of each start after a kill. */
  readonly restarts: readonly number[];
  readonly rounds: number;
}

export interface Asked {
  readonly engine: "sqlite" | "postgres";
  readonly rounds: number;
  readonly seed: number;
  /** Told after each round. */
  readonly tell?: (line: string) => void;
}

/** So many rounds one office lives; then it has grown, and looking through it would take long. */
const LIFE = 8;
/** The longest writing of a round, in milliseconds; some rounds go on until a mail is being written. */
const LONGEST = 2200;
const LONGEST_MAILING = 9000;
const BETWEEN_MAILS = 40;
const TYPICAL_START = 1200;

const isMailing = (folder: string, before: number): boolean => {
  try {
    return readdirSync(join(folder, "outbox")).length > before;
  } catch {
    return false;
  }
};

const mailsIn = (folder: string): number => readdirSync(join(folder, "outbox")).length;

/** Waits until a mail begins to be written, at most for a while. */
const mailed = async (folder: string): Promise<boolean> => {
  const [before, end] = [mailsIn(folder), Date.now() + LONGEST_MAILING];
  while (Date.now() < end) {
    if (isMailing(folder, before)) return true;
    await pause(1);
  }
  return false;
};

interface Run {
  readonly random: () => number;
  readonly server: PrivateServer | null;
  readonly kills: Map<Phase, number>;
  readonly restarts: number[];
}

const counted = (kills: Map<Phase, number>, phase: Phase): void => {
  kills.set(phase, (kills.get(phase) ?? 0) + 1);
};

const settingsFor = async ({ server }: Run): Promise<Settings> => ({
  folder: mkdtempSync(join(tmpdir(), "forehail-crash-")),
  port: await freePort(),
  ...(server === null ? {} : { database: server.fresh() }),
});

/** Starts the program again after a kill; sometimes it is killed while it starts. */
const again = async (run: Run, settings: Settings, first: Phase | null): Promise<Running> => {
  if (first !== null) {
    const early = start(settings);
    await pause(run.random() * TYPICAL_START);
    await early.kill();
    counted(run.kills, first);
  }
  const running = start(settings);
  run.restarts.push(await running.ready());
  return running;
};

/** An empty office whose first start is cut off must open at the next one, with all of its tables. */
const firstStart = async (run: Run): Promise<Verdict> => {
  const settings = await settingsFor(run);
  const running = await again(run, settings, "first start");
  const asks = (await (await fetch(`${running.url}/set-up`)).text()).includes("password");
  const invited = await lookedAt(settings, (db) => db.selectFrom("invitation").select("mark").execute());
  const verdict = await judged(settings, []);
  await running.kill();
  rmSync(settings.folder, { recursive: true, force: true });
  const fine = asks && invited.length > 0 && running.printed().includes("make the first supervisor's account");
  return fine ? verdict : both(verdict, { ...NOTHING_WRONG, torn: ["an office whose first start was cut off does not open"] });
};

/** Kills a process of the database server, or all of it, which is then started again as who runs it would. The program stays up. */
const killDatabase = async (run: Run, server: PrivateServer, settings: Settings): Promise<void> => {
  if (run.random() < 0.5) {
    const pids = await lookedAt(settings, async (db) => {
      const { sql } = await import("kysely");
      return (
        await sql<{
          readonly pid: number;
        }>`select pid from pg_stat_activity where datname = current_database() and pid <> pg_backend_pid()`.execute(db)
      ).rows;
    });
    const [one] = pids;
    if (one !== undefined) process.kill(one.pid, "SIGKILL");
    counted(run.kills, "database process");
    await pause(600);
  } else {
    process.kill(server.pid(), "SIGKILL");
    counted(run.kills, "database server");
    await pause(600);
    server.start();
  }
};

/** Until the database takes connections, and the program answers by it. */
const settled = async ({ url }: Running, settings: Settings): Promise<void> => {
  const end = Date.now() + 30_000;
  while (Date.now() < end) {
    const up = await lookedAt(settings, (db) => db.selectFrom("visit").select("id").limit(1).execute()).then(
      () => true,
      () => false,
    );
    const answers =
      up &&
      (await fetch(`${url}/sign-in`).then(
        ({ status }) => status === 200,
        () => false,
      ));
    if (answers) return;
    await pause(50);
  }
  throw new Error("the program did not recover within half a minute after its database came back");
};

/** Mails that the program was stopped at go out by themselves within this, in milliseconds; what is missing then is told by the verdict. */
const BY_THEMSELVES = 60_000;

const lettersLeft = (settings: Settings): Promise<boolean> =>
  lookedAt(settings, async (db) => {
    const sent = await db.selectFrom("sent").select(["id", "recipients"]).where("number", "=", 1).execute();
    const mails = await db.selectFrom("delivery").select(["sent", "address"]).execute();
    return sent.some(({ id, recipients }) =>
      (JSON.parse(recipients) as readonly { readonly address: string }[]).some(
        ({ address }) => !mails.some((mail) => mail.sent === id && mail.address === address),
      ),
    );
  });

/** Waits for mails that are left. */
const mailsOut = async (settings: Settings): Promise<void> => {
  const end = Date.now() + BY_THEMSELVES;
  while ((await lettersLeft(settings)) && Date.now() < end) await pause(500);
};

interface Round {
  readonly stage: Stage;
  readonly running: Running;
  readonly place: number;
}

/** One round: people write, something is killed, all of it comes back, and everything is looked for. */
const round = async (
  run: Run,
  { stage, running, place }: Round,
): Promise<{ readonly running: Running; readonly verdict: Verdict; readonly journal: readonly Entry[] }> => {
  const { settings } = stage;
  const work = load(running.url, stage, place);
  const mailing = place % 4 === 3;
  if (mailing && (await mailed(settings.folder))) await pause(run.random() * BETWEEN_MAILS);
  else await pause(run.random() * LONGEST);
  const database = run.server !== null && !mailing && run.random() < 0.5;
  let next = running;
  if (database && run.server !== null) {
    await killDatabase(run, run.server, settings);
    await work.stop();
    await settled(running, settings);
  } else {
    await running.kill();
    counted(run.kills, mailing ? "mailing" : "writing");
    await work.stop();
    next = await again(run, settings, run.random() < 0.25 ? "starting again" : null);
  }
  // In every other round mails that were cut off are left to go out by themselves; in the others whoever sent them presses again at once.
  if (place % 2 === 1) await mailsOut(settings);
  const found = await judged(settings, work.journal);
  const verdict = both(found, await sentAgain(settings, work.journal));
  return { running: next, verdict, journal: work.journal };
};

/** Runs so many rounds against one kind of database. */
export const crashed = async ({ engine, rounds, seed, tell }: Asked): Promise<Tally> => {
  const server = engine === "postgres" ? await startPostgres({ safe: true }) : null;
  const run: Run = { random: newRandom(seed), server, kills: new Map(), restarts: [] };
  let verdict = NOTHING_WRONG;
  const kept = new Map<string, number>();
  let cutOff = 0;
  let stage: Stage | null = null;
  let running: Running | null = null;
  let whole: Entry[] = [];
  const close = async (): Promise<void> => {
    if (stage === null || running === null) return;
    // What was kept in the first round must be there after the last one.
    verdict = both(verdict, { ...(await judged(stage.settings, whole)), refused: [] });
    await running.kill();
    rmSync(stage.settings.folder, { recursive: true, force: true });
    whole = [];
  };
  try {
    for (let count = 0; count < rounds; count += 1) {
      const place = count % LIFE;
      const began = Date.now();
      if (place === 0) {
        await close();
        if (count % (2 * LIFE) === 0) verdict = both(verdict, await firstStart(run));
        const settings = await settingsFor(run);
        mkdirSync(settings.folder, { recursive: true });
        stage = await staged(settings, Math.min(LIFE, rounds - count));
        running = start(settings);
        await running.ready();
      }
      if (stage === null || running === null) throw new Error("no office");
      const done = await round(run, { stage, running, place });
      running = done.running;
      verdict = both(verdict, done.verdict);
      for (const { write, outcome } of done.journal)
        if (outcome === "kept") kept.set(write.kind, (kept.get(write.kind) ?? 0) + 1);
        else if (outcome === "cut off") cutOff += 1;
      whole.push(...done.journal.filter(({ outcome }) => outcome === "kept"));
      tell?.(`round ${count + 1}: ${done.journal.length} writes, ${Date.now() - began} ms${wordsOf(done.verdict)}`);
    }
    await close();
  } finally {
    await running?.kill();
    if (stage !== null) rmSync(stage.settings.folder, { recursive: true, force: true });
    server?.stop();
  }
  return { verdict, kills: run.kills, kept, cutOff, restarts: run.restarts, rounds };
};

/** What is wrong, each on a line; nothing where nothing is. */
export const wordsOf = (verdict: Verdict): string =>
  Object.entries(verdict)
    .flatMap(([name, found]: readonly [string, readonly string[]]) => found.map((words) => `\n  ${name}: ${words}`))
    .join("");
