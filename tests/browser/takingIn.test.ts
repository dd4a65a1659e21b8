import { truncateSync, writeFileSync } from "node:fs";
import { request as ask } from "node:http";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { formToken } from "../../lib/access/formToken.ts";
import type { SentLetter } from "../../lib/store/exchanges.ts";
import { askedThen } from "../../lib/usecases/exchange/askedStored.ts";
import { mailKept, readKept } from "../../lib/usecases/exchange/loadReply.ts";
import { scratch } from "../cli/cli.ts";
import { byPdfLib } from "../reply/fill.ts";
import { newVisitor, openBrowser, signIn } from "./browser.ts";
import { letterSent, questionsIn, replyConfirmed } from "./replies.ts";
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

const pageOf = ({ visit, id }: SentLetter): string => `${served.url}/visits/${visit}/exchange/${id}`;
const press = async (page: Page, words: string): Promise<void> => {
  await Promise.all([page.waitForEvent("load"), page.click(`button:text-is("${words}")`)]);
};
const old = (): Promise<string> => loaded(served, "old-mechanical", served.people.mara);
const pdf = (name: string, buffer: Uint8Array) => ({ name, mimeType: "application/pdf", buffer: Buffer.from(buffer) });

describe.each([true, false])("with JavaScript: %s", (javaScriptEnabled) => {
  const visitor = async (): Promise<Page> => {
    const { page } = await newVisitor(browser, { javaScriptEnabled });
    await signIn(page, served.url, "mara");
    return page;
  };

  test("a reply is taken in only once everything is decided and shown; then the plan has changed", async () => {
    const page = await visitor();
    const visit = await old();
    const letter = await replyConfirmed(served, visit);
    const before = (await served.office.store.visit(visit))?.version;
    await page.goto(pageOf(letter));
    await press(page, "Take in what is chosen");
    const undecided = await page.locator("#problems li").allTextContents();
    expect(undecided.length).toBeGreaterThan(3);
    for (const radio of await page.locator("input[value=leave]").all()) await radio.check();
    const way = page.locator("fieldset:has(input[value=take]:not([disabled])):has-text('The way proposed')").first();
    await way.locator("input[value=take]").check();
    const ref = (await way.locator("input[value=take]").getAttribute("id"))?.replace("-take", "") ?? "";
    await press(page, "Take in what is chosen");
    // What is missing is told at its field before anything else is.
    expect(await page.textContent("#problems")).toContain(`${ref}: reason`);
    expect(await page.getAttribute("#problems a", "href")).toBe(`#${ref}-reason`);
    expect(await page.getAttribute(`#${ref}-reason`, "aria-invalid")).toBe("true");
    await page.click("summary >> text=Plain, taken together");
    await page.uncheck("input[name=plain] >> nth=0");
    await page.fill(`#${ref}-reason`, "the crew is used to it");
    await press(page, "Take in what is chosen");
    // Decided, but not shown yet: nothing is taken in unseen.
    expect(await page.textContent("#problems")).toContain("Nothing was taken in yet");
    expect(await page.inputValue(`#${ref}-reason`)).toBe("the crew is used to it");
    expect(await page.locator("dl.before-after").first().textContent()).toContain(ref);
    expect((await served.office.store.visit(visit))?.version).toBe(before);
    await press(page, "Take in what is chosen");
    expect(await page.textContent("h1")).toContain("Reply taken in");
    expect(await page.textContent("main")).toContain("Reason: the crew is used to it");
    await page.goto(`${served.url}/visits/${visit}/board`);
    expect(await page.locator(".deviates").count()).toBe(1);
    const log = (await served.office.store.audited(50)).map(({ act }) => act);
    expect(log).toContain("reply taken in");
    await page.goto(`${served.url}/visits/${visit}/record`);
    expect(await page.textContent("main")).toContain("the crew is used to it");
    await page.goto(pageOf(letter));
    await page.click("summary >> text=Take it back");
    await press(page, "Take it back");
    expect(await page.textContent("h1")).toContain("Take in the reply");
    expect(await page.isChecked(`#${ref}-take`)).toBe(true);
    expect(await page.inputValue(`#${ref}-reason`)).toBe("the crew is used to it");
    await page.goto(`${served.url}/visits/${visit}/board`);
    expect(await page.locator(".deviates").count()).toBe(0);
    await page.context().close();
  });

  test("a message is kept as it was pasted, shown as it was understood, and confirmed", async () => {
    const page = await visitor();
    const { letter, asked } = await letterSent(served, await old());
    const { choice } = questionsIn(asked);
    const text = `Dear Mara\n${choice.ref}: ${choice.choices[0]?.label}\nQ999: yes`;
    await page.goto(pageOf(letter));
    await page.fill("#mail", text);
    await press(page, "Read it");
    expect(await page.textContent("#problems")).toContain("Who answers: please give");
    expect(await page.inputValue("#mail")).toBe(text);
    await page.fill("#mail-name", "Łukasz Wrona");
    await press(page, "Read it");
    const panel = await page.textContent(".panel");
    expect(panel).toContain(choice.choices[0]?.label);
    expect(panel).toContain("Line 3: “Q999: yes”");
    expect((await served.office.store.replyOf(letter.id)).confirmed).toBeUndefined();
    await press(page, "It is right: this is the vessel’s reply");
    expect(await page.textContent("h1")).toContain("Take in the reply");
    expect(await page.textContent("main")).toContain("Mara Tellingen, from the vessel’s e-mail");
    await page.context().close();
  });
});

