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

let visit: string;
beforeEach(async () => {
  visit = await loadedNow(served, "old-mechanical");
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
    await fill(testOn(page, ONE), "2070");
    // Typed for another test at the same time, and half.
    await unfold(testOn(page, OTHER));
    await testOn(page, OTHER).getByLabel("Not done").check();
    await testOn(page, OTHER).getByLabel("Remark").fill("Asked for in spring");
    await keep(testOn(page, ONE));
    await page.waitForURL(/#problems$/);
    expect(await page.locator("#problems li").allTextContents()).toEqual([
      expect.stringMatching(/^T\d+: Why not: given nothing; wanted why it was not done$/),
    ]);
    expect(await readings()).toEqual([`${ONE} 1: as planned 2070 rpm`]);
    expect(await testOn(page, OTHER).getByLabel("Remark").inputValue()).toBe("Asked for in spring");
    expect(await testOn(page, ONE).locator("summary").textContent()).toContain("read 2070 rpm, within limits");
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
    expect(await readings()).toEqual([`${ONE} 1: as planned 2070 rpm`, `${OTHER} 2: not done`, `${OTHER} 1: not done`]);

    // The record has every entry.
    await page.goto(`${served.url}/visits/${visit}/record`);
    const record = await page.locator("main").textContent();
    expect(record).toMatch(/Not done: no technician came\. Asked for in spring\.Mara.*Before, by Ilse.*Not done: no load\./);
  });

  test("signed out while typing, what was typed is there after signing in", async () => {
    const { page, context } = await opened("mara", { ...PHONE, javaScriptEnabled: false });
    await fill(testOn(page, ONE), "2070");
    await context.clearCookies();
    await keep(testOn(page, ONE));
    await page.waitForURL(/sign-in/);
    await signIn(page, served.url, "mara");
    await page.goto(`${served.url}/visits/${visit}/results`);
    expect(await testOn(page, ONE).getByLabel("Reading", { exact: true }).inputValue()).toBe("2070");
    expect(await entries()).toEqual([]);
    await keep(testOn(page, ONE));
    await page.waitForURL(/said=/);
    expect(await readings()).toEqual([`${ONE} 1: as planned 2070 rpm`]);
  });
});

describe("with JavaScript", () => {
  test("typed and kept without network it stays on the telephone, and is sent by itself when the network is back", async () => {
    const { page, context, complaints } = await opened("mara");
    await context.setOffline(true);
    await fill(testOn(page, ONE), "1,80");
    await toldOf(testOn(page, ONE), /^Kept on this telephone, not yet sent\.$/);
    await keep(testOn(page, ONE));
    await toldOf(testOn(page, ONE), /^Kept on this telephone, not yet sent: no connection/);
    await fill(testOn(page, OTHER), "2090");
    expect(await page.locator("[data-waiting]").textContent()).toBe("2 records are kept on this telephone and not yet in the office.");
    await picture(page, "results-offline-390");
    expect(await entries()).toEqual([]);
    await context.setOffline(false);
    await toldOf(testOn(page, ONE), /^Kept in the office\.$/);
    await toldOf(testOn(page, OTHER), /^Kept in the office\.$/);
    expect(await readings()).toEqual([`${ONE} 1: as planned 1.80 rpm`, `${OTHER} 1: as planned 2090 rpm`]);
    expect(await testOn(page, ONE).locator("summary").textContent()).toMatch(/read 1\.80 rpm, within limits/);
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
    await fill(testOn(page, ONE), "2070");
    await keep(testOn(page, ONE));
    await toldOf(testOn(page, ONE), /not yet sent: no connection/);
    expect(await readings()).toEqual([`${ONE} 1: as planned 2070 rpm`]);
    await page.unroute("**/results/keep");
    await context.setOffline(true);
    await fill(testOn(page, OTHER), "2090");
    await page.close();
    await context.setOffline(false);
    const next = await context.newPage();
    await next.goto(`${served.url}/visits/${visit}/results`);
    await toldOf(testOn(next, OTHER), /^Kept in the office\.$/);
    expect(await readings()).toEqual([`${ONE} 1: as planned 2070 rpm`, `${OTHER} 1: as planned 2090 rpm`]);
    expect(await next.evaluate(() => Object.keys(localStorage))).toEqual([]);
  });

  test("a half record is sent by nobody but who presses Keep, and is told by field", async () => {
    const { page } = await opened("mara");
    const one = testOn(page, ONE);
    await unfold(one);
    await keep(one);
    await toldOf(one, /^Say first what became of the test\.$/);
    await one.getByLabel("Reading", { exact: true }).fill("2070");
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
    expect(await readings()).toEqual([`${ONE} 1: as planned 2070 rpm`]);
  });

  test("what somebody else entered meanwhile is shown and not overwritten until Keep is pressed, also after the page is opened again", async () => {
    const { page, context } = await opened("mara");
    await context.setOffline(true);
    await fill(testOn(page, ONE), "2070");
    const theirs = { on: "2026-04-29", outcome: "not done", planned: [], why: "no load" };
    await served.office.store.keepResults(visit, [{ at: ONE, value: theirs, seen: 0 }], {
      who: served.people.odo,
      when: served.office.world.now(),
    });
    await context.setOffline(false);
    const met = /^Entered meanwhile by Odo.*Not done: no load\. Yours is kept on this telephone only\./;
    await toldOf(testOn(page, ONE), met);
    await page.reload();
    await toldOf(testOn(page, ONE), met);
    expect(await testOn(page, ONE).getByLabel("Reading", { exact: true }).inputValue()).toBe("2070");
    expect(await readings()).toEqual([`${ONE} 1: not done`]);
    await keep(testOn(page, ONE));
    await toldOf(testOn(page, ONE), /^Kept in the office\.$/);
    expect(await readings()).toEqual([`${ONE} 2: as planned 2070 rpm`, `${ONE} 1: not done`]);
  });

  test("another person on the same device sees nothing of it, and it is sent for nobody but its writer", async () => {
    const { page, context } = await opened("mara");
    await context.setOffline(true);
    await fill(testOn(page, ONE), "2070");
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
