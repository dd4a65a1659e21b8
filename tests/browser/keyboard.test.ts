import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { DEMO_PASSWORD } from "../../lib/cli/demoPeople.ts";
import { newVisitor, openBrowser } from "./browser.ts";
import { type Served, serve } from "./server.ts";

let served: Served;
let browser: Browser;
beforeAll(async () => {
  [served, browser] = [await serve(), await openBrowser()];
}, 120_000);
afterAll(async () => {
  await browser.close();
  await served.stop();
});

/** Where the focus is, and whether it can be seen. */
const focused = (page: Page) =>
  page.evaluate(() => {
    const here = document.activeElement;
    if (!(here instanceof HTMLElement) || here === document.body) return { name: "", seen: false };
    const { outlineStyle, outlineWidth } = getComputedStyle(here);
    const box = here.getBoundingClientRect();
    const spoken = here.matches("button, a, summary") ? here.textContent : null;
    const name = spoken || here.id || here.getAttribute("name") || here.textContent || "";
    return { name: name.trim(), seen: outlineStyle !== "none" && Number.parseFloat(outlineWidth) >= 2 && box.width > 0 };
  });

const MOST_TABS = 400;

/** Presses Tab until the focus is on what is wanted; on the way every stop must show where it is. */
const tabTo = async (page: Page, wanted: RegExp): Promise<void> => {
  for (let pressed = 0; pressed < MOST_TABS; pressed += 1) {
    await page.keyboard.press("Tab");
    const { name, seen } = await focused(page);
    if (name !== "") expect(seen, `focus on ${name} cannot be seen`).toBe(true);
    if (wanted.test(name)) return;
  }
  throw new Error(`the keyboard never reached ${wanted}`);
};

const enter = (page: Page): Promise<unknown> => Promise.all([page.waitForEvent("load"), page.keyboard.press("Enter")]);

test("the keyboard alone signs in, makes a visit, answers, and comes to the letter in hand", async () => {
  const { page, context, complaints } = await newVisitor(browser);
  await page.goto(`${served.url}/sign-in`);
  await tabTo(page, /^email$/);
  await page.keyboard.type("mara@office.example");
  await tabTo(page, /^password$/);
  await page.keyboard.type(DEMO_PASSWORD);
  await enter(page);
  await tabTo(page, /^Prepare a new visit$/);
  await enter(page);
  for (const [field, text] of [
    [/^p-visit-vessel-name$/, "Sundalis Reach"],
    [/^p-visit-place-name$/, "Haverdyn Roads"],
    [/^p-visit-window-from$/, "24 March 2027"],
    [/^p-visit-window-to$/, "25 March 2027"],
  ] as const) {
    await tabTo(page, field);
    await page.keyboard.type(text);
  }
  await tabTo(page, /^Save and go on to the parts$/);
  await enter(page);
  await tabTo(page, /^Go on: /);
  await enter(page);
  await tabTo(page, /^q-ruleBasis$/);
  await page.keyboard.press("Space");
  await tabTo(page, /^Save and continue$/);
  await enter(page);
  expect(await page.locator("h1").innerText()).toContain("Generator 1");
  await tabTo(page, /^q-sets-0-primeMover$/);
  await page.keyboard.press("Space");
  await page.waitForSelector('input[name="/sets/0/cooling.text"]');
  await tabTo(page, /^q-sets-0-cooling$/);
  await page.keyboard.press("Space");
  await tabTo(page, /^Save and continue$/);
  await enter(page);
  await tabTo(page, /^Letter$/);
  await enter(page);
  await tabTo(page, /^Make the letter \(PDF\)$/);
  // A page that tells its place may come between, and goes on by itself.
  await Promise.all([page.waitForURL(/\/letter\?.*made=/), page.keyboard.press("Enter")]);
  await tabTo(page, /^Download it \(PDF\)$/);
  const [download] = await Promise.all([page.waitForEvent("download"), page.keyboard.press("Enter")]);
  expect(download.suggestedFilename()).toMatch(/^sundalis-reach-letter-.*\.pdf$/);
  expect(complaints).toEqual([]);
  await context.close();
}, 300_000);
