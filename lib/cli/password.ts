import { CONSOLE, linkIdOf, linkName } from "../access/invitation.ts";
import { passwordLinkIn } from "../access/invitations.ts";
import { peopleIn } from "../access/people.ts";
import { quoted } from "../model/fault.ts";
import { printable } from "../model/text.ts";
import { openDatabase } from "../store/database.ts";
import { storeOn } from "../store/open.ts";
import { officeIsAt } from "../usecases/copy/source.ts";
import { faultIn, urlOf } from "../usecases/settings.ts";
import { asksHelp, given } from "./copyArgs.ts";
import { ALL_DONE, BAD_INPUT, PROGRAM_FAILED } from "./exitCodes.ts";
import { env, office } from "./officeHere.ts";

/** Prints a link by which somebody of the office sets another password: for whoever runs the program, where no supervisor can sign in to make one. */

const USE = "use: npm run -s password -- ADDRESS";

const say = (lines: readonly string[], code: number): number => {
  process.stderr.write(`${lines.join("\n")}\n`);
  return code;
};

const linkFor = async (email: string): Promise<number> => {
  const open = await openDatabase(office);
  if (!open.ok) return say(open.faults, PROGRAM_FAILED);
  const { db } = open.value;
  try {
    const member = (await peopleIn(db).people()).find((one) => one.email === email.toLowerCase());
    if (member === undefined)
      return say([`ADDRESS: given ${quoted(email)}; wanted the e-mail address of somebody who has an account here`], BAD_INPUT);
    if (member.ended !== undefined)
      return say(
        [`ADDRESS: given ${quoted(email)}, whose account has ended; wanted one that has not, or a supervisor to open it again`],
        BAD_INPUT,
      );
    const now = Date.now();
    const code = await passwordLinkIn(db, member, CONSOLE, now);
    const about = { subject: member.id, detail: linkName(linkIdOf(code)) };
    await storeOn(db).audit({ who: CONSOLE, when: new Date(now).toISOString(), act: "password link made", ...about });
    const url = urlOf({ PORT: "3000", ...env });
    process.stdout.write(
      `Pass this link on to ${printable(member.name)} alone. It sets another password once, within a day; one made before opens nothing any more:\n\n  ${url}/join?code=${code}\n\n`,
    );
    return ALL_DONE;
  } finally {
    await db.destroy();
  }
};

const run = async (args: readonly string[]): Promise<number> => {
  if (asksHelp(args)) {
    process.stdout.write(`${USE}\n`);
    return ALL_DONE;
  }
  const read = given(args, 1);
  if (!read.ok) return say([...read.faults, USE], BAD_INPUT);
  const [email] = read.value.positionals;
  if (email === undefined) return say(["ADDRESS: given nothing; wanted the e-mail address of an account", USE], BAD_INPUT);
  const wrong = (["DATABASE_URL", "FOREHAIL_URL", "PORT"] as const).flatMap((name) => faultIn(env, name) ?? []);
  if (wrong.length > 0) return say(wrong, BAD_INPUT);
  const there = officeIsAt(office);
  return there.ok
    ? linkFor(email.trim())
    : say(
        there.faults.map(({ says }) => says),
        BAD_INPUT,
      );
};

run(process.argv.slice(3)).then(
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    process.exitCode = say([`the program failed: ${error instanceof Error ? error.message : "unknown reason"}`], PROGRAM_FAILED);
  },
);
