import * as z from "zod";
import { plainDate, text } from "./text.ts";

const CLOCK = /^([01]\d|2[0-3]):[0-5]\d$/;

/** Minutes from midnight of "08:30". */
export const clockMinutes = (clock: string): number => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));

const clock = z
  .string()
  .regex(CLOCK, { error: "wanted a time of day from 00:00 to 23:59, such as 08:30" })
  .describe("time of day aboard, HH:MM");

/** A day and a time of it as the ship's clock shows it: "2026-03-24T13:00". */
const moment = z
  .string()
  .refine((given) => plainDate.safeParse(given.slice(0, 10)).success && given.slice(10, 11) === "T" && CLOCK.test(given.slice(11)), {
    error: "wanted a day and a time of the ship's clock, such as 2026-03-24T13:00",
  })
  .describe("day and time aboard, YYYY-MM-DDTHH:MM");

const span = z
  .strictObject({ from: clock, to: clock })
  .refine(({ from, to }) => clockMinutes(from) < clockMinutes(to), { error: "wanted an end that is later than the beginning" });

type ClockSpan = z.infer<typeof span>;

/** Whether a span of a day lies wholly outside another. */
export const isOutside = (one: ClockSpan, other: ClockSpan): boolean =>
  clockMinutes(one.to) <= clockMinutes(other.from) || clockMinutes(one.from) >= clockMinutes(other.to);

/** At least ten hours of rest in any 24 (STCW A-VIII/1, MLC 2006 standard A2.3; from memory): no day of work is longer than the other fourteen. */
export const LONGEST_DAY_HOURS = 14;

export const PIN_KINDS = ["begins at", "not before", "done by"] as const;

const task = text(60).describe('a task of the day: "T3" for a test, else its name in the day, such as "brief"');

/** How the day of a visit is arranged. Everything has a default that is common practice without a source, for the office to change. */
export const daySettingsSchema = z
  .strictObject({
    hours: span
      .refine(({ from, to }) => clockMinutes(to) - clockMinutes(from) <= LONGEST_DAY_HOURS * 60, {
        error: `wanted at most ${LONGEST_DAY_HOURS} hours between beginning and end, for the hours of rest`,
      })
      .prefault({ from: "08:00", to: "18:00" })
      .describe("hours of a day in which tests may be done"),
    pause: span.nullable().prefault({ from: "12:00", to: "13:00" }).describe("when nothing is done; null for no pause"),
    engineers: z.int().min(1).max(12).default(2).describe("ship's engineers who take part at a time"),
    electricians: z.int().min(1).max(6).default(1).describe("ship's electricians who take part at a time"),
    wish: z
      .enum(["attendance first", "day first"])
      .default("attendance first")
      .describe("what is made short first: technicians' attendance or the day"),
    keepStarts: z.int().min(0).max(20).default(1).describe("starts that no store is ever drawn below"),
    recharge: z
      .strictObject({
        air: z.int().min(1).max(2880).default(60),
        battery: z.int().min(1).max(2880).default(1440),
        accumulator: z.int().min(1).max(2880).default(30),
      })
      .prefault({})
      .describe("minutes in which a store is recharged from nothing to full"),
    technicians: z
      .array(
        z
          .strictObject({
            need: text(60).describe("id of the need in the rulebook, such as service-engineer"),
            sisters: z
              .string()
              .regex(/^[A-Z]$/)
              .optional()
              .describe("of which sets, where there are several of his kind"),
            from: moment.optional(),
            to: moment.optional(),
          })
          .refine(({ from, to }) => from === undefined || to === undefined || from < to, {
            error: "wanted a leaving that is later than the coming",
            path: ["to"],
          }),
      )
      .max(40)
      .default([])
      .describe("when each technician can be there; the whole visit where he is left out"),
    pins: z
      .array(z.strictObject({ task, is: z.enum(PIN_KINDS), time: moment }))
      .max(200)
      .default([])
      .describe("times that are asked for"),
    minutes: z
      .array(z.strictObject({ task, minutes: z.int().min(1).max(1440) }))
      .max(500)
      .default([])
      .describe("how long a task takes where it is not as usual"),
  })
  .superRefine(({ hours, pause }, context) => {
    // A pause at a time when nobody works is none.
    if (pause === null || isOutside(pause, hours)) return;
    if (clockMinutes(pause.from) <= clockMinutes(hours.from) || clockMinutes(pause.to) >= clockMinutes(hours.to))
      context.addIssue({
        code: "custom",
        path: ["pause"],
        message: `wanted a pause within the hours ${hours.from} to ${hours.to}, or none`,
      });
  });

export type DaySettings = Readonly<z.infer<typeof daySettingsSchema>>;
