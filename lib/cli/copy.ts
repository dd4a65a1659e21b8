import { basename, dirname, join, resolve } from "node:path";
import { failure, type Result, success } from "../kernel/result.ts";
import { isPostgres } from "../store/copy/carry.ts";
import { removeAllUnfinished } from "../store/copy/files.ts";
import { markAt } from "../store/moved.ts";
import { backUp } from "../usecases/copy/backup.ts";
import { move } from "../usecases/copy/move.ts";
import { type CopyFault, shown } from "../usecases/copy/outcome.ts";
import { restore } from "../usecases/copy/restore.ts";
import { officeIsAt } from "../usecases/copy/source.ts";
import { faultIn } from "../usecases/settings.ts";
import { asksHelp, given, keepOf } from "./copyArgs.ts";
import { bothTable, countsTable, durationOf, sizeOf } from "./copyWords.ts";
import { BAD_INPUT, ALL_DONE as DONE, PROGRAM_FAILED } from "./exitCodes.ts";
import { writableFolder } from "./files.ts";
import { data, env, office, outbox } from "./officeHere.ts";

const USES = {
  backup: "use: npm run -s backup -- [FOLDER] [--keep N]",
  restore: "use: npm run -s restore -- FILE [--to postgres://…|FOLDER/office.db]",
  move: "use: npm run -s move -- --to postgres://…|FOLDER/office.db",
} as const;

const print = (text: string): Promise<void> => new Promise((done) => process.stdout.write(text, () => done()));

const bad = (...lines: readonly string[]): number => {
  process.stderr.write(`${lines.join("\n")}\n`);
  return BAD_INPUT;
};

const told = (faults: readonly CopyFault[]): number => {
  process.stderr.write(`${faults.map(({ says }) => says).join("\n")}\n`);
  return faults.some((fault) => !fault.bad) ? PROGRAM_FAILED : BAD_INPUT;
};

const OFFICE = "office.db";

/**
 * Where an office shall be, as it was given: a server's address, or a file of the one name that the program opens. What is neither is never shown: it may
 * hold a password.
 */
const placeOf = (given: string): Result<string> => {
  if (isPostgres(given)) return success(given);
  const [, scheme] = /^([A-Za-z][\w+.-]*:)\/\//.exec(given) ?? [];
  if (scheme !== undefined) return failure(`--to: given an address that begins with ${scheme}//; wanted postgres://… or FOLDER/${OFFICE}`);
  if (given.includes("@")) return failure(`--to: given ${given.length} characters, not shown; wanted postgres://… or FOLDER/${OFFICE}`);
  if (basename(given) === OFFICE) return success(resolve(given));
  return failure(`--to: given ${given}; wanted postgres://… or a path that ends in ${OFFICE}, since the program opens no other name`);
};

const KEY = "The key FOREHAIL_SECRET is not in it: keep a copy of that elsewhere.";
const mailsSay = (mails: number): string => `${mails} ${mails === 1 ? "mail" : "mails"} of the outbox`;

const backupCommand = async (args: readonly string[], start: number): Promise<number> => {
  const read = given(args, 1, "keep");
  if (!read.ok) return bad(...read.faults, USES.backup);
  const keep = keepOf(read.value.options["keep"]);
  if (!keep.ok) return bad(...keep.faults, USES.backup);
  // Before a folder is made where none was meant.
  const there = officeIsAt(office);
  if (!there.ok) return told(there.faults);
  const folder = await writableFolder(resolve(read.value.positionals[0] ?? join(data, "backups")), "a folder for backups");
  if (!folder.ok) return bad(...folder.faults.map((fault) => `FOLDER: given ${fault.given}; wanted ${fault.wanted}`));
  const kept = keep.value === undefined ? {} : { keep: keep.value };
  const done = await backUp({ address: office, outbox, folder: folder.value, now: new Date(start).toISOString(), ...kept });
  if (!done.ok) return told(done.faults);
  const { file, bytes, counts, mails, removed } = done.value;
  const gone = removed.length === 0 ? "" : `Deleted: ${removed.join(", ")}\n`;
  await print(
    `${countsTable(counts)}\n${file}\n${sizeOf(bytes)}, with ${mailsSay(mails)}, written and read again in ${durationOf(Date.now() - start)}. ${KEY}\n${gone}`,
  );
  return DONE;
};

