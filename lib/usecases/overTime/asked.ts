import type { PersonFault } from "../../access/people.ts";
import { monthsFrom } from "./figures.ts";

/** Over which time the figures are wanted, and of whose visits. */
export interface Period {
  /** Months, both included. */
  readonly from: string;
  readonly to: string;
  /** Empty for everybody. */
  readonly inspector: string;
}

const MONTH = /^\d{4}-(0[1-9]|1[0-2])$/;
/** Visits are settled before they begin, so the months ahead belong to it. */
const [USUAL, AHEAD] = [12, 2];
export const MOST_MONTHS = 36;

/** So many months before or after one. */
const monthsOn = (month: string, by: number): string => {
  const at = Number(month.slice(0, 4)) * 12 + Number(month.slice(5, 7)) - 1 + by;
  return `${String(Math.floor(at / 12)).padStart(4, "0")}-${String((at % 12) + 1).padStart(2, "0")}`;
};

const faultsOf = (from: string, to: string): readonly PersonFault[] => {
  const wrong = [
    ["from", "First month", from],
    ["to", "Last month", to],
  ].flatMap(([field = "", label = "", given = ""]) =>
    MONTH.test(given) ? [] : [{ field, says: `${label}: given “${given}”; wanted a month such as 2026-11` }],
  );
  if (wrong.length > 0) return wrong;
  if (to < from) return [{ field: "to", says: `Last month: given ${to}; wanted ${from} or a later one` }];
  return monthsFrom(from, to).length > MOST_MONTHS
    ? [
        {
          field: "from",
          says: `First month: given ${from}, more than ${MOST_MONTHS} months before ${to}; wanted ${monthsOn(to, 1 - MOST_MONTHS)} or a later one`,
        },
      ]
    : [];
};

/** What an address asks for: twelve months, two of them ahead, where it tells nothing, or nothing that can be. Pure. */
export const periodOf = (
  query: Readonly<Record<string, string | undefined>>,
  today: string,
): { readonly period: Period; readonly typed: Period; readonly faults: readonly PersonFault[] } => {
  const last = monthsOn(today.slice(0, 7), AHEAD);
  const usual = { from: monthsOn(last, 1 - USUAL), to: last, inspector: query["inspector"] ?? "" };
  const typed = {
    ...usual,
    from: (query["from"] ?? usual.from).trim().slice(0, 40),
    to: (query["to"] ?? usual.to).trim().slice(0, 40),
  };
  const faults = faultsOf(typed.from, typed.to);
  return { period: faults.length === 0 ? typed : usual, typed, faults };
};

/** A period as the query of an address, with more. */
export const periodQuery = ({ from, to, inspector }: Period, more: Readonly<Record<string, string>> = {}): string =>
  new URLSearchParams({ from, to, ...(inspector === "" ? {} : { inspector }), ...more }).toString();
