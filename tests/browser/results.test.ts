import type { Browser, Locator, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import type { StoredResult } from "../../lib/store/store.ts";
import { newVisitor, openBrowser, picture, signIn, type Visitor } from "./browser.ts";
import { loadedNow } from "./sent.ts";
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

const PHONE = { viewport: { width: 390, height: 800 }, hasTouch: true, isMobile: true };
const [ONE, OTHER] = ["/sets/1/overspeed", "/sets/2/overspeed"] as const;

/** From the day on which this visit is planned to its first. */
const DAYS_BEFORE = 22;

let visit: string;
beforeEach(async () => {
  // Planned so long ago that today is a day of the visit.
  visit = await loadedNow(served, "old-mechanical", DAYS_BEFORE);
});

const entries = (): Promise<readonly StoredResult[]> => served.office.store.resultsOf(visit);
const readings = async (): Promise<readonly string[]> =>
  (await entries()).map(({ at, version, value }) => {
    const { reading, outcome } = (value ?? {}) as { reading?: { number: string; unit: string }; outcome?: string };
    return `${at} ${version}: ${outcome}${reading === undefined ? "" : ` ${reading.number} ${reading.unit}`}`;
  });

const opened = async (who: string, options: Parameters<typeof newVisitor>[1] = PHONE): Promise<Visitor> => {
  const visitor = await newVisitor(browser, options);
  await signIn(visitor.page, served.url, who);
  await visitor.page.goto(`${served.url}/visits/${visit}/results`);
  return visitor;
};

const testOn = (page: Page, at: string): Locator => page.locator(`[data-result="${at}"]`);
const unfold = async (test: Locator): Promise<void> => {
  if ((await test.getAttribute("open")) === null) await test.locator("summary").click();
};
const fill = async (test: Locator, reading: string): Promise<void> => {
  await unfold(test);
  await test.getByLabel("Done as planned").check();
  await test.getByLabel("Reading", { exact: true }).fill(reading);
  await test.getByLabel("Within limits").check();
};
const keep = (test: Locator): Promise<void> => test.getByRole("button", { name: "Keep" }).click();
const toldOf = (test: Locator, words: RegExp): Promise<void> =>
  test.locator(".saved").filter({ hasText: words }).waitFor({ timeout: 20_000 });

describe("without JavaScript", () => {
  test("records are kept by plain forms; what is wrong or was entered meanwhile is told, and nothing typed is lost", async () => {
    const { page } = await opened("mara", { ...PHONE, javaScriptEnabled: false });
    await fill(testOn(page, ONE), "2010");
    // Typed for another test at the same time, and half.
    await unfold(testOn(page, OTHER));
    await testOn(page, OTHER).getByLabel("Not done").check();
    await testOn(page, OTHER).getByLabel("Remark").fill("Asked for in spring");
    await keep(testOn(page, ONE));
    await page.waitForURL(/#problems$/);
    expect(await page.locator("#problems li").allTextContents()).toEqual([
      expect.stringMatching(/^T\d+: Why not: given nothing; wanted why it was not done$/),
    ]);
    expect(await readings()).toEqual([`${ONE} 1: as planned 2010 rpm`]);
    expect(await testOn(page, OTHER).getByLabel("Remark").inputValue()).toBe("Asked for in spring");
    expect(await testOn(page, ONE).locator("summary").textContent()).toContain("read 2010 rpm, within limits");
    await picture(page, "results-errors-390");

    // Somebody else enters the same test before it is put right.
    const theirs = { on: "2026-04-29", outcome: "not done", planned: [], why: "no load" };
    await served.office.store.keepResults(visit, [{ at: OTHER, value: theirs, seen: 0 }], {
      who: served.people.ilse,
      when: served.office.world.now(),
    });
    await testOn(page, OTHER).getByLabel("Why not").fill("no technician came");
    await keep(testOn(page, OTHER));
    await page.waitForURL(/#problems$/);
    await testOn(page, OTHER).locator(".doubt").waitFor();
    expect(await testOn(page, OTHER).textContent()).toMatch(/Kept in the office by Ilse.*Not done: no load\./);
    expect(await testOn(page, OTHER).getByLabel("Why not").inputValue()).toBe("no technician came");
    expect(await readings()).toHaveLength(2);
    await keep(testOn(page, OTHER));
    await page.waitForURL(/results\?said=.*#t-sets-2-overspeed$/);
    expect(await page.locator("main [role=status].note").textContent()).toBe("One record kept.");
    expect(await readings()).toEqual([`${ONE} 1: as planned 2010 rpm`, `${OTHER} 2: not done`, `${OTHER} 1: not done`]);

    // The record has every entry.
    await page.goto(`${served.url}/visits/${visit}/record`);
    const record = await page.locator("main").textContent();
    expect(record).toMatch(/Not done: no technician came\. Asked for in spring\.Mara.*Before, by Ilse.*Not done: no load\./);
  });

  test("what does not look right is asked once more, and instead of one's own what the office has can be taken", async () => {
    const { page } = await opened("mara", { ...PHONE, javaScriptEnabled: false });
    const [one, other] = [testOn(page, ONE), testOn(page, OTHER)];
    await fill(one, "2500");
    await keep(one);
    await page.waitForURL(/#problems$/);
    expect(await page.locator("#problems li").allTextContents()).toEqual([
      expect.stringMatching(/^T\d+: Reading: 2500 rpm is far from 2000/),
    ]);
    expect(await one.getByLabel("Reading", { exact: true }).inputValue()).toBe("2500");
    expect(await entries()).toEqual([]);
    await picture(page, "results-asked-plain-390");
    // Every choice is as high as a thumb wants it.
    for (const label of await one.locator(".option label:visible").all())
      expect((await label.boundingBox())?.height, (await label.textContent()) ?? "").toBeGreaterThanOrEqual(44);
    await one.getByLabel("It is so, as written").check();
    await keep(one);
    await page.waitForURL(/said=/);
    expect(await readings()).toEqual([`${ONE} 1: as planned 2500 rpm`]);
    expect(await one.locator(".quiet").allTextContents()).toContainEqual(expect.stringMatching(/^Kept as it stands: Reading: 2500 rpm/));

    const theirs = { on: "2026-04-29", outcome: "not done", planned: [], why: "no load" };
    await fill(other, "2010");
    await served.office.store.keepResults(visit, [{ at: OTHER, value: theirs, seen: 0 }], {
      who: served.people.ilse,
      when: served.office.world.now(),
    });
    await keep(other);
    await page.waitForURL(/#problems$/);
    await other.getByRole("button", { name: "Take what the office has" }).click();
    await page.waitForURL(/said=.*#t-sets-2-overspeed$/);
    expect(await page.locator("main [role=status].note").textContent()).toBe("Yours was dropped; what the office has stands.");
    expect(await readings()).toEqual([`${ONE} 1: as planned 2500 rpm`, `${OTHER} 1: not done`]);
    await unfold(other);
    expect(await other.getByLabel("Why not").inputValue()).toBe("no load");
  });

  test("signed out while typing, what was typed is there after signing in", async () => {
    const { page, context } = await opened("mara", { ...PHONE, javaScriptEnabled: false });
    await fill(testOn(page, ONE), "2010");
    await context.clearCookies();
    await keep(testOn(page, ONE));
    await page.waitForURL(/sign-in/);
    await signIn(page, served.url, "mara");
    await page.goto(`${served.url}/visits/${visit}/results`);
    expect(await testOn(page, ONE).getByLabel("Reading", { exact: true }).inputValue()).toBe("2010");
    expect(await entries()).toEqual([]);
    await keep(testOn(page, ONE));
    await page.waitForURL(/said=/);
    expect(await readings()).toEqual([`${ONE} 1: as planned 2010 rpm`]);
  });
});

describe("with JavaScript", () => {
  test("typed and kept without network it stays on the telephone, and is sent by itself when the network is back", async () => {
    const { page, context, complaints } = await opened("mara");
    await context.setOffline(true);
    await fill(testOn(page, ONE), "1995,50");
    await toldOf(testOn(page, ONE), /^Kept on this telephone, not yet sent\.$/);
    await keep(testOn(page, ONE));
    await toldOf(testOn(page, ONE), /^Kept on this telephone, not yet sent: no connection/);
    await fill(testOn(page, OTHER), "2015");
    expect(await page.locator("[data-waiting]").textContent()).toBe("2 records are kept on this telephone and not yet in the office.");
    await picture(page, "results-offline-390");
    expect(await entries()).toEqual([]);
    await context.setOffline(false);
    await toldOf(testOn(page, ONE), /^Kept in the office\.$/);
    await toldOf(testOn(page, OTHER), /^Kept in the office\.$/);
    expect(await readings()).toEqual([`${ONE} 1: as planned 1995.50 rpm`, `${OTHER} 1: as planned 2015 rpm`]);
    expect(await testOn(page, ONE).locator("summary").textContent()).toMatch(/read 1995\.50 rpm, within limits/);
    expect(await page.evaluate(() => Object.keys(localStorage))).toEqual([]);
    expect(complaints.filter((words) => !words.includes("ERR_INTERNET_DISCONNECTED"))).toEqual([]);
  });

  test("an answer lost on its way makes no second entry, and a browser closed meanwhile sends when it is opened again", async () => {
    const { page, context } = await opened("mara");
    // The office takes it, and its answer never arrives.
    await page.route("**/results/keep", async (route) => {
      await route.fetch();
      await route.abort();
    });
    await fill(testOn(page, ONE), "2010");
    await keep(testOn(page, ONE));
    await toldOf(testOn(page, ONE), /not yet sent: no connection/);
    expect(await readings()).toEqual([`${ONE} 1: as planned 2010 rpm`]);
    await page.unroute("**/results/keep");
    await context.setOffline(true);
    await fill(testOn(page, OTHER), "2015");
    await page.close();
    await context.setOffline(false);
    const next = await context.newPage();
    await next.goto(`${served.url}/visits/${visit}/results`);
    await toldOf(testOn(next, OTHER), /^Kept in the office\.$/);
    expect(await readings()).toEqual([`${ONE} 1: as planned 2010 rpm`, `${OTHER} 1: as planned 2015 rpm`]);
    expect(await next.evaluate(() => Object.keys(localStorage))).toEqual([]);
  });

  test("a half record is sent by nobody but who presses Keep, and is told by field", async () => {
    const { page } = await opened("mara");
    const one = testOn(page, ONE);
    await unfold(one);
    await keep(one);
    await toldOf(one, /^Say first what became of the test\.$/);
    await one.getByLabel("Reading", { exact: true }).fill("2010");
    await keep(one);
    await toldOf(one, /^Kept on this telephone, not yet sent: say what became of the test\.$/);
    await one.getByLabel("Done as planned").check();
    await keep(one);
    await toldOf(one, /Limits: given nothing; wanted one of: within limits, outside limits, no limit known/);
    expect(await entries()).toEqual([]);
    await one.getByLabel("Outside limits").check();
    // Turning to another test sends it by itself.
    await testOn(page, OTHER).locator("summary").click();
    await toldOf(one, /^Kept in the office\.$/);
    expect(await readings()).toEqual([`${ONE} 1: as planned 2010 rpm`]);
  });

  test("what somebody else entered meanwhile is shown and not overwritten until Keep is pressed, also after the page is opened again", async () => {
    const { page, context } = await opened("mara");
    await context.setOffline(true);
    await fill(testOn(page, ONE), "2010");
    const theirs = { on: "2026-04-29", outcome: "not done", planned: [], why: "no load" };
    await served.office.store.keepResults(visit, [{ at: ONE, value: theirs, seen: 0 }], {
      who: served.people.odo,
      when: served.office.world.now(),
    });
    await context.setOffline(false);
    const met = /^Entered meanwhile by Odo.*Not done: no load\. Yours is kept on this telephone only\./;
    await toldOf(testOn(page, ONE), met);
    // What the office holds is told at once.
    expect(await testOn(page, ONE).locator("summary .state").textContent()).toMatch(/Not done: no load\.$/);
    await page.reload();
    await toldOf(testOn(page, ONE), met);
    expect(await testOn(page, ONE).getByLabel("Reading", { exact: true }).inputValue()).toBe("2010");
    expect(await readings()).toEqual([`${ONE} 1: not done`]);
    await keep(testOn(page, ONE));
    await toldOf(testOn(page, ONE), /^Kept in the office\.$/);
    expect(await readings()).toEqual([`${ONE} 2: as planned 2010 rpm`, `${ONE} 1: not done`]);
  });

  test("instead of one's own what somebody else entered can be taken, with a connection or without", async () => {
    const { page, context } = await opened("mara");
    const one = testOn(page, ONE);
    const take = one.getByRole("button", { name: "Take what the office has" });
    await unfold(one);
    expect(await take.isVisible()).toBe(false);
    await context.setOffline(true);
    await fill(one, "2010");
    const theirs = { on: "2026-04-29", outcome: "not done", planned: [], why: "no load" };
    await served.office.store.keepResults(visit, [{ at: ONE, value: theirs, seen: 0 }], {
      who: served.people.odo,
      when: served.office.world.now(),
    });
    await context.setOffline(false);
    await toldOf(one, /^Entered meanwhile by Odo/);
    await picture(page, "results-met-390");
    await context.setOffline(true);
    await take.click();
    await toldOf(one, /^Yours was dropped; what the office has stands, by Odo.*Not done: no load\.$/);
    expect(await one.getByLabel("Not done").isChecked()).toBe(true);
    expect(await one.getByLabel("Why not").inputValue()).toBe("no load");
    expect(await one.getByLabel("Reading", { exact: true }).inputValue()).toBe("");
    expect(await take.isVisible()).toBe(false);
    expect(await page.evaluate(() => Object.keys(localStorage))).toEqual([]);
    await context.setOffline(false);
    expect(await readings()).toEqual([`${ONE} 1: not done`]);
    // It counts as seen: what is entered after it is put on top of it.
    await one.getByLabel("Why not").fill("no load, and no time");
    await keep(one);
    await toldOf(one, /^Kept in the office\.$/);
    expect(await readings()).toEqual([`${ONE} 2: not done`, `${ONE} 1: not done`]);
  });

  test("what does not look right is asked once more before it is kept, and nothing of it is lost", async () => {
    const { page } = await opened("mara");
    const one = testOn(page, ONE);
    const asks = one.locator(".asks");
    await fill(one, "2500");
    expect(await asks.isVisible()).toBe(false);
    await keep(one);
    await toldOf(one, /^Kept on this telephone, not yet sent: look once more at what is asked here\.$/);
    expect(await asks.textContent()).toMatch(
      /^Reading: 2500 rpm is far from 2000 rpm ± 20 rpm, and is given as within limits\. Look at it/,
    );
    await picture(page, "results-asked-390");
    expect(await entries()).toEqual([]);
    // It is asked again where the page is opened again, and of another slip anew.
    await page.reload();
    await one.getByLabel("It is so, as written").check();
    await one.getByLabel("Reading", { exact: true }).fill("9 bananas");
    expect(await asks.isVisible()).toBe(false);
    await keep(one);
    await asks.filter({ hasText: "“bananas” cannot be compared" }).waitFor();
    expect(await one.getByLabel("It is so, as written").isChecked()).toBe(false);
    await one.getByLabel("Reading", { exact: true }).fill("2500");
    await keep(one);
    await asks.filter({ hasText: "2500 rpm is far" }).waitFor();
    await one.getByLabel("It is so, as written").check();
    await keep(one);
    await toldOf(one, /^Kept in the office\.$/);
    expect(await asks.isVisible()).toBe(false);
    expect(await readings()).toEqual([`${ONE} 1: as planned 2500 rpm`]);
    // A remark on it answers as well, and sends it by itself.
    const other = testOn(page, OTHER);
    await fill(other, "2500");
    await keep(other);
    await other.locator(".asks").waitFor();
    await other.getByLabel("Remark").fill("The flyweight was stuck");
    await one.locator("summary").click();
    await toldOf(other, /^Kept in the office\.$/);
    expect(await readings()).toEqual([`${ONE} 1: as planned 2500 rpm`, `${OTHER} 1: as planned 2500 rpm`]);
  });

  test("another person on the same device sees nothing of it, and it is sent for nobody but its writer", async () => {
    const { page, context } = await opened("mara");
    await context.setOffline(true);
    await fill(testOn(page, ONE), "2010");
    // Before it is sent the sign-in ends: it stays, and says so.
    await context.clearCookies();
    await context.setOffline(false);
    await toldOf(testOn(page, ONE), /not yet sent: you are signed out/);
    await signIn(page, served.url, "odo");
    await page.goto(`${served.url}/visits/${visit}/results`);
    expect(await page.locator("[data-waiting]").textContent()).toBe(
      "What you type is kept on this telephone at once, and sent when there is a connection.",
    );
    await unfold(testOn(page, ONE));
    expect(await testOn(page, ONE).getByLabel("Reading", { exact: true }).inputValue()).toBe("");
    expect(await entries()).toEqual([]);
    await page.click("text=Sign out");
    await signIn(page, served.url, "mara");
    await page.goto(`${served.url}/visits/${visit}/results`);
    await toldOf(testOn(page, ONE), /^Kept in the office\.$/);
    expect((await entries()).map(({ who }) => who)).toEqual([served.people.mara]);
  });
});
