import { failure, type Result, success } from "../kernel/result.ts";
import { type DaySettings, daySettingsSchema } from "../model/daySettings.ts";
import { longDate } from "../plan/longDate.ts";
import { capital } from "../plan/say.ts";

/** What stands in the fields of the form that arranges a day, by their names. */
export type DayTexts = Readonly<Record<string, string>>;

/** Something wrong in a field: which, and what is wrong. */
export interface DayFieldFault {
  readonly field: string;
  readonly says: string;
}

export const MINUTES = "minutes.";
export const PIN = "pin.";
export const PIN_TIME = "time.";
export const COMES = "comes.";
export const LEAVES = "leaves.";

const textOf = (value: string | number | undefined): string => (value === undefined ? "" : String(value));

const technicianId = ({ need, sisters }: DaySettings["technicians"][number]): string =>
  sisters === undefined ? need : `${need} ${sisters}`;

/** The settings of a day as they stand in the form. Pure. */
export const dayTexts = ({
  hours,
  pause,
  engineers,
  electricians,
  wish,
  keepStarts,
  recharge,
  technicians,
  pins,
  minutes,
}: DaySettings): DayTexts => ({
  from: hours.from,
  to: hours.to,
  pauseFrom: textOf(pause?.from),
  pauseTo: textOf(pause?.to),
  engineers: textOf(engineers),
  electricians: textOf(electricians),
  wish,
  keepStarts: textOf(keepStarts),
  air: textOf(recharge.air),
  battery: textOf(recharge.battery),
  accumulator: textOf(recharge.accumulator),
  ...Object.fromEntries(
    technicians.flatMap((one) => [
      [`${COMES}${technicianId(one)}`, textOf(one.from)],
      [`${LEAVES}${technicianId(one)}`, textOf(one.to)],
    ]),
  ),
  ...Object.fromEntries(
    pins.flatMap(({ task, is, time }) => [
      [`${PIN}${task}`, is],
      [`${PIN_TIME}${task}`, time],
    ]),
  ),
  ...Object.fromEntries(minutes.map((one) => [`${MINUTES}${one.task}`, textOf(one.minutes)])),
});

const under = (texts: DayTexts, prefix: string): readonly (readonly [rest: string, text: string])[] =>
  Object.entries(texts).flatMap(([name, text]) =>
    name.startsWith(prefix) && text.trim() !== "" ? [[name.slice(prefix.length), text.trim()] as const] : [],
  );

/** A number as it was typed, for the schema to judge; what is none stays text, so that it is told as given. */
const number = (text: string | undefined): unknown => {
  const trimmed = text?.trim() ?? "";
  return trimmed === "" ? undefined : /^-?\d+$/.test(trimmed) ? Number(trimmed) : trimmed;
};

/** A day and time as a browser gives it, perhaps with seconds. */
const momentIn = (text: string): string => text.replace(/^(\d{4}-\d{2}-\d{2})[ T](\d{2}:\d{2})(?::\d{2})?$/, "$1T$2");

/** A time of day as people write it: "8", "8:00", "08.00", "0800". What is none stays as it is. */
const clockIn = (text: string | undefined): string | undefined => {
  const found = /^(\d{1,2})(?:[:.h]?(\d{2}))?$/.exec(text?.trim() ?? "");
  return found === null ? text?.trim() : `${(found[1] ?? "").padStart(2, "0")}:${found[2] ?? "00"}`;
};

const given = (text: string | undefined): string => {
  if (text === undefined || text.trim() === "") return "nothing";
  const moment = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2})$/.exec(momentIn(text.trim()));
  return moment === null ? `“${text.trim().slice(0, 60)}”` : `${moment[2]} on ${longDate(moment[1] ?? "")}`;
};

const WORDS: Readonly<Record<string, string>> = {
  from: "Work begins",
  to: "Work ends",
  pauseFrom: "Pause from",
  pauseTo: "Pause to",
  engineers: "Ship’s engineers",
  electricians: "Ship’s electricians",
  wish: "Made short first",
  keepStarts: "Starts kept in each store",
  air: "Air recharged in",
  battery: "Battery recharged in",
  accumulator: "Accumulator recharged in",
};