test("a filled form is read and shown; what is no form of this letter is told and takes nothing", async () => {
  const { page } = await newVisitor(browser);
  await signIn(page, served.url, "mara");
  const render = served.office.letters.render;
  const visit = await old();
  const { letter } = await letterSent(served, visit, render);
  const paper = (await served.office.store.made(letter.made))?.pdf ?? new Uint8Array();
  const { choice } = questionsIn(askedThen(letter.asked));
  const values = new Map([
    ["by.name", "Łukasz Wrona"],
    [`q.${choice.ref}.answer`, choice.choices[0]?.label ?? ""],
  ]);
  const load = async (file: ReturnType<typeof pdf>): Promise<string> => {
    await page.goto(pageOf(letter));
    await page.setInputFiles("#file", file);
    await press(page, "Read the form");
    return (await page.locator("#problems").count()) === 0 ? "" : ((await page.textContent("#problems")) ?? "");
  };
  expect(await load(pdf("photo.pdf", Buffer.from("no pdf at all")))).toContain("a file that is no PDF");
  expect(
    await load(
      pdf(
        "letter.pdf",
        await byPdfLib(
          paper,
          new Map([
            ["by.name", "Ł"],
            [`q.${choice.ref}.by`, "soon"],
          ]),
        ),
      ),
    ),
  ).toContain(`${choice.ref}: “`);
  expect((await served.office.store.replyOf(letter.id)).confirmed).toBeUndefined();
  expect(await load(pdf("letter.pdf", await byPdfLib(paper, values)))).toBe("");
  expect(await page.textContent(".panel")).toContain(choice.choices[0]?.label);
  await press(page, "It is right: this is the vessel’s reply");
  expect((await served.office.store.replyOf(letter.id)).confirmed?.who).toBe("Mara Tellingen, from the filled form");
  await page.context().close();
}, 180_000);

test("a file that is too large is turned away with clear words, before any of it is read", async () => {
  const { letter } = await letterSent(served, await old());
  const { page } = await newVisitor(browser);
  await signIn(page, served.url, "mara");
  const sized = async (megabytes: number): Promise<string> => {
    const path = join(scratch(), "letter.pdf");
    writeFileSync(path, "");
    truncateSync(path, megabytes * 1024 * 1024);
    await page.goto(pageOf(letter));
    await page.setInputFiles("#file", path);
    await press(page, "Read the form");
    return (await page.textContent("main")) ?? "";
  };
  // What may come is not cut off on its way: it is read whole, and is no PDF.
  expect(await sized(30)).toContain("a file that is no PDF");
  expect(await sized(48)).toContain("at most 40 MB can be sent to this page");
  // A larger one is answered though not one byte of it was sent.
  const status = await new Promise<number | undefined>((done, fail) => {
    const headers = { "content-length": String(200 * 1024 * 1024), "content-type": "multipart/form-data; boundary=x", origin: served.url };
    const sending = ask(`${pageOf(letter)}/load`, { method: "POST", headers }, (answer) => {
      done(answer.statusCode);
      sending.destroy();
    });
    sending.on("error", fail);
    sending.flushHeaders();
  });
  expect(status).toBe(413);
  await page.context().close();
});

test("what is pasted by somebody who was signed out meanwhile is kept for him", async () => {
  const { letter } = await letterSent(served, await old());
  const token = formToken(served.people.mara, served.office.secret, served.office.clock());
  const body = new URLSearchParams({ token, mail: "Q1: dry", name: "Łukasz", role: "" });
  const answer = await fetch(`${pageOf(letter)}/read`, { method: "POST", headers: { origin: served.url }, body, redirect: "manual" });
  expect(answer.headers.get("location")).toContain("/sign-in");
  expect(await mailKept(served.office.store, letter, served.people.mara)).toEqual({ text: "Q1: dry", name: "Łukasz", role: "" });
  expect(await readKept(served.office.store, letter, served.people.mara)).toBeNull();
});

test("whoever keys a reply in for the vessel gets a link of his own for a day, named so", async () => {
  const { letter } = await letterSent(served, await old());
  const { page } = await newVisitor(browser);
  await signIn(page, served.url, "mara");
  await page.goto(pageOf(letter));
  const answer = page.waitForResponse((one) => one.url().endsWith("/key-in"));
  await page.click("text=Key it in on behalf of the vessel");
  expect((await answer).headers()["location"]).toBe("/reply");
  const links = await served.office.store.linksOf(letter.id);
  expect(links.map(({ recipient }) => recipient)).toContain("Mara Tellingen, on behalf of the vessel");
  expect((await page.context().cookies(`${served.url}/reply`)).map(({ name }) => name)).toContain("forehail-reply");
  await page.context().close();
});
