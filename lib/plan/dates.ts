import { addWorkingDays, compareDates } from "../figures/workingDays.ts";
import type { Visit } from "../model/visit.ts";
import type { Lead } from "../rulebook/types.ts";

/** The dates of a visit, worked out from its own "today" and the office's working days. */
export interface Dates {
  readonly replyBy: string;
  /** The last day on which something of this lead time must be settled. */
  readonly settleBy: (lead: Lead) => string;
  readonly inTime: (lead: Lead) => boolean;
}

const earlier = (a: string, b: string): string => (compareDates(a, b) <= 0 ? a : b);
const later = (a: string, b: string): string => (compareDates(a, b) >= 0 ? a : b);

export const datesOf = ({ preparedOn, visit, policy }: Visit): Dates => {
  const calendar = { workingDays: policy.workingDays, holidays: policy.holidays };
  const move = (date: string, days: number): string => {
    const moved = addWorkingDays(date, days, calendar);
    return moved.ok ? moved.value : date;
  };
  const lastDayBefore = later(preparedOn, move(visit.window.from, -1));
  const replyBy = earlier(move(preparedOn, policy.replyWithin), lastDayBefore);
  const leadDays = (lead: Lead): number => (lead === "reply" ? 0 : policy.leadTimes[lead] + policy.margin);
  const latest = (lead: Lead): string => move(visit.window.from, -leadDays(lead));
  const inTime = (lead: Lead): boolean => lead === "reply" || compareDates(latest(lead), preparedOn) >= 0;
  const settleBy = (lead: Lead): string => (lead === "reply" || !inTime(lead) ? replyBy : later(preparedOn, latest(lead)));
  return { replyBy, settleBy, inTime };
};
