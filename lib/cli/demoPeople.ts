import { CONSOLE } from "../access/invitation.ts";
import type { Role } from "../access/roles.ts";
import type { Office } from "../usecases/office.ts";

interface DemoPerson {
  readonly name: string;
  readonly email: string;
  readonly role: Role;
}

/** Invented people; their passwords are printed and good for nothing but the demo. */
export const DEMO_PASSWORD = "four quiet lanterns";
export const DEMO_PEOPLE: readonly DemoPerson[] = [
  { name: "Mara Tellingen", email: "mara@office.example", role: "inspector" },
  { name: "Odo Varnhem", email: "odo@office.example", role: "supervisor" },
  { name: "Ilse Brakmar", email: "ilse@office.example", role: "inspector" },
];

/** Gives the demo people their accounts; their ids by the first part of their addresses. */
export const makeDemoPeople = async ({ accounts, clock }: Pick<Office, "accounts" | "clock">): Promise<ReadonlyMap<string, string>> => {
  const made = new Map<string, string>();
  for (const { role, ...who } of DEMO_PEOPLE) {
    const code = await accounts.invite(role, CONSOLE, clock());
    const person = await accounts.takeUp(code, { ...who, password: DEMO_PASSWORD }, clock());
    if (!person.ok) throw new Error(person.faults.join("; "));
    made.set(who.email.split("@")[0] ?? "", person.value.id);
  }
  return made;
};
