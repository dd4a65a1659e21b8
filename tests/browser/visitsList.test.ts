import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { newVisitor, openBrowser, picture, signIn } from "./browser.ts";
import { loadedNow } from "./sent.ts";
import { type Served, serve } from "./server.ts";

let served: Served;
let browser: Browser;
beforeAll(async () => {
  [served, browser] = await Promise.all([serve(), openBrowser()]);
}, 120_000);
afterAll(async () => {
  await browser.close();
  await served.stop();
});

const day = (from: number): string => new Date(served.office.clock() + from * 24 * 60 * 60_000).toISOString().slice(0, 10);

test("the list of visits goes by what is due, and every cell of it can be read on a telephone", async () => {
  const due = async (name: string, days: number | null): Promise<string> => {
    const id = await loadedNow(served, name);
    if (days !== null)
      await served.office.store.keepStanding(id, { stage: "waiting for the reply", letter: 1, due: { day: day(days), what: "reply" } });
    return id;
  };
  const [soon, none, over, later] = [
    await due("old-mechanical", 3),
    await due("passenger-ship", null),
    await due("steam-turbines", -3),
    await due("dual-fuel", 20),
  ];
  for (const width of [390, 320]) {
    const { page, context } = await newVisitor(browser, { viewport: { width, height: 800 } });
    await signIn(page, served.url, "odo");
    const links = await page.locator(".cards th[scope=row] a").evaluateAll((all) => all.map((one) => one.getAttribute("href")));
    expect(links).toEqual([over, soon, later, none].map((id) => `/visits/${id}`));
    expect(await page.textContent(".cards tbody tr >> nth=0")).toContain("3 days overdue");
    const cut = await page
      .locator(".cards tbody th, .cards tbody td")
      .evaluateAll(
        (cells) => cells.filter((cell) => cell.getBoundingClientRect().right > innerWidth || cell.scrollWidth > cell.clientWidth).length,
      );
    expect(cut).toBe(0);
    expect(await page.locator(".scroll").evaluate((list) => list.scrollWidth <= list.clientWidth)).toBe(true);
    // Each cell says which column it is of.
    const led = await page
      .locator(".cards tbody tr >> nth=0 >> td")
      .evaluateAll((cells) => cells.map((cell) => getComputedStyle(cell, "::before").content));
    expect(led).toEqual(["Place and days", "Sets", "Exchange", "Inspector", "Last changed"].map((name) => `"${name}: "`));
    await picture(page, `visits-${width}`);
    await context.close();
  }
});