const restoreCommand = async (args: readonly string[], start: number): Promise<number> => {
  const read = given(args, 1, "to");
  if (!read.ok) return bad(...read.faults, USES.restore);
  const [file] = read.value.positionals;
  if (file === undefined) return bad("FILE: given nothing; wanted a backup", USES.restore);
  const wanted = read.value.options["to"];
  const place = wanted === undefined ? success(office) : placeOf(wanted);
  if (!place.ok) return bad(...place.faults, USES.restore);
  const to = place.value;
  // On a server that is not this office's own a backup is only tried: its mails must not lie where this office's are sent on.
  const mailsTo = isPostgres(to) ? (to === office ? outbox : null) : join(dirname(to), "outbox");
  const done = await restore({ file: resolve(file), to, outbox: mailsTo });
  if (!done.ok) return told(done.faults);
  const { counts, mails, toCome } = done.value;
  const renewed =
    toCome.length === 0
      ? ""
      : `It is an older office: ${toCome.join(", ")} ${isPostgres(to) ? "were done on the way" : "are done at its next start"}.\n`;
  await print(
    `${countsTable(counts)}\n${shown(to)}\nrestored ${mailsTo === null ? "without the mails of the outbox, since it is not DATABASE_URL," : `with ${mailsSay(mails)}`} and proven in ${durationOf(Date.now() - start)}. It is as it was when the backup was made: links that were used or withdrawn since then open again, accounts that ended since then have not, and passwords are those of then; look through People, and renew or withdraw open links. Start it${isPostgres(to) ? "" : ` with FOREHAIL_DATA=${dirname(to)} and`} with the FOREHAIL_SECRET that it had: with another, everybody signs in anew and open pages must be loaded anew.\n${renewed}`,
  );
  return DONE;
};

const moveCommand = async (args: readonly string[], start: number): Promise<number> => {
  const read = given(args, 0, "to");
  if (!read.ok) return bad(...read.faults, USES.move);
  const wanted = read.value.options["to"];
  if (wanted === undefined) return bad("--to: given nothing; wanted where the office shall be", USES.move);
  const place = placeOf(wanted);
  if (!place.ok) return bad(...place.faults, USES.move);
  const to = place.value;
  const done = await move({ from: office, to });
  if (!done.ok) return told(done.faults);
  const next = isPostgres(to)
    ? "Start the server with this address as DATABASE_URL, and give it to nightly backups too. The outbox stays in FOREHAIL_DATA."
    : `Start the server with FOREHAIL_DATA=${dirname(to)}, give it to nightly backups too, and lay the outbox beside it.`;
  const old = isPostgres(office)
    ? ""
    : done.value.unmarked === null
      ? ` ${markAt(office)} keeps anybody from going on with the old office by mistake; delete it to do so.`
      : ` The old office could not be marked as moved, so see that nobody goes on with it: ${done.value.unmarked}.`;
  await print(
    `${bothTable(done.value.from, done.value.to)}\n${shown(office)} → ${shown(to)}\nmoved and proven in ${durationOf(Date.now() - start)}: nothing was left behind, and the old office is as it was. ${next}${old}\n`,
  );
  return DONE;
};

const COMMANDS = { backup: backupCommand, restore: restoreCommand, move: moveCommand } as const;

const SIGNALS = { SIGINT: 130, SIGTERM: 143 } as const;
for (const [signal, code] of Object.entries(SIGNALS)) process.once(signal, () => process.exit(code));
process.on("exit", removeAllUnfinished);
// A reader that closes the pipe early (head) is no failure of ours.
process.stdout.on("error", () => process.exit(DONE));

const run = async (): Promise<number> => {
  const command = process.argv[2] as keyof typeof COMMANDS;
  if (asksHelp(process.argv.slice(3))) {
    await print(`${USES[command]}\n`);
    return DONE;
  }
  const wrong = faultIn(env, "DATABASE_URL");
  return wrong === null ? COMMANDS[command](process.argv.slice(3), Date.now()) : bad(wrong);
};

run().then(
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    process.stderr.write(`the program failed: ${error instanceof Error ? error.message : "unknown reason"}\n`);
    process.exitCode = PROGRAM_FAILED;
  },
);
