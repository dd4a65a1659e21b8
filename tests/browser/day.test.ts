import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { newVisitor, openBrowser, picture, signIn } from "./browser.ts";
import { loaded, type Served, serve } from "./server.ts";

let served: Served;
let browser: Browser;
beforeAll(async () => {
  [served, browser] = [await serve(), await openBrowser()];
}, 120_000);
afterAll(async () => {
  await browser.close();
  await served.stop();
});

const SLOW = 120_000;

const keep = (page: Page): Promise<unknown> => Promise.all([page.waitForEvent("load"), page.click("text=Keep the day so")]);
const open = (page: Page, words: string): Promise<void> => page.click(`summary:has-text("${words}")`);
/** When a task is, as its line in the table says. */
const timeOf = (page: Page, task: string): Promise<string> => page.locator(`#task-${task} th`).innerText();

const firstDay = async (id: string): Promise<string> => {
  const frame = (await served.office.store.visit(id))?.frame as
    | { readonly visit: { readonly window: { readonly from: string } } }
    | undefined;
  return frame?.visit.window.from ?? "";
};

test.each([
  ["with", true],
  ["without", false],
])(
  "a duration is changed and a time asked for, the day follows and is kept: %s JavaScript",
  async (_, script) => {
    const id = await loaded(served, "old-mechanical", served.people.mara);
    const { page, context, complaints } = await newVisitor(browser, { javaScriptEnabled: script });
    await signIn(page, served.url, "mara");
    await page.goto(`${served.url}/visits/${id}`);
    await Promise.all([page.waitForEvent("load"), page.click("nav >> text=Day")]);
    await page.waitForLoadState();
    expect(await page.locator("h1").innerText()).toBe("Order of the day");
    expect(await page.locator(".day-sum").innerText()).toMatch(/proven shortest|longer than the shortest possible/);
    const usual = await timeOf(page, "papers");
    expect(usual).toBe("08:00 to 08:45");
    await open(page, "Change a duration");
    await page.fill('input[name="minutes.papers"]', "15");
    if (script) {
      // It follows before anything is kept.
      await expect.poll(() => timeOf(page, "papers"), { timeout: 10_000 }).toBe("08:00 to 08:15");
      expect(await page.locator(".day-form .saved").innerText()).toContain("keep it to make it so");
    }
    await keep(page);
    expect(await timeOf(page, "papers")).toBe("08:00 to 08:15");
    expect(await page.inputValue('input[name="minutes.papers"]')).toBe("15");

    // What cannot be is refused with the reason and the nearest that can, and stays in its field.
    const first = await firstDay(id);
    await page.selectOption('select[name="pin.close-out"]', "done by");
    await page.fill('input[name="time.close-out"]', `${first}T09:00`);
    await keep(page);
    const refused = await page.locator(".day-sum .note").innerText();
    expect(refused).toContain("Close-out cannot be done by 09:00");
    expect(refused).toMatch(/the earliest that it can end is \d\d:\d\d/);
    expect(await page.inputValue('input[name="time.close-out"]')).toBe(`${first}T09:00`);
    // A time that can be kept is.
    await page.selectOption('select[name="pin.close-out"]', "");
    await page.fill('input[name="time.close-out"]', "");
    await page.selectOption('select[name="pin.T3"]', "begins at");
    await page.fill('input[name="time.T3"]', `${first}T16:00`);
    await keep(page);
    expect(await page.locator(".day-sum .note").count()).toBe(0);
    expect(await timeOf(page, "T3")).toMatch(/^16:00 to/);

    // What is made short first is kept like all else, and followed where there are scripts.
    await open(page, "Arrange the day");
    await page.selectOption('select[name="wish"]', "day first");
    if (script)
      await expect.poll(() => page.locator(".day-form .saved").innerText(), { timeout: 10_000 }).toContain("keep it to make it so");
    await keep(page);
    expect(await page.inputValue('select[name="wish"]')).toBe("day first");

    // What is wrong is told by its field, with what was given and what is wanted; nothing is kept and nothing typed is lost.
    await page.fill('input[name="minutes.papers"]', "-5");
    await open(page, "Arrange the day");
    await page.fill('input[name="from"]', "25:00");
    await page.fill('input[name="to"]', "23:30");
    await keep(page);
    const problems = await page.locator("#problems").innerText();
    expect(problems).toContain("given “25:00”; wanted a time of day");
    expect(problems).toContain("Papers, minutes: given “-5”");
    expect(await page.inputValue('input[name="from"]')).toBe("25:00");
    expect(await page.inputValue('input[name="minutes.papers"]')).toBe("-5");
    expect(await timeOf(page, "papers")).toBe("08:00 to 08:15");
    await picture(page, `day-errors-${script}`);

    await Promise.all([page.waitForEvent("load"), page.click("text=Put all back to the usual")]);
    expect(await timeOf(page, "papers")).toBe(usual);
    expect(await page.locator("#problems").count()).toBe(0);
    await context.close();
    expect(complaints).toEqual([]);
  },
  SLOW,
);

