import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { linkIdOf, linkName, markOf } from "../../lib/access/invitation.ts";
import { DEMO_PASSWORD } from "../../lib/cli/demoPeople.ts";
import { newVisitor, openBrowser, signIn } from "./browser.ts";
import { loadedNow, sentNow } from "./sent.ts";
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

const press = async (page: Page, what: string): Promise<void> => {
  await Promise.all([page.waitForEvent("load"), page.click(what)]);
};

test("an invitation is told once, to whoever made it, and its code stands nowhere", async () => {
  const odo = (await newVisitor(browser, { javaScriptEnabled: false })).page;
  await signIn(odo, served.url, "odo");
  await odo.goto(`${served.url}/people`);
  await press(odo, 'form[action="/people/invite"] button');
  const link = await odo.innerText(".note .code");
  const code = new URL(link).searchParams.get("code") ?? "";
  expect(await odo.innerText(".note")).toContain(linkName(linkIdOf(code)));
  expect(await served.kept()).toContain(markOf(code));
  expect(await served.kept()).not.toContain(code);
  await odo.reload();
  expect(await odo.locator(".note .code").count()).toBe(0);
  expect(await odo.innerText("table:has([aria-label^=Withdraw])")).toContain(linkName(linkIdOf(code)));
  expect(await odo.innerText("[role=status]")).toContain("A link is shown once");
  expect(await served.office.accounts.refused(code, served.office.clock())).toBeNull();
});

test("a link that was not used yet is listed and withdrawn; whoever withdraws it a second time is told", async () => {
  const { accounts, clock } = served.office;
  const code = await accounts.invite("supervisor", served.people.odo, clock());
  const link = linkName(linkIdOf(code));
  const odo = (await newVisitor(browser, { javaScriptEnabled: false })).page;
  await signIn(odo, served.url, "odo");
  await odo.goto(`${served.url}/people`);
  const other = await odo.context().newPage();
  await other.goto(`${served.url}/people`);
  const button = `[aria-label^="Withdraw ${link}"]`;
  await press(odo, button);
  expect(await odo.innerText("[role=status]")).toBe(`Withdrawn: ${link} opens nothing any more.`);
  expect(await odo.locator(button).count()).toBe(0);
  expect(await accounts.refused(code, clock())).toContain("or was withdrawn; ask your supervisor");
  await press(other, button);
  expect(await other.innerText("#problems")).toContain("This link was used or withdrawn already");
  await odo.goto(`${served.url}/log`);
  expect(await odo.innerText(`tr:has-text("one-time link withdrawn"):has-text("${link}")`)).toContain("supervisor");
});

