import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, expect, test } from "vitest";
import { bundle } from "../../lib/cli/bundle.mjs";
import { dayOf } from "../../lib/plan/day/planDay.ts";
import { type DrawnUp, drawnUp } from "../../lib/plan/day/setup.ts";
import { type DayThread, openDayThread } from "../../lib/usecases/visits/dayThread.ts";
import { demo, inputOf } from "../plan/day/visits.ts";

const demoSetup = (name: string): DrawnUp => drawnUp(inputOf(demo(name)));

let days: DayThread;
beforeAll(async () => {
  days = openDayThread(pathToFileURL(`${await bundle()}/dayWorker.mjs`));
});
afterAll(() => days.close());

test("days asked for at once come back each to who asked, as they are without the thread", async () => {
  const setups = ["modern-electronic", "old-mechanical", "modern-electronic"].map(demoSetup);
  expect(await Promise.all(setups.map(days.dayOf))).toEqual(setups.map((setup) => dayOf(setup)));
});

test("a day that fails takes no other with it, and the thread goes on", async () => {
  const setup = demoSetup("old-mechanical");
  const [bad, good] = await Promise.allSettled([days.dayOf({} as DrawnUp), days.dayOf(setup)]);
  expect([bad.status, good.status]).toEqual(["rejected", "fulfilled"]);
});

test("a thread that was ended starts anew with the next day", async () => {
  await days.close();
  expect((await days.dayOf(demoSetup("old-mechanical"))).lines.length).toBeGreaterThan(0);
});

test("a day that does not end is given up, and whoever waits is told so", async () => {
  const slow = openDayThread(pathToFileURL(`${await bundle()}/dayWorker.mjs`), 1);
  const told = await Promise.allSettled(["old-mechanical", "modern-electronic"].map((name) => slow.dayOf(demoSetup(name))));
  expect(told).toMatchObject([
    { status: "rejected", reason: { message: "a day was not in order within 0.001 s" } },
    { status: "rejected", reason: { message: "a day was not in order within 0.001 s" } },
  ]);
  await slow.close();
});
