import { CONSOLE } from "../../lib/access/invitation.ts";
import { keepFinishing } from "../../lib/usecases/exchange/finish.ts";
import { type Office, openOffice } from "../../lib/usecases/office.ts";
import { keepTidy } from "../../lib/usecases/privacy/housekeeping.ts";

/** Pages and handlers are bundled apart from each other; the office they share hangs on the process. */
const shared = globalThis as typeof globalThis & { forehailOffice?: Promise<Office> };

const opened = async (): Promise<Office> => {
  const office = await openOffice(process.env);
  if (!office.ok) throw new Error(office.faults.join("; "));
  return office.value;
};

/** The office of this server. */
export const theOffice = (): Promise<Office> => {
  shared.forehailOffice ??= opened();
  return shared.forehailOffice;
};

/** Says in plain words why the office cannot be opened, and ends: a server without one would answer nothing. */
const giveUp = (error: unknown): never => {
  process.stderr.write(`\nThe office cannot be opened. ${error instanceof Error ? error.message : "The reason is not known."}\n\n`);
  process.exit(1);
};

/** Opens the office and, where nobody has an account yet, prints the code with which the first supervisor makes his. */
export const startOffice = async (): Promise<void> => {
  const office = await theOffice().catch(giveUp);
  const { accounts, clock, url } = office;
  office.goesOn(keepTidy(office));
  office.goesOn(keepFinishing(office));
  if (!(await accounts.isEmpty())) return;
  const code = await accounts.invite("supervisor", CONSOLE, clock());
  process.stdout.write(
    `\nThis office is empty. Open ${url}/set-up and give this code, which is good once, to make the first supervisor's account:\n\n  ${code}\n\n`,
  );
};
