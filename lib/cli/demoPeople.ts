import type { Role } from "../access/roles.ts";

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
