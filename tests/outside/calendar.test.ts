import ICAL from "ical.js";
import { afterEach, describe, expect, test } from "vitest";
import { askedNow } from "../../lib/letter/questions.ts";
import { type CalendarInput, calendarOf } from "../../lib/outside/calendar.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { VISITS } from "../golden/golden.ts";
import { planned, referencesIn, visitText } from "../letter/letters.ts";

const planOf = async (name: string): Promise<Plan> => (await planned(visitText(name))).plan;

const fileOf = (plan: Plan, change: Partial<CalendarInput> = {}): string => {
  const result = calendarOf({
    plan,
    earlier: [],
    done: new Set(),
    ended: null,
    uidStem: "visit-7@office.example",
    sequence: 1,
    stamp: "2026-03-02T09:30:15.000Z",
    ...change,
  });
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  return result.value;
};

/** The events of a file as an independent reader finds them. */
const eventsIn = (file: string) => {
  const calendar = new ICAL.Component(ICAL.parse(file));
  expect(calendar.getFirstPropertyValue("version")).toBe("2.0");
  return calendar.getAllSubcomponents("vevent").map((component) => {
    const event = new ICAL.Event(component);
    const { uid, summary, location, description, sequence, startDate, endDate } = event;
    expect([startDate.isDate, endDate.isDate]).toEqual([true, true]);
    return {
      uid,
      summary,
      location,
      description,
      sequence,
      from: startDate.toString(),
      end: endDate.toString(),
      stamp: String(component.getFirstPropertyValue("dtstamp")),
      status: String(component.getFirstPropertyValue("status")),
      free: component.getFirstPropertyValue("transp") === "TRANSPARENT",
    };
  });
};

const eventIn = (file: string, id: string) => {
  const found = eventsIn(file).filter(({ uid }) => uid === `${id}.visit-7@office.example`);
  expect(found.length).toBe(1);
  const [event] = found;
  if (event === undefined) throw new Error(id);
  return event;
};

const dayAfter = (day: string): string => new Date(Date.parse(day) + 86_400_000).toISOString().slice(0, 10);

/** Requests for what is known to be had, which need no answer and are to be there, found in the plan by the definitions alone. */
const toHaveReady = (plan: Plan) => plan.requests.filter(({ at }) => at !== undefined && !plan.open.some((open) => open.at === at));

/** The requests that the vessel still has to answer. */
const toAnswer = (plan: Plan) => plan.requests.filter((request) => !toHaveReady(plan).includes(request));

describe.each(VISITS)("the calendar of %s", (name) => {
  test("has the visit over its window, at its place, and its last day in", async () => {
    const plan = await planOf(name);
    const { window, vessel, place, reference } = plan.visit;
    const event = eventIn(fileOf(plan), "visit");
    expect(event).toMatchObject({ from: window.from, end: dayAfter(window.to), location: place, status: "CONFIRMED", free: false });
    expect(event.summary).toContain(vessel);
    if (reference !== undefined) expect(event.summary).toContain(reference);
  });

  test("has each request once, on its day: to confirm it, or to have ready what is known to be had; every question on the day of the reply", async () => {
    const plan = await planOf(name);
    const events = eventsIn(fileOf(plan));
    const deadlines = events.filter(({ uid }) => !uid.startsWith("visit."));
    const found = new Map<string, string[]>();
    for (const { from, end, free, description } of deadlines) {
      expect([end, free]).toEqual([dayAfter(from), true]);
      const [told = "", ...lines] = description.split("\n");
      expect(lines.map((line) => /^R\d+/.exec(line)?.[0]).sort()).toEqual(
        [...referencesIn(told)].filter((ref) => ref.startsWith("R")).sort(),
      );
      const ready = referencesIn(/have ([TQR][^;]*) ready/i.exec(told)?.[1] ?? "");
      const known = toHaveReady(plan).filter(({ confirmBy }) => confirmBy === from);
      expect(new Set(known.map(({ ref }) => ref))).toEqual(ready);
      for (const ref of referencesIn(told)) found.set(ref, [...(found.get(ref) ?? []), from]);
    }
    const wanted = [
      ...plan.requests.map(({ ref, confirmBy }) => [ref, [confirmBy]] as const),
      ...askedNow(plan).map(({ ref }) => [ref, [plan.visit.replyBy]] as const),
    ];
    expect(wanted.length).toBeGreaterThan(0);
    expect(new Map([...found].sort())).toEqual(new Map([...wanted].sort()));
    expect(new Set(deadlines.map(({ from }) => from)).size).toBe(deadlines.length);
  });

  test("asks of what only later ways would need whether it could be had, and not to confirm it", async () => {
    const plan = await planOf(name);
    const later = toAnswer(plan).filter(({ kind, neededBy }) => kind !== "photograph" && kind !== "technician" && neededBy.length === 0);
    const found = eventsIn(fileOf(plan)).flatMap(({ description }) => {
      const [told = ""] = description.split("\n");
      const parts = told.split(";").filter((part) => /could be had, without ordering|reserve/i.test(part));
      return parts.flatMap((part) => [...referencesIn(part)]);
    });
    const technicians = plan.requests.filter(({ kind }) => kind === "technician").map(({ ref }) => ref);
    expect(found.filter((ref) => !technicians.includes(ref)).sort()).toEqual(later.map(({ ref }) => ref).sort());
  });

  test("has lines of at most 75 octets, each ended by CRLF, that are whole UTF-8", async () => {
    const bytes = Buffer.from(fileOf(await planOf(name)), "utf8");
    const lines = bytes.toString("latin1").split("\r\n");
    expect(lines.pop()).toBe("");
    expect(lines.at(-1)).toBe("END:VCALENDAR");
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(75);
    expect(lines.join("")).not.toMatch(/[\r\n]/);
  });
});