test(
  "a bar is dragged to the time that is asked for it, and a press on it leads to its line all the same",
  async () => {
    const id = await loaded(served, "old-mechanical", served.people.mara);
    const { page, context, complaints } = await newVisitor(browser);
    await signIn(page, served.url, "mara");
    await page.goto(`${served.url}/visits/${id}/day`);
    await page.mouse.move(5, 5);
    await page.locator("text=With a mouse, a task can be dragged").waitFor();
    const first = await firstDay(id);
    const bar = page.locator("figure.day .page a[href='#task-T3']").first();
    const before = await timeOf(page, "T3");
    const middleOf = async (): Promise<readonly [x: number, y: number]> => {
      await bar.scrollIntoViewIfNeeded();
      const box = await bar.boundingBox();
      return box === null ? [0, 0] : [box.x + box.width / 3, box.y + box.height / 2];
    };
    const [x, y] = await middleOf();
    const hour = (await page.locator("figure.day .page a[href='#task-T1']").first().boundingBox())?.width ?? 0;
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + hour / 4, y, { steps: 5 });
    await page.mouse.move(x + hour / 2, y, { steps: 5 });
    await page.mouse.up();
    const asked = await page.inputValue('input[name="time.T3"]');
    expect(asked >= first).toBe(true);
    expect(await page.inputValue('select[name="pin.T3"]')).toBe("begins at");
    // Half as far as an hour is long, and let go on whole five minutes.
    const minutes = (clock: string): number => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3, 5));
    expect(Math.abs(minutes(asked.slice(11)) - minutes(before) - 30)).toBeLessThanOrEqual(5);
    await expect
      .poll(async () => (await timeOf(page, "T3")).startsWith(asked.slice(11)) || (await page.locator(".day-sum .note").count()) > 0)
      .toBe(true);
    expect(page.url()).not.toContain("#task");
    await page.mouse.click(...(await middleOf()));
    await expect.poll(() => page.url()).toContain("#task-T3");
    await context.close();
    expect(complaints).toEqual([]);
  },
  SLOW,
);

test(
  "what somebody else arranged meanwhile is not overwritten unseen",
  async () => {
    const id = await loaded(served, "too-near", served.people.mara);
    const [mine, theirs] = await Promise.all([newVisitor(browser), newVisitor(browser)]);
    for (const [{ page }, who] of [
      [mine, "mara"],
      [theirs, "odo"],
    ] as const) {
      await signIn(page, served.url, who);
      await page.goto(`${served.url}/visits/${id}/day`);
      await open(page, "Arrange the day");
    }
    await theirs.page.fill('input[name="engineers"]', "3");
    await keep(theirs.page);
    await mine.page.fill('input[name="electricians"]', "2");
    await keep(mine.page);
    expect(await mine.page.locator("#problems").innerText()).toContain("Somebody else arranged the day meanwhile");
    expect(await mine.page.inputValue('input[name="electricians"]')).toBe("2");
    await Promise.all([mine.context.close(), theirs.context.close()]);
  },
  SLOW,
);
