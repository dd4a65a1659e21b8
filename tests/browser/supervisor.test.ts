import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { officePolicySchema } from "../../lib/model/officePolicy.ts";
import { newVisitor, openBrowser, signIn } from "./browser.ts";
import { loadedNow } from "./sent.ts";
import { type Served, serve } from "./server.ts";

let served: Served;
let browser: Browser;

beforeAll(async () => {
  [served, browser] = [await serve(), await openBrowser()];
  const { store, world } = served.office;
  const by = { who: served.people.odo, when: world.now() };
  await store.addPolicy(officePolicySchema.parse({ review: { deviations: true } }), "two see it", { versions: 0, acts: 0 }, by);
  await store.decidePolicy(1, { act: "adopted", takesEffect: by.when.slice(0, 10) }, "agreed", { acts: 0 }, by);
}, 120_000);
afterAll(async () => {
  await browser.close();
  await served.stop();
});

const press = async (page: Page, what: string): Promise<void> => {
  await Promise.all([page.waitForEvent("load"), page.click(what)]);
};

describe.each([true, false])("JavaScript %s", (javaScriptEnabled) => {
  test("a plan is sent back, asked for again, approved, and only then may its letter go; the finding is settled", async () => {
    const [visit, alike] = [await loadedNow(served, "old-mechanical", 3), await loadedNow(served, "old-mechanical", 3)];
    const mara = (await newVisitor(browser, { javaScriptEnabled })).page;
    const odo = (await newVisitor(browser, { javaScriptEnabled })).page;
    await signIn(mara, served.url, "mara");
    await signIn(odo, served.url, "odo");
    const at = (path: string): string => `${served.url}/visits/${visit}${path}`;

    await mara.goto(at("/tests/1/overspeed"));
    await mara.check("input[value=os-lever]");
    await mara.fill("#reason", `quicker ${javaScriptEnabled}`);
    await press(mara, "form[action$='/choose'] button[type=submit]");
    await mara.goto(at("/letter"));
    expect(await mara.innerText("main")).toContain("approved by a supervisor before a letter goes out; its review was not asked for yet");
    expect(await mara.locator("text=Make the letter (PDF)").count()).toBe(0);
    expect(await mara.locator("form[action$='/exchange/send']").count()).toBe(0);

    await mara.click("text=To the review");
    await mara.waitForSelector("#words");
    await mara.fill("#words", "for Monday");
    await press(mara, "text=Ask for review >> nth=-1");
    expect(await mara.innerText("[role=status]")).toContain("The review is asked for");
    await mara.goto(`${served.url}/visits/${alike}/review`);
    await press(mara, "button:text('Ask for review')");

    await odo.goto(`${served.url}/reviews`);
    await odo.click(`a[href="/visits/${visit}/review"] >> nth=0`);
    await odo.waitForSelector("#decide");
    expect(await odo.innerText("main")).toContain(`quicker ${javaScriptEnabled}`);
    await press(odo, "button:text('Send back')");
    expect(await odo.innerText("#problems")).toContain("Reasons: given nothing");
    await odo.click("article.reviewed summary >> nth=0");
    await odo.fill("article.reviewed textarea >> nth=0", "why not raise it?");
    await press(odo, "button:text('Send back')");
    expect((await served.office.store.reviewOf(visit)).map(({ act }) => act)).toEqual(["asked", "sent back"]);

    await mara.goto(`${served.url}/visits`);
    expect(await mara.innerText("main")).toContain("Sent back by the supervisor");
    await mara.goto(at("/review"));
    expect(await mara.innerText("article.reviewed >> nth=0")).toContain("why not raise it?");
    await press(mara, "button:text('Ask for review')");

    await odo.goto(`${served.url}/consistency?vessel=Kestrel`);
    expect(await odo.innerText("main")).toContain("same facts, different ways");
    const finding = odo.locator("article.finding", { hasText: `quicker ${javaScriptEnabled}` }).first();
    await finding.locator("summary", { hasText: "Settle it" }).click();
    await finding.locator("label", { hasText: "Accepted" }).click();
    await finding.locator("textarea").fill("its lever was set with the maker");
    await Promise.all([odo.waitForEvent("load"), finding.locator("button[type=submit]").click()]);
    expect(await odo.innerText("[role=status]")).toContain("Settled (accepted)");
    expect(await odo.locator("article.finding", { hasText: `quicker ${javaScriptEnabled}` }).count()).toBe(0);

    await odo.goto(at("/review"));
    await press(odo, "button:text('Approve as it stands')");
    await mara.goto(at("/letter"));
    expect(await mara.innerText("main")).not.toContain("before a letter goes out");
    await press(mara, "text=Make the letter (PDF)");
    expect((await served.office.store.madeOf(visit)).length).toBe(1);
    await mara.context().close();
    await odo.context().close();
  }, 180_000);
});

test("a draft of a policy is tried on all plans, and so is this program’s rulebook, which changes nothing", async () => {
  const odo = (await newVisitor(browser, { javaScriptEnabled: false })).page;
  await signIn(odo, served.url, "odo");
  const { store, world } = served.office;
  const by = { who: served.people.odo, when: world.now() };
  await store.addPolicy(
    officePolicySchema.parse({ plan: { loadLimit: 30, mayStayOpen: ["wiring"] } }),
    "strict",
    { versions: 1, acts: 1 },
    by,
  );
  await odo.goto(`${served.url}/what-if?policy=2`);
  await press(odo, "button:text('Try it on all plans') >> nth=0");
  await odo.waitForSelector("text=would be others", { timeout: 60_000 }).catch(() => odo.reload());
  expect(await odo.innerText("main")).toMatch(/\d+ decisions? of \d+ of \d+ plans? would be others/);
  await odo.goto(`${served.url}/what-if`);
  await press(odo, "button:text('Try it on all plans') >> nth=1");
  for (let tries = 0; tries < 20 && (await odo.locator("progress").count()) > 0; tries += 1) await odo.reload();
  expect(await odo.innerText("main")).toMatch(/Nothing would be decided otherwise in \d+ plans?\./);
  await odo.context().close();
});
