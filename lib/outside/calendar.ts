import ical, { ICalEventBusyStatus, type ICalEventData, ICalEventStatus, ICalEventTransparency } from "ical-generator";
import * as z from "zod";
import { failure, type Result, success } from "../kernel/result.ts";
import { type Fault, pointer, quoted, valueAt } from "../model/fault.ts";
import type { Plan } from "../plan/schema.ts";
import { type Ended, type Entry, entriesOf } from "./entries.ts";

const markSchema = z.strictObject({
  uidStem: z.string().regex(/^[\w.+@-]{1,150}$/, { error: "up to 150 letters, digits and . _ + @ -" }),
  sequence: z.int({ error: "a whole number from 0 on" }).min(0, { error: "a whole number from 0 on" }),
  stamp: z.iso.datetime({ error: "a UTC instant like 2026-03-02T09:30:00.000Z" }),
});

/** What a calendar file is made from. The same input gives the same bytes, whatever the clock and the time zone of the machine. */
export interface CalendarInput {
  readonly plan: Plan;
  /** The plans of the letters before, first one first: what they put into calendars and this one does not is called off. */
  readonly earlier: readonly Plan[];
  /** References of requests that need no answer any more. */
  readonly done: ReadonlySet<string>;
  /** Where the exchange has ended: how. Then only the visit itself is left, called off where no test is done on it. */
  readonly ended: Ended | null;
  /** The same for all letters of one visit and for no other visit: with it an event is known again. */
  readonly uidStem: string;
  /** Higher with each letter, so that a calendar takes the later event for the earlier one. */
  readonly sequence: number;
  /** When the file was made: a UTC instant in ISO 8601. */
  readonly stamp: string;
}

const DAY = 86_400_000;

/** RFC 5545 knows line breaks in a text and no other control character. */
const printable = (text: string): string => text.replaceAll(/\r\n?/g, "\n").replaceAll(/(?!\n)\p{Cc}/gu, " ");

const eventOf = ({ id, from, to, summary, location, description, busy }: Entry, input: CalendarInput, off: boolean): ICalEventData => ({
  id: `${id}.${input.uidStem}`,
  sequence: input.sequence,
  stamp: new Date(input.stamp),
  allDay: true,
  // Midnight UTC stands for the plain day: the library writes the day of UTC where no time zone is given. The end is the day after the last.
  start: new Date(from),
  end: new Date(Date.parse(to) + DAY),
  summary: printable(summary),
  ...(location === "" ? {} : { location: printable(location) }),
  description: printable(description),
  busystatus: busy && !off ? ICalEventBusyStatus.BUSY : ICalEventBusyStatus.FREE,
  transparency: busy && !off ? ICalEventTransparency.OPAQUE : ICalEventTransparency.TRANSPARENT,
  status: off ? ICalEventStatus.CANCELLED : ICalEventStatus.CONFIRMED,
});

/** What earlier letters put into calendars and is no longer there, each as it stood last. */
const calledOff = (input: CalendarInput, now: readonly Entry[]): readonly Entry[] => {
  const gone = new Map(input.earlier.flatMap((plan) => entriesOf(plan, new Set(), null)).map((entry) => [entry.id, entry]));
  for (const { id } of now) gone.delete(id);
  return [...gone.values()];
};

/**
 * A calendar file by RFC 5545: an all-day event for the visit, one for the day to reply by, with the questions and requests of that day, and
 * one for each further day with the requests to confirm or to have ready by then. An event keeps its UID through the letters of a visit; one that a later
 * letter no longer has is called off. Days are plain days, the same in every time zone. Faults: a stem, sequence or stamp that cannot stand
 * in such a file.
 */
export const calendarOf = (input: CalendarInput): Result<string, Fault> => {
  const { uidStem, sequence, stamp } = input;
  const read = markSchema.safeParse({ uidStem, sequence, stamp });
  if (!read.success) {
    const faults = read.error.issues.map(({ path, message }): Fault => {
      const at = pointer(path);
      return { at, given: quoted(valueAt(input, at)), wanted: message };
    });
    return failure(...faults);
  }
  const now = entriesOf(input.plan, input.done, input.ended);
  const calendar = ical({ prodId: { company: "Forehail", product: "Forehail", language: "EN" } });
  for (const entry of now) calendar.createEvent(eventOf(entry, input, entry.off));
  for (const entry of calledOff(input, now)) calendar.createEvent(eventOf(entry, input, true));
  // The library leaves the last line open; RFC 5545 wants every line ended.
  return success(`${calendar.toString()}\r\n`);
};
