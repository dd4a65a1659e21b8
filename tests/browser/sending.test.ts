import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { simpleParser } from "mailparser";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { markOf } from "../../lib/access/invitation.ts";
import { openLink } from "../../lib/usecases/exchange/reply.ts";
import { newVisitor, openBrowser, signIn } from "./browser.ts";
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

const press = async (page: Page, words: string): Promise<void> => {
  await Promise.all([page.waitForEvent("load"), page.click(`button:has-text("${words}") >> nth=0`)]);
};
const linksOn = (page: Page): Promise<readonly string[]> => page.locator(".once .code").allInnerTexts();
const codeIn = (link: string): string => link.split("/").at(-1) ?? "";
const opens = async (link: string | undefined): Promise<boolean> =>
  (await openLink(served.office.store, codeIn(link ?? ""), served.office.world.now())) !== null;
const mails = () =>
  Promise.all(readdirSync(join(served.folder, "outbox")).map((file) => simpleParser(readFileSync(join(served.folder, "outbox", file)))));

const SLOW = 120_000;

test.each([
  ["with", true],
  ["without", false],
])(
  "a letter is sent from its page, once, its links told once, renewed, withdrawn and reminded of: %s JavaScript",
  async (_, script) => {
    const id = await loadedNow(served, "old-mechanical", 1);
    const { page, context, complaints } = await newVisitor(browser, { javaScriptEnabled: script });
    await signIn(page, served.url, "mara");
    await page.goto(`${served.url}/visits/${id}/letter`);
    await press(page, "Count from today");
    expect(await page.locator(".note").innerText()).toContain("counts from today");
    expect(await page.locator("text=counts its days from").count()).toBe(0);

    // What is wrong is told by its field, and what was typed stays.
    await page.fill("#name-1", "The chief engineer");
    await page.uncheck("#to-1");
    await press(page, "Send letter 1");
    expect(await page.locator("#address-1-fault").innerText()).toContain("please give");
    expect(await page.inputValue("#name-1")).toBe("The chief engineer");
    expect(await page.isChecked("#to-1")).toBe(false);
    await page.check("#to-1");
    await page.fill("#address-1", "chief@ship.example");

    // Pressed twice it goes out once, and whoever pressed is told the links all the same.
    await page.dblclick("button:has-text('Send letter 1')");
    await page.waitForURL(/links=/, { timeout: SLOW });
    const links = await linksOn(page);
    expect(links).toHaveLength(2);
    expect(await served.office.store.sentOf(id)).toHaveLength(1);
    for (const link of links) expect(await opens(link)).toBe(true);
    const out = await mails();
    for (const link of links) expect(out.filter(({ text }) => text?.includes(link))).toHaveLength(1);
    await page.reload();
    expect(await linksOn(page)).toEqual([]);
    expect(await page.locator(".note").innerText()).toContain("shown already");
    for (const code of links.map(codeIn)) {
      expect(await served.kept()).toContain(markOf(code));
      expect(await served.kept()).not.toContain(code);
    }
    await page.goto(`${served.url}/visits`);
    expect(await page.locator(`a[href="/visits/${id}/exchange"]`).innerText()).toMatch(/^Letter 1 sent, reply due \d/);

    // A page of before sends nothing more.
    const form = { number: "1", version: "1", kind: "letter", to: "1", token: await page.inputValue("input[name=token] >> nth=0") };
    const late = await context.request.post(`${served.url}/visits/${id}/exchange/send`, { form, headers: { origin: served.url } });
    expect(await late.text()).toContain("Letter 1 was sent already");
    expect(await served.office.store.sentOf(id)).toHaveLength(1);

    await page.goto(`${served.url}/visits/${id}/exchange`);
    await page.click("summary:text-is('Renew') >> nth=0");
    await page.uncheck("input[name=mail] >> nth=0");
    await press(page, "Renew: a new one");
    const [renewed] = await linksOn(page);
    expect([await opens(links[0]), await opens(renewed), await opens(links[1])]).toEqual([false, true, true]);
    expect((await mails()).filter(({ text }) => text?.includes(renewed ?? "-"))).toEqual([]);
    await page.click("summary:text-is('Withdraw') >> nth=0");
    await press(page, "Withdraw it");
    expect(await opens(renewed)).toBe(false);
    expect(await page.locator(".note").innerText()).toContain("is withdrawn");

    await press(page, "Remind");
    const [reminded, ...others] = await linksOn(page);
    // Whose link was withdrawn is not asked any more.
    expect(others).toEqual([]);
    expect(await opens(reminded)).toBe(true);
    expect((await mails()).find(({ text }) => text?.includes(reminded ?? "-"))?.subject).toMatch(/^Reminder: /);
    expect(await page.locator("button:has-text('Remind')").count()).toBe(0);
    expect(await page.locator("#remind").innerText()).toContain("reminded today already");

    // The exchange is ended by intent only, and nothing goes out that was not looked at as it stands.
    await page.goto(`${served.url}/visits/${id}/letter`);
    await page.click("summary:has-text('End without settling')");
    // What it comes to is said before the button: nobody answered, so that every test waits and the visit is called off.
    const foretold = await page.locator("details:has(#end)").innerText();
    expect(foretold).toMatch(/Done on this visit\s+No test\.[\s\S]+T\d.*: .*a confirmation of R\d/);
    expect(foretold).toContain("calls the visit");
    await press(page, "End it with letter 2");
    expect(await page.locator("#end-fault").innerText()).toContain("nothing was sent");
    const moved = { ...form, number: "2" };
    const old = await context.request.post(`${served.url}/visits/${id}/exchange/send`, { form: moved, headers: { origin: served.url } });
    expect(await old.text()).not.toContain("went wrong");
    // Whoever had to wait for papers of others is told by the page that comes then.
    const told = await context.request.get(`${served.url}/visits/${id}/letter?again=1&units=metric`);
    expect(await told.text()).toContain("The visit was changed after you opened this page");
    expect(await served.office.store.sentOf(id)).toHaveLength(1);
    const said = JSON.stringify(await served.office.store.audited(500));
    for (const act of ["letter sent", "link renewed", "link withdrawn", "reminded"]) expect(said).toContain(`"${act}"`);
    for (const link of [...links, renewed, reminded]) expect(said).not.toContain(codeIn(link ?? "-"));
    expect(complaints).toEqual([]);
    await context.close();
  },
  300_000,
);
