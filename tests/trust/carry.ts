import { mkdirSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import type { Counted } from "../../lib/store/copy/digest.ts";
import { openStore } from "../../lib/store/open.ts";
import { backUp } from "../../lib/usecases/copy/backup.ts";
import { move } from "../../lib/usecases/copy/move.ts";
import { restore } from "../../lib/usecases/copy/restore.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { scratch, visit } from "../cli/cli.ts";
import { livelyOffice, placesIn } from "../store/lively.ts";
import { startPostgres } from "../store/postgres.ts";

/** Carries an office of some hundred visits, with letters, a reply and a file of megabytes, from place to place, and tells rows, digests and times. */

const COPIES = 30;

const totalOf = (counts: readonly Counted[]): number => counts.reduce((sum, { rows }) => sum + rows, 0);

/** The tables that are otherwise at the two ends. */
const otherwise = (from: readonly Counted[], to: readonly Counted[]): readonly string[] =>
  from.flatMap(({ table, rows, digest }) => {
    const there = to.find((one) => one.table === table);
    return there?.rows === rows && there.digest === digest ? [] : [table];
  });

let wrong = 0;
const told = (name: string, from: readonly Counted[], to: readonly Counted[], took: number): void => {
  const other = otherwise(from, to);
  wrong += other.length;
  const says = other.length === 0 ? "digests of all tables alike" : `otherwise: ${other.join(", ")}`;
  process.stdout.write(`${name}: ${totalOf(to)} rows, ${says}, ${(took / 1000).toFixed(1)} s\n`);
};

const gotten = <Of>(done: { readonly ok: true; readonly value: Of } | { readonly ok: false; readonly faults: readonly unknown[] }): Of => {
  if (!done.ok) throw new Error(JSON.stringify(done.faults));
  return done.value;
};

const data = scratch();
const { db, outbox } = placesIn(data);
await livelyOffice(db, outbox);
const store = gotten(await openStore(db));
const office = { store, planner: newPlanner(rulebook), world: { now: () => new Date().toISOString(), newId: () => crypto.randomUUID() } };
for (const file of readdirSync("fixtures/visits")) {
  const text = readFileSync(visit(file.replace(/\.json$/, "")), "utf8");
  for (let count = 0; count < COPIES; count += 1) gotten(await importVisit(office, text, "mara"));
}
await store.close();

const backups = join(data, "backups");
mkdirSync(backups);
let since = Date.now();
const backup = gotten(await backUp({ address: db, outbox, folder: backups, now: new Date().toISOString() }));
process.stdout.write(`office: ${totalOf(backup.counts)} rows in ${backup.counts.length} tables, ${(backup.bytes / 1e6).toFixed(1)} MB\n`);

const written = Date.now() - since;
const server = await startPostgres();
const away = server.fresh();
since = Date.now();
const moved = gotten(await move({ from: db, to: away }));
// The backup is measured against what the move read of the office itself.
told("backup", moved.from, backup.counts, written);
told("moved", moved.from, moved.to, Date.now() - since);
since = Date.now();
const restored = gotten(await restore({ file: backup.file, to: join(scratch(), "office.db"), outbox: scratch() }));
told("restored", moved.from, restored.counts, Date.now() - since);
since = Date.now();
const back = gotten(await move({ from: away, to: join(scratch(), "office.db") }));
told("moved back", moved.from, back.to, Date.now() - since);
server.stop();
process.exit(wrong === 0 ? 0 : 1);
