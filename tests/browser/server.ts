import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { createServer } from "node:net";
import { join } from "node:path";
import { aheadOf } from "../../lib/cli/demoDays.ts";
import { makeDemoPeople } from "../../lib/cli/demoPeople.ts";
import { success } from "../../lib/kernel/result.ts";
import type { SentLetter } from "../../lib/store/exchanges.ts";
import { sendLetter } from "../../lib/usecases/exchange/send.ts";
import { keepStandingOf } from "../../lib/usecases/exchange/standing.ts";
import { type Office, openOffice } from "../../lib/usecases/office.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { ROOT, scratch, visit } from "../cli/cli.ts";

/** An office of its own as people meet it: the production build on a port of its own, its data in a folder of its own. */
export interface Served {
  readonly url: string;
  /** Where its data lies. */
  readonly folder: string;
  /** The same office from inside, for what no page shows. */
  readonly office: Office;
  readonly people: Readonly<Record<"mara" | "odo" | "ilse", string>>;
  /** What the server printed. */
  readonly printed: () => string;
  readonly stop: () => Promise<void>;
}

const BUNDLES = join(ROOT, "node_modules/.cache/forehail");

const freePort = (): Promise<number> =>
  new Promise((done, fail) => {
    const server = createServer();
    server.on("error", fail);
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      const port = typeof address === "object" && address !== null ? address.port : 0;
      server.close(() => done(port));
    });
  });

const until = async (ready: () => Promise<boolean>, what: string): Promise<void> => {
  const end = Date.now() + 60_000;
  while (Date.now() < end) {
    if (await ready()) return;
    await new Promise((again) => setTimeout(again, 100));
  }
  throw new Error(`${what} did not come up within a minute`);
};

const answers = async (url: string): Promise<boolean> => {
  try {
    return (await fetch(url)).status === 200;
  } catch {
    return false;
  }
};

const ended = (child: ChildProcess): Promise<void> =>
  new Promise((done) => {
    if (child.exitCode !== null) done();
    child.on("exit", () => done());
    child.kill("SIGTERM");
  });

/** Starts an office; with people unless it shall be empty. Needs the pages built (`npm run build`). */
export const serve = async ({ empty = false }: { readonly empty?: boolean } = {}): Promise<Served> => {
  if (!existsSync(join(ROOT, ".next/BUILD_ID"))) throw new Error("the pages are not built: run `npm run build` first");
  const [port, folder] = [await freePort(), scratch()];
  const url = `http://localhost:${port}`;
  const env = { FOREHAIL_DATA: folder, FOREHAIL_BUNDLES: BUNDLES, PORT: String(port) };
  const opened = await openOffice(env);
  if (!opened.ok) throw new Error(opened.faults.join());
  const office = opened.value;
  const ids = empty ? new Map<string, string>() : await makeDemoPeople(office);
  let text = "";
  const child = spawn(process.execPath, [join(BUNDLES, "pages.mjs")], {
    cwd: ROOT,
    env: { ...process.env, ...env, NODE_ENV: "production", NEXT_TELEMETRY_DISABLED: "1" },
  });
  for (const stream of [child.stdout, child.stderr])
    stream.on("data", (chunk: Buffer) => {
      text += chunk.toString("utf8");
    });
  await until(() => answers(`${url}/${empty ? "set-up" : "sign-in"}`), "the server");
  return {
    url,
    folder,
    office,
    people: { mara: ids.get("mara") ?? "", odo: ids.get("odo") ?? "", ilse: ids.get("ilse") ?? "" },
    printed: () => text,
    stop: async () => {
      await ended(child);
      await office.letters.close();
      await office.store.close();
    },
  };
};

const kept = async ({ office }: Served, text: string, owner: string): Promise<string> => {
  const id = await importVisit({ store: office.store, world: office.world, planner: office.planner }, text, owner);
  if (!id.ok) throw new Error(JSON.stringify(id.faults));
  return id.value;
};

/** Loads a demo visit for a person; its id. */
export const loaded = (served: Served, name: string, owner: string): Promise<string> =>
  kept(served, readFileSync(visit(name), "utf8"), owner);

const DAY = 24 * 60 * 60_000;

/** Mara's visit of these days to come, as the demo visit has them: planned from today, or so many days before. */
export const loadedAhead = (served: Served, name: string, before = 0): Promise<string> =>
  kept(
    served,
    aheadOf(readFileSync(visit(name), "utf8"), new Date(Date.now() - before * DAY).toISOString().slice(0, 10)),
    served.people.mara,
  );

/** Sends the letter of a visit from inside, on a paper of a few bytes: for pages that show what was sent. */
export const sentFrom = async ({ office, people }: Served, visitId: string): Promise<SentLetter> => {
  const stored = await office.store.visit(visitId);
  if (stored === null) throw new Error("no visit");
  const to = [
    { name: "J. Tarrow", address: "tarrow@owner.example" },
    { name: "The chief engineer", address: "chief@ship.example" },
  ];
  const render = () => Promise.resolve(success(Uint8Array.from([37, 80, 68, 70])));
  const by = { who: people.mara, when: office.world.now() };
  const sent = await sendLetter({ ...office, render }, stored, { to, units: "metric", from: "mara@office.example" }, by);
  if (!sent.ok) throw new Error(sent.faults.join("; "));
  await keepStandingOf(office.store, office.planner, visitId);
  return sent.value.letter;
};

/** Sends the first letter of a visit, to nobody, and has a photograph come with its reply; the ids of both. */
export const answeredWithFile = async (
  { office, people }: Served,
  visit: string,
): Promise<{ readonly sent: string; readonly file: string }> => {
  const { store, world } = office;
  const [sent, made, file] = [world.newId(), world.newId(), world.newId()];
  const by = { who: people.mara, when: world.now() };
  const stored = await store.visit(visit);
  if (stored === null) throw new Error("no such visit");
  const outcome = await store.keepSent({
    sent: { id: sent, visit, kind: "letter", number: 1, made, mark: sent, replyBy: "2026-03-09", to: [], asked: {}, ...by },
    made: { id: made, visit, version: stored.version, rulebook: "-", file: "{}", plan: "{}", pdf: Uint8Array.of(37), ...by },
    links: [],
    frame: { vessel: "Sundalis Reach", frame: stored.frame, sets: stored.sets },
    seen: stored.version,
  });
  if (!outcome.ok) throw new Error(outcome.faults.join());
  const told = { what: "photograph", name: "<b>.jpg", type: "image/jpeg", size: 3, digest: "-" };
  await store.keepAttachment({ id: file, sent, ...told, ...by }, Uint8Array.of(255, 216, 255), 10);
  return { sent, file };
};