describe.each([true, false])("JavaScript %s", (javaScriptEnabled) => {
  test("a forgotten password is set by a link that the supervisor passes on, once, and the log tells who made it", async () => {
    const odo = (await newVisitor(browser, { javaScriptEnabled })).page;
    await signIn(odo, served.url, "odo");
    await odo.goto(`${served.url}/people/${served.people.ilse}`);
    await press(odo, 'form[action$="/password"] button');
    const link = await odo.innerText(".note .code");
    const name = linkName(linkIdOf(new URL(link).searchParams.get("code") ?? ""));
    const ilse = (await newVisitor(browser, { javaScriptEnabled })).page;
    await ilse.goto(link);
    expect(await ilse.innerText("main")).toContain("who signs in as ilse@office.example");
    await ilse.fill("#password", "short");
    await press(ilse, "text=Set the password");
    expect(await ilse.innerText("#password-fault")).toContain("The password needs at least 12 characters");
    const words = `seven herons over the ${javaScriptEnabled ? "weir" : "dam"}`;
    await ilse.fill("#password", words);
    await press(ilse, "text=Set the password");
    expect(await ilse.innerText("[role=status]")).toContain("Your password is set");
    await ilse.fill("#email", "ilse@office.example");
    await ilse.fill("#password", words);
    await press(ilse, "button:text('Sign in')");
    expect(new URL(ilse.url()).pathname).toBe("/visits");
    await ilse.goto(link);
    expect(await ilse.innerText("main")).toContain("This link was used already");
    await odo.goto(`${served.url}/log`);
    expect(await odo.innerText(`tr:has-text("password link made"):has-text("${name}")`)).toContain("Odo Varnhem");
    expect(await odo.innerText(`tr:has-text("password set"):has-text("${name}")`)).toContain("Ilse");
    await odo.goto(`${served.url}/people/${served.people.odo}`);
    expect(await odo.locator('form[action$="/password"]').count()).toBe(0);
    const { accounts, clock } = served.office;
    const back = await accounts.passwordLink({ id: served.people.ilse, role: "inspector" }, served.people.odo, clock());
    expect((await accounts.setPassword(back, DEMO_PASSWORD, clock())).ok).toBe(true);
  });

  test("a recipient is found, given a copy and erased; record, exchange, list and log read on", async () => {
    const visit = await loadedNow(served, "old-mechanical");
    await sentNow(served, visit);
    const odo = (await newVisitor(browser, { javaScriptEnabled })).page;
    await signIn(odo, served.url, "odo");
    await odo.click("footer >> text=What is kept about people");
    await odo.fill("#who", "CHIEF@ship.example");
    await press(odo, "button:text('Find the person')");
    expect(await odo.innerText("h1")).toContain("Chief engineer Łukasz");
    const copy = await odo.request.get(`${served.url}/privacy/person/export?who=chief%40ship.example`);
    expect(await copy.json()).toMatchObject({ format: "forehail person 1", person: { addresses: ["chief@ship.example"] } });

    await press(odo, "text=Erase the person");
    expect(await odo.innerText("#problems")).toContain("Once more: given nothing; wanted chief@ship.example");
    await odo.fill("#again", "chief@ship.example");
    await press(odo, "text=Erase the person");
    expect(await odo.innerText("[role=status]")).toMatch(/Erased\. What stays is of “Erased person [0-9a-f]{8}”/);
    expect(await served.office.privacy.find("chief@ship.example")).toBeNull();

    for (const path of [`/visits/${visit}/record`, `/visits/${visit}/exchange`, "/visits", "/log"]) {
      const answer = await odo.goto(`${served.url}${path}`);
      expect(answer?.status(), path).toBe(200);
      expect(await odo.innerText("body"), path).not.toContain("Łukasz");
    }
    expect(await odo.innerText("main")).toContain("person erased");
    await odo.goto(`${served.url}/visits/${visit}/record`);
    expect(await odo.innerText("main")).toContain("Erased person");
  });

  test("a visit that is long past is removed once it is ticked and confirmed; everybody loads a copy of his own", async () => {
    const visit = await loadedNow(served, "modern-electronic", 800);
    const odo = (await newVisitor(browser, { javaScriptEnabled })).page;
    await signIn(odo, served.url, "odo");
    await odo.goto(`${served.url}/privacy/visits?years=1`);
    await odo.check(`#v-${visit}`);
    await press(odo, "text=Remove the ticked visits");
    expect(await odo.innerText("#problems")).toContain("cannot be brought back");
    expect(await odo.isChecked(`#v-${visit}`)).toBe(true);
    await odo.check("#sure");
    await press(odo, "text=Remove the ticked visits");
    expect(await odo.innerText("[role=status]")).toContain("One visit was removed");
    expect(await served.office.store.visit(visit)).toBeNull();

    const mara = (await newVisitor(browser, { javaScriptEnabled })).page;
    await signIn(mara, served.url, "mara");
    const own = await mara.request.get(`${served.url}/account/export`);
    expect(await own.json()).toMatchObject({ person: { names: ["Mara Tellingen"] } });
    expect((await mara.request.get(`${served.url}/privacy/person?who=odo%40office.example`, { maxRedirects: 0 })).status()).toBe(307);
  });
});
