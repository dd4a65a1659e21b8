import { failure, type Result } from "../../kernel/result.ts";
import type { PastVisit } from "../../store/privacy/visits.ts";
import type { Act } from "../../store/store.ts";
import type { Office } from "../office.ts";

/** How many years a visit is kept before it is offered for removal: common practice, the office may choose another number. */
export const YEARS = 5;
const MOST_YEARS = 50;

/** The number of years that a form or an address asks for; the usual one where it asks for none that can be. */
export const yearsOf = (given: string): number => {
  const years = /^\d{1,2}$/.test(given.trim()) ? Number(given) : YEARS;
  return years >= 1 && years <= MOST_YEARS ? years : YEARS;
};

/** The day so many years before a day: visits whose last day is before it are past that long. 29 February counts as the 28th. */
export const yearsBefore = (day: string, years: number): string => {
  const year = String(Number(day.slice(0, 4)) - years).padStart(4, "0");
  return `${year}${day.slice(4) === "-02-29" ? "-02-28" : day.slice(4)}`;
};

export const visitsPast = ({ privacy, world }: Pick<Office, "privacy" | "world">, years: number): Promise<readonly PastVisit[]> =>
  privacy.pastVisits(yearsBefore(world.now().slice(0, 10), years));

/** Removes visits that were ticked, once that was confirmed. Faults name the field of the form. */
export const removePast = async (
  { privacy, world }: Pick<Office, "privacy" | "world">,
  { visits, years, confirmed }: { readonly visits: readonly string[]; readonly years: number; readonly confirmed: boolean },
  by: Act,
): Promise<Result<number, { readonly field: string; readonly says: string }>> => {
  if (visits.length === 0) return failure({ field: "visits", says: "Visits: given none; wanted at least one ticked" });
  if (!confirmed) return failure({ field: "sure", says: "What is removed cannot be brought back: given no tick; wanted one, to go on" });
  const removed = await privacy.removeVisits(visits, yearsBefore(world.now().slice(0, 10), years), by);
  return removed.ok ? removed : failure({ field: "visits", says: removed.faults.join("; ") });
};
