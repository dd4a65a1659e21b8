import type { Absence } from "../store/people.ts";

/** Days of an absence as they are asked for. */
export type AbsenceAsked = Pick<Absence, "person" | "from" | "to" | "standsIn">;

type Days = Pick<Absence, "from" | "to">;

/** Whether somebody is away on a day. */
export const lastsOn = ({ from, to, over }: Days & Pick<Absence, "over">, day: string): boolean =>
  over === undefined && from <= day && day <= to;

/** Whether two times share a day. */
export const meet = (one: Days, other: Days): boolean => one.from <= other.to && other.from <= one.to;

/** What is wrong with an absence: the field, and words that follow its name. */
export interface AbsenceFault {
  readonly field: "from" | "to" | "standsIn";
  readonly says: string;
}

const daysOf = ({ from, to }: Days): string => `from ${from} to ${to}`;

/**
 * Why an absence cannot be told so; null where it can. Nobody stands in while he is away himself, in whichever order the two are told. `others` are the
 * absences that are not over; `nameOf` is null of whom nobody with an account is.
 */
export const againstAbsence = (
  asked: AbsenceAsked,
  {
    today,
    others,
    nameOf,
  }: { readonly today: string; readonly others: readonly Absence[]; readonly nameOf: (id: string) => string | null },
): AbsenceFault | null => {
  const meeting = others.filter((other) => other.over === undefined && meet(other, asked));
  const own = meeting.find(({ person }) => person === asked.person);
  const his = meeting.find(({ person }) => person === asked.standsIn);
  const needed = meeting.find(({ standsIn }) => standsIn === asked.person);
  if (asked.to < asked.from)
    return { field: "to", says: `Last day: given ${asked.to}; wanted the first day, ${asked.from}, or a later one` };
  if (asked.to < today) return { field: "to", says: `Last day: given ${asked.to}, which is past; wanted today, ${today}, or a later one` };
  if (asked.standsIn === asked.person) return { field: "standsIn", says: "Who stands in: given the same person; wanted somebody else" };
  const name = nameOf(asked.standsIn);
  if (name === null) return { field: "standsIn", says: "Who stands in: given nobody of the office; wanted one of the list" };
  if (his !== undefined)
    return {
      field: "standsIn",
      says: `Who stands in: given ${name}, who is away ${daysOf(his)}; wanted somebody who is there on all these days`,
    };
  if (own !== undefined)
    return {
      field: "from",
      says: `First day: an absence ${daysOf(own)} is told already; wanted days outside of it, or end that one first`,
    };
  if (needed !== undefined)
    return {
      field: "from",
      says: `First day: stands in for ${nameOf(needed.person) ?? "somebody"} ${daysOf(needed)}; wanted another one to stand in there first`,
    };
  return null;
};