describe("names with signs of the format", () => {
  const odd = async (): Promise<Plan> => {
    const plan = await planOf("mixed-channels");
    const vessel = "Reach, Sundalis; \\n not a line; Żółta 🛳 Łajba".repeat(3);
    return { ...plan, visit: { ...plan.visit, vessel, place: "Pier 3; north, under\nthe crane\rat\u0007night", reference: "V;1,2\\" } };
  };

  test("are read back as they were, without control characters", async () => {
    const plan = await odd();
    const event = eventIn(fileOf(plan), "visit");
    expect(event.summary).toBe(`Tests of generating sets on ${plan.visit.vessel} (V;1,2\\)`);
    expect(event.location).toBe("Pier 3; north, under\nthe crane\nat night");
  });

  test("are escaped and folded between signs", async () => {
    const file = fileOf(await odd());
    expect(file).toContain("LOCATION:Pier 3\\; north\\, under\\nthe crane\\nat night\r\n");
    for (const line of file.split("\r\n")) {
      expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
      // Half a sign would have become the sign for what cannot be read.
      expect(Buffer.from(line, "utf8").toString("utf8")).not.toContain("\ufffd");
    }
    expect(file.replaceAll("\r\n ", "")).toContain("🛳 Łajba");
  });

  test("cannot bring a line of their own", async () => {
    const plan = await planOf("mixed-channels");
    const file = fileOf({ ...plan, visit: { ...plan.visit, vessel: "A\r\nATTENDEE:mailto:x@y.example\r\nX:" } });
    expect(file).not.toMatch(/^ATTENDEE/m);
  });
});

