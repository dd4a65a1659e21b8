import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { simpleParser } from "mailparser";
import type { Browser, Page } from "playwright-core";
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

/** Answers everything that a page of the reply asks: the first choice, yes, agreed; a number is left to be found out. */
const answered = async (page: Page): Promise<void> => {
  for (const place of await page.locator("fieldset[id]").all()) {
    const id = (await place.getAttribute("id")) ?? "";
    const radios = place.locator("input[type=radio]");
    if (id.startsWith("Q") && (await radios.count()) > 0) await radios.first().check();
    if (id.startsWith("Q") && (await radios.count()) === 0) await place.locator("input[type=text]").first().fill("not known");
    if (id.startsWith("R")) await place.locator('input[value="yes"]').check();
    if (id.startsWith("T")) await place.locator('input[value="agreed"]').check();
  }
};

/** The whole reply, as the superintendent gives it on a telephone without scripts. */
const reply = async (link: string): Promise<void> => {
  const { page, context } = await newVisitor(browser, { javaScriptEnabled: false, viewport: { width: 390, height: 800 } });
  await page.goto(link);
  await page.click("text=Open the reply");
  await page.fill('[name="by.name"]', "Rosaura Dañobeitia");
  for (let pages = 0; pages < 40 && (await page.textContent("h1")) !== "Check and send"; pages += 1) {
    await answered(page);
    await page.click(".acts button >> nth=0");
  }
  await page.click("text=Confirm and send");
  expect(await page.textContent("h1")).toBe("The reply is confirmed and sent");
  const receipt = await context.request.get(`${served.url}/reply/receipt`);
  expect(receipt.headers()["content-type"]).toBe("application/pdf");
  expect((await receipt.body()).subarray(0, 5).toString()).toBe("%PDF-");
  await context.close();
};

const MOST_LETTERS = 4;

test("letter, reply, taking in, and again, until a letter says that all is settled; each side sees where it stands", async () => {
  const id = await loadedNow(served, "modern-electronic");
  const { page } = await newVisitor(browser);
  page.setDefaultTimeout(90_000);
  await signIn(page, served.url, "mara");
  const at = (end: string): Promise<unknown> => page.goto(`${served.url}/visits/${id}${end}`);
  for (let letters = 1; letters <= MOST_LETTERS; letters += 1) {
    await at("/letter");
    if ((await page.locator('button:has-text("Send the settled letter")').count()) > 0) break;
    await page.click(`button:has-text("Send letter ${letters}")`);
    const link = await page.locator(".once .code").first().innerText();
    await reply(link);
    await at("/exchange");
    await page.click('a:has-text("Take in the reply to")');
    await page.click("text=Take in what is chosen");
    expect(await page.textContent("main")).toContain("taken");
  }
  await page.click('button:has-text("Send the settled letter")');
  // On a busy machine a page that says so stands before it, and goes on by itself.
  await page.waitForSelector("main >> text=the visit is settled");
  const words = (await page.textContent("main")) ?? "";
  expect(words).toContain("the visit is settled");
  expect(words).not.toContain("Shown this once");
  await page.goto(`${served.url}/visits`);
  // The first reply changed how tests are done: the second letter told it before anything counted as settled.
  expect(await page.textContent("tbody")).toContain("Settled with letter 3");
  const mails = await Promise.all(
    readdirSync(join(served.folder, "outbox")).map((file) => simpleParser(readFileSync(join(served.folder, "outbox", file)))),
  );
  expect(mails).toHaveLength(3);
  const [asks, ends] = [mails.find(({ text }) => text?.includes("/reply/")), mails.find(({ text }) => !text?.includes("/reply/"))];
  expect(asks?.attachments).toHaveLength(2);
  expect(ends?.text).toContain("Nothing need be answered");
  await at("/record");
  const record = (await page.textContent("main")) ?? "";
  for (const told of ["Rosaura Dañobeitia", "Letter 3", "Confirmed with letter 1"]) expect(record).toContain(told);
  await picture(page, "record-settled");
}, 300_000);
