import type { Visit } from "../model/visit.ts";
import { listAnd } from "../plan/say.ts";

/** A person's name with the role behind it, unless the name says the role. */
const called = (name: string, role: string): string => (name.toLowerCase().endsWith(role.toLowerCase()) ? name : `${name}, ${role}`);

/** Who may agree for a side, by name and role; where nobody is named, by office. */
export const peopleOn = (visit: Visit, side: "office" | "vessel"): string => {
  const people = visit.visit.people
    .filter((person) => person.side === side)
    .map(({ name, role }) => called(name, role).replace(/^The /, "the "));
  return people.length === 0
    ? side === "office"
      ? "the inspector"
      : "the superintendent or the chief engineer"
    : listAnd(people.map((person) => person.replace(/, ([^,]*)$/, " ($1)")));
};

/** Who signs for the office. */
export const signer = (visit: Visit): string => {
  const own = visit.visit.people.find(({ side }) => side === "office");
  return own === undefined ? "The inspector" : called(own.name, own.role);
};

/** To whom a letter goes: owner, people, vessel. */
export const recipients = (visit: Visit): readonly string[] => {
  const { vessel, people } = visit.visit;
  return [
    ...(vessel.owner === undefined ? [] : [vessel.owner]),
    ...people.filter(({ side }) => side === "vessel").map(({ name, role }) => called(name, role)),
    `${vessel.name}${vessel.imo === undefined ? "" : ` (IMO number ${vessel.imo})`}`,
  ];
};