/** The field in which a fault of the schema was typed. */
const fieldOf = (path: readonly PropertyKey[], lists: Readonly<Record<string, readonly string[]>>): string => {
  const [head, next, last] = path.map(String);
  switch (head) {
    case "hours":
      return next === "from" ? "from" : "to";
    case "pause":
      return next === "to" ? "pauseTo" : "pauseFrom";
    case "recharge":
      return next ?? "air";
    case "technicians":
      return `${last === "to" ? LEAVES : COMES}${lists["technicians"]?.[Number(next)] ?? ""}`;
    case "pins":
      return `${last === "is" ? PIN : PIN_TIME}${lists["pins"]?.[Number(next)] ?? ""}`;
    case "minutes":
      return `${MINUTES}${lists["minutes"]?.[Number(next)] ?? ""}`;
    default:
      return head ?? "from";
  }
};

/** What a field is called where something is wrong in it. */
const labelOf = (field: string): string => {
  const dot = field.indexOf(".");
  if (dot === -1) return WORDS[field] ?? field;
  const what = { [MINUTES]: "minutes", [PIN]: "time asked for", [PIN_TIME]: "time asked for", [COMES]: "comes", [LEAVES]: "leaves" }[
    field.slice(0, dot + 1)
  ];
  // A technician by what he is, a task by its id: "relay-technician A", "T3".
  return `${capital(field.slice(dot + 1).replaceAll("-", " "))}, ${what ?? ""}`;
};

/** The settings that stand in the form, or every field in which something is wrong with what was given and what is wanted. Pure. */
export const dayTyped = (texts: DayTexts): Result<DaySettings, DayFieldFault> => {
  const technicians = [...new Set([...under(texts, COMES), ...under(texts, LEAVES)].map(([id]) => id))];
  const pins = [...new Set([...under(texts, PIN), ...under(texts, PIN_TIME)].map(([task]) => task))];
  const minutes = under(texts, MINUTES);
  const moment = (name: string): Readonly<Record<string, string>> => (texts[name]?.trim() ? { at: momentIn(texts[name].trim()) } : {});
  const pause = [texts["pauseFrom"]?.trim() ?? "", texts["pauseTo"]?.trim() ?? ""] as const;
  const read = daySettingsSchema.safeParse({
    hours: { from: clockIn(texts["from"]), to: clockIn(texts["to"]) },
    pause: pause.every((text) => text === "") ? null : { from: clockIn(pause[0]), to: clockIn(pause[1]) },
    engineers: number(texts["engineers"]),
    electricians: number(texts["electricians"]),
    wish: texts["wish"],
    keepStarts: number(texts["keepStarts"]),
    recharge: { air: number(texts["air"]), battery: number(texts["battery"]), accumulator: number(texts["accumulator"]) },
    technicians: technicians.map((id) => {
      const [, need = id, sisters] = /^(.+?)(?: ([A-Z]))?$/.exec(id) ?? [];
      const [from, to] = [moment(`${COMES}${id}`)["at"], moment(`${LEAVES}${id}`)["at"]];
      return {
        need,
        ...(sisters === undefined ? {} : { sisters }),
        ...(from === undefined ? {} : { from }),
        ...(to === undefined ? {} : { to }),
      };
    }),
    pins: pins.map((task) => ({
      task,
      is: texts[`${PIN}${task}`] || "begins at",
      time: momentIn(texts[`${PIN_TIME}${task}`]?.trim() ?? ""),
    })),
    minutes: minutes.map(([task, text]) => ({ task, minutes: number(text) })),
  });
  if (read.success) return success(read.data);
  const lists = { technicians, pins, minutes: minutes.map(([task]) => task) };
  return failure(
    ...read.error.issues.map((issue): DayFieldFault => {
      const field = fieldOf(issue.path, lists);
      const bound = issue.code === "too_small" ? `at least ${issue.minimum}` : issue.code === "too_big" ? `at most ${issue.maximum}` : "";
      const wanted = issue.message.startsWith("wanted")
        ? issue.message
        : bound === ""
          ? "wanted a whole number"
          : `wanted a whole number, ${bound}`;
      return { field, says: `${labelOf(field)}: given ${given(texts[field])}; ${wanted}` };
    }),
  );
};