describe("a later letter", () => {
  test("changes the events of the earlier one by their UIDs and calls off those that are gone", async () => {
    const first = await planOf("mixed-channels");
    const day = first.requests.map(({ confirmBy }) => confirmBy).find((confirmBy) => confirmBy !== first.visit.replyBy) ?? "";
    const moved: Plan = {
      ...first,
      visit: { ...first.visit, replyBy: "2026-05-25", window: { from: "2026-06-16", to: "2026-06-17" } },
      requests: first.requests.map((request) => (request.confirmBy === day ? { ...request, confirmBy: "2026-06-01" } : request)),
    };
    const [before, after] = [fileOf(first), fileOf(moved, { earlier: [first], sequence: 2, stamp: "2026-05-20T08:00:00.000Z" })];
    expect(eventIn(before, `confirm-${day}`)).toMatchObject({ status: "CONFIRMED", sequence: 1, stamp: "2026-03-02T09:30:15Z" });
    expect(eventIn(after, `confirm-${day}`)).toMatchObject({ status: "CANCELLED", sequence: 2, from: day, free: true });
    expect(eventIn(after, "confirm-2026-06-01")).toMatchObject({ status: "CONFIRMED", from: "2026-06-01" });
    expect(eventIn(after, "reply")).toMatchObject({ status: "CONFIRMED", sequence: 2, from: "2026-05-25", stamp: "2026-05-20T08:00:00Z" });
    expect(eventIn(after, "visit")).toMatchObject({ status: "CONFIRMED", sequence: 2, from: "2026-06-16", end: "2026-06-18" });
    const uids = (file: string) => eventsIn(file).map(({ uid }) => uid);
    expect(uids(after)).toEqual(expect.arrayContaining(uids(before)));
    expect(new Set(uids(after)).size).toBe(uids(after).length);
  });

  test("leaves out requests that were answered", async () => {
    const plan = await planOf("mixed-channels");
    const [one] = toAnswer(plan);
    if (one === undefined) throw new Error("nothing to answer");
    const told = (done: ReadonlySet<string>) => eventsIn(fileOf(plan, { done })).flatMap(({ description }) => description.split("\n"));
    expect(told(new Set()).some((line) => line.startsWith(`${one.ref},`))).toBe(true);
    expect(told(new Set([one.ref])).some((line) => line.startsWith(`${one.ref},`))).toBe(false);
  });

  test("that ends the exchange leaves the visit alone, with what is tested on its days and what another time", async () => {
    const plan = await planOf("mixed-channels");
    const before = eventsIn(fileOf(plan));
    for (const later of [[], ["T2", "T5"]]) {
      const file = fileOf(plan, { earlier: [plan], ended: { done: ["T1", "T3", "T4"], later }, sequence: 3 });
      const events = eventsIn(file);
      expect(events.filter(({ status }) => status === "CONFIRMED").map(({ uid }) => uid)).toEqual(["visit.visit-7@office.example"]);
      expect(events.filter(({ status }) => status === "CANCELLED").length).toBe(before.length - 1);
      const { description, free } = eventIn(file, "visit");
      expect(free).toBe(false);
      expect(description).toContain("Tests on these days: T1, T3, T4.");
      expect(description.includes("Tests of another time: T2, T5.")).toBe(later.length > 0);
    }
  });

  test("that ends the exchange with no test left calls the visit off too, whoever has it in his calendar", async () => {
    const plan = await planOf("mixed-channels");
    for (const earlier of [[plan], []]) {
      const file = fileOf(plan, { earlier, ended: { done: [], later: ["T1"] }, sequence: 3 });
      expect(eventsIn(file).map(({ status, free }) => [status, free])).toEqual(eventsIn(file).map(() => ["CANCELLED", true]));
      expect(eventIn(file, "visit")).toMatchObject({ sequence: 3, from: plan.visit.window.from, status: "CANCELLED" });
      expect(eventIn(file, "visit").summary).toMatch(/^Called off: tests of generating sets on /);
    }
  });
});

describe("the file is the same", () => {
  const zone = process.env["TZ"];
  afterEach(() => {
    if (zone === undefined) delete process.env["TZ"];
    else process.env["TZ"] = zone;
  });

  test("whatever the time zone of the machine, and each time", async () => {
    const plan = await planOf("dual-fuel");
    const files = ["UTC", "Pacific/Auckland", "America/Los_Angeles"].map((name) => {
      process.env["TZ"] = name;
      return { file: fileOf(plan), offset: new Date(2026, 5, 1).getTimezoneOffset() };
    });
    expect(files.map(({ offset }) => offset)).toEqual([0, -720, 420]);
    expect(new Set(files.map(({ file }) => file)).size).toBe(1);
  });
});

test.each<[Partial<CalendarInput>, string, string]>([
  [{ uidStem: "a\r\nX:b" }, "/uidStem", '"a\\r\\nX:b"'],
  [{ uidStem: "" }, "/uidStem", '""'],
  [{ sequence: -1 }, "/sequence", "-1"],
  [{ sequence: 1.5 }, "/sequence", "1.5"],
  [{ stamp: "2026-03-02" }, "/stamp", '"2026-03-02"'],
])("what cannot stand in a calendar file is refused: %j", async (change, at, given) => {
  const plan = await planOf("almost-nothing-known");
  const input = { plan, earlier: [], done: new Set<string>(), ended: null, uidStem: "a", sequence: 0, stamp: "2026-03-02T09:30:15Z" };
  expect(calendarOf(input).ok).toBe(true);
  const result = calendarOf({ ...input, ...change });
  expect(result.ok ? [] : result.faults.map((fault) => [fault.at, fault.given])).toEqual([[at, given]]);
});
