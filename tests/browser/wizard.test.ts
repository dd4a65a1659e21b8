import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { glanceOf, sumOf } from "../../lib/flow/glance.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { ROOT, scratch, visit } from "../cli/cli.ts";
import { VISITS } from "../golden/golden.ts";
import { newVisitor, openBrowser, picture, signIn, type Visitor } from "./browser.ts";
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

const byMara = async (options: Parameters<typeof newVisitor>[1] = {}): Promise<Visitor> => {
  const visitor = await newVisitor(browser, options);
  await signIn(visitor.page, served.url, "mara");
  return visitor;
};

const heading = (page: Page): Promise<string> => page.locator("h1").innerText();
const next = async (page: Page): Promise<void> => {
  await Promise.all([page.waitForEvent("load"), page.click("text=Save and continue")]);
};
const choose = (page: Page, at: string, value: string): Promise<void> => page.check(`input[name="${at}.text"][value="${value}"]`);

const NEW: Readonly<Record<string, string>> = {
  "#p-visit-vessel-name": "Sundalis Reach",
  "#p-visit-place-name": "Haverdyn Roads",
  "#p-visit-window-from": "24 March 2027",
  "#p-visit-window-to": "2027-03-25",
  "#p-policy-office-name": "Office of the Test",
};

/** From an empty list to a letter in hand: two unlike sets, most facts unknown. */
const wholeWizard = async ({ page }: Visitor, withScript: boolean): Promise<string> => {
  await page.click("text=Prepare a new visit");
  for (const [field, text] of Object.entries(NEW)) await page.fill(field, text);
  await page.fill("#p-sets", "Generator 1\nTurbo set");
  await Promise.all([page.waitForEvent("load"), page.click("text=Save and go on to the parts")]);
  expect(await heading(page)).toBe("Parts of this visit");
  const home = page.url();
  await Promise.all([page.waitForEvent("load"), page.click(".button:has-text('Go on')")]);
  expect(await heading(page)).toContain("Rules and procedure");
  await choose(page, "/ruleBasis", "SOLAS with IACS and class practice").catch(async () => {
    await page.locator('input[name="/ruleBasis.text"]').first().check();
  });
  await next(page);
  expect(await heading(page)).toContain("Generator 1");
  await choose(page, "/sets/0/primeMover", "diesel");
  if (withScript) await page.waitForSelector('input[name="/sets/0/cooling.text"]');
  await next(page);
  // Without a script the question that the answer brought is asked first, on the same page.
  if (!withScript) {
    expect(await page.locator(".note").innerText()).toMatch(/brought \d+ more questions/);
    expect(await heading(page)).toContain("Prime mover");
    await choose(page, "/sets/0/cooling", "water");
    await next(page);
  }
  while (!(await heading(page)).includes("Rating")) await next(page);
  await page.fill('input[name="/sets/0/plate/ratedPower.text"]', "1,250 kW");
  await page.fill('input[name="/sets/0/plate/ratedSpeed.text"]', "900");
  await page.check('input[name="/sets/0/plate/voltage.notKnown"]');
  await next(page);
  await page.goto(`${home}/ask/sets/2/machine`);
  await choose(page, "/sets/1/primeMover", "steam turbine");
  await next(page);
  await page.goto(`${home}/board`);
  expect(await page.locator("table.board thead th").allInnerTexts()).toEqual(["Protection", "Generator 1", "Turbo set"]);
  await page.click(".visit-bar >> text=Letter");
  await Promise.all([page.waitForEvent("load"), page.click("text=Make the letter (PDF)")]);
  const download = await Promise.all([page.waitForEvent("download"), page.click("text=Download it (PDF)")]);
  const file = join(scratch(), "letter.pdf");
  await download[0].saveAs(file);
  return execFileSync("pdftotext", ["-layout", file, "-"]).toString("utf8");
};

describe("a whole visit, from an empty list to the letter in hand", () => {
  test.each([
    ["with JavaScript", true],
    ["without JavaScript", false],
  ])("%s", async (_, withScript) => {
    const visitor = await byMara({ javaScriptEnabled: withScript });
    const letter = await wholeWizard(visitor, withScript);
    expect(letter).toContain("Sundalis Reach");
    expect(letter).toContain("Office of the Test");
    expect(letter).toContain("Turbo set");
    const [latest] = await served.office.store.listVisits({ limit: 1 });
    expect(await storedAt(latest?.id ?? "", "/sets/1/plate/ratedPower")).toBe(1250);
    expect(await storedAt(latest?.id ?? "", "/sets/1/plate/voltage")).toBe("not known");
    expect(letter).toMatch(/data plate.* 900 rpm/);
    expect(visitor.complaints).toEqual([]);
    await visitor.context.close();
  });
});

const pageOf = async (visitor: Visitor, name: string, path: string): Promise<string> => {
  const id = await loaded(served, name, served.people.mara);
  await visitor.page.goto(`${served.url}/visits/${id}${path}`);
  return id;
};

const storedAt = async (id: string, at: string): Promise<unknown> => (await served.office.store.visit(id))?.answers.get(at)?.value;

describe("a page of questions", () => {
  test("keeps what is typed by itself, says when, and the plan beside it follows", async () => {
    const visitor = await byMara();
    const { page } = visitor;
    const id = await pageOf(visitor, "old-mechanical", "/ask/sets/1/jacketWaterTemperature");
    const before = await page.locator(".lines li.here").innerText();
    await choose(page, "/sets/0/jacketWaterTemperature/well", "dry");
    await page.waitForFunction((old) => document.querySelector(".lines li.here")?.textContent !== old, before);
    await page.fill('input[name="/sets/0/jacketWaterTemperature/setPoint.text"]', "208 °F");
    await page.waitForFunction(() => /Saved at \d\d:\d\d:\d\d/.test(document.querySelector(".saved")?.textContent ?? ""));
    await expect.poll(() => storedAt(id, "/sets/1/jacketWaterTemperature/setPoint")).toEqual({ value: 208, unit: "°F" });
    expect(await storedAt(id, "/sets/1/jacketWaterTemperature/well")).toBe("dry");
    expect(visitor.complaints).toEqual([]);
    await visitor.context.close();
  });

  test("tells every fault with field, given and wanted, keeps everything typed, and leads to the field", async () => {
    for (const javaScriptEnabled of [true, false]) {
      const visitor = await byMara({ javaScriptEnabled });
      const { page } = visitor;
      await pageOf(visitor, "old-mechanical", "/ask/sets/1/plate");
      await page.fill('input[name="/sets/0/plate/frequency.text"]', "sixty");
      await page.fill('input[name="/sets/0/plate/ratedPower.text"]', "98 °C");
      if (javaScriptEnabled) await page.click("text=Save and continue");
      else await next(page);
      await page.waitForSelector("#problems");
      expect(await page.title()).toMatch(/^Error: /);
      const said = await page.locator("#problems li").allInnerTexts();
      expect(said).toHaveLength(2);
      expect(said.join()).toContain('given "sixty"; wanted a number such as 1250 or 2.5, in Hz');
      expect(await page.inputValue('input[name="/sets/0/plate/frequency.text"]')).toBe("sixty");
      expect(await page.inputValue('input[name="/sets/0/plate/ratedPower.text"]')).toBe("98 °C");
      await page.click("#problems a >> nth=0");
      expect(page.url()).toMatch(/#q-sets-0-plate-/);
      await picture(page, `errors-${javaScriptEnabled ? "script" : "plain"}`);
      await visitor.context.close();
    }
  });

  test("asks about an unlikely value once more, and takes it when it is meant", async () => {
    for (const javaScriptEnabled of [true, false]) {
      const visitor = await byMara({ javaScriptEnabled });
      const { page } = visitor;
      const id = await pageOf(visitor, "old-mechanical", "/ask/sets/1/lubeOilPressure");
      await page.fill('input[name="/sets/0/lubeOilPressure/setPoint.text"]', "8");
      await page.selectOption('select[name="/sets/0/lubeOilPressure/setPoint.unit"]', "bar");
      await page.click("text=Save and continue");
      await page.waitForSelector(".doubt");
      expect(await page.locator(".doubt").innerText()).toContain("8 bar is unusual");
      expect(await storedAt(id, "/sets/1/lubeOilPressure/setPoint")).not.toBe(8);
      await page.check('input[name="/sets/0/lubeOilPressure/setPoint.sure"]');
      await next(page);
      expect(await storedAt(id, "/sets/1/lubeOilPressure/setPoint")).toBe(8);
      await visitor.context.close();
    }
  });

  test("hides what an answer makes void, says so, and brings it back", async () => {
    const visitor = await byMara({ javaScriptEnabled: false });
    const { page } = visitor;
    const id = await pageOf(visitor, "old-mechanical", "/ask/sets/1/machine");
    await choose(page, "/sets/0/primeMover", "steam turbine");
    await next(page);
    expect(await page.locator(".note").last().innerText()).toMatch(/earlier answers do not apply any more and are set aside/);
    await page.goto(`${served.url}/visits/${id}/check`);
    expect(await page.locator("main").innerText()).toContain("Set aside");
    await page.goto(`${served.url}/visits/${id}/ask/sets/1/machine`);
    await choose(page, "/sets/0/primeMover", "diesel");
    await next(page);
    await page.goto(`${served.url}/visits/${id}/check`);
    expect(await page.locator("main").innerText()).not.toContain("Set aside");
    await visitor.context.close();
  });

  test("back and forward show every page in the state last seen", async () => {
    const visitor = await byMara();
    const { page } = visitor;
    await pageOf(visitor, "almost-nothing-known", "/ask/rules");
    await page.locator('input[name="/ruleBasis.text"]').nth(1).check();
    await next(page);
    await page.waitForURL(/sets\/1\/machine/);
    await page.waitForLoadState("networkidle");
    await page.goBack();
    await page.waitForURL(/ask\/rules/);
    expect(await page.locator('input[name="/ruleBasis.text"]').nth(1).isChecked()).toBe(true);
    await page.goForward();
    await page.waitForURL(/sets\/1\/machine/);
    await page.click(".back a");
    await page.waitForURL(/ask\/rules/);
    expect(await page.locator('input[name="/ruleBasis.text"]').nth(1).isChecked()).toBe(true);
    await visitor.context.close();
  });

  test("two people in two tabs: both values are shown, neither is lost", async () => {
    const [mara, odo] = [await byMara({ javaScriptEnabled: false }), await newVisitor(browser, { javaScriptEnabled: false })];
    await signIn(odo.page, served.url, "odo");
    const id = await pageOf(mara, "old-mechanical", "/ask/sets/1/plate");
    await odo.page.goto(mara.page.url());
    await odo.page.fill('input[name="/sets/0/plate/frequency.text"]', "50");
    await odo.page.fill('input[name="/sets/0/plate/voltage.text"]', "400");
    await next(odo.page);
    await mara.page.fill('input[name="/sets/0/plate/frequency.text"]', "59");
    await mara.page.fill('input[name="/sets/0/plate/ratedPower.text"]', "777");
    await next(mara.page);
    expect(await mara.page.locator(".question.wrong").innerText()).toMatch(/Odo Varnhem answered “50 Hz” on .* after you opened this page/);
    expect(await mara.page.inputValue('input[name="/sets/0/plate/frequency.text"]')).toBe("59");
    expect(await storedAt(id, "/sets/1/plate/frequency")).toBe(50);
    // The rest was kept, and what she had not touched is his.
    expect(await storedAt(id, "/sets/1/plate/ratedPower")).toBe(777);
    expect(await storedAt(id, "/sets/1/plate/voltage")).toBe(400);
    await picture(mara.page, "conflict");
    await next(mara.page);
    expect(await storedAt(id, "/sets/1/plate/frequency")).toBe(59);
    await mara.context.close();
    await odo.context.close();
  });

  test("a page keeps to its set when another is taken out meanwhile, and its text when its own is", async () => {
    for (const javaScriptEnabled of [true, false]) {
      const [mara, odo] = [await byMara({ javaScriptEnabled }), await newVisitor(browser, { javaScriptEnabled: false })];
      await signIn(odo.page, served.url, "odo");
      const id = await pageOf(mara, "modern-electronic", "/ask/sets/2/plate");
      await odo.page.goto(`${served.url}/visits/${id}/sets`);
      await Promise.all([odo.page.waitForEvent("load"), odo.page.click("text=Take out >> nth=0")]);
      await mara.page.fill('input[name="/sets/1/plate/ratedPower.text"]', "1777");
      await next(mara.page);
      expect(await storedAt(id, "/sets/2/plate/ratedPower")).toBe(1777);
      expect(await storedAt(id, "/sets/3/plate/ratedPower")).not.toBe(1777);
      // Now the set of her page itself.
      await mara.page.goto(`${served.url}/visits/${id}/ask/sets/1/plate`);
      await odo.page.goto(`${served.url}/visits/${id}/sets`);
      await Promise.all([odo.page.waitForEvent("load"), odo.page.click("text=Take out >> nth=0")]);
      await mara.page.fill('input[name="/sets/0/plate/ratedPower.text"]', "1888");
      await Promise.all([mara.page.waitForEvent("load"), mara.page.click("text=Save and continue")]);
      expect(await mara.page.locator("#problems").innerText()).toContain("This set was taken out of the visit meanwhile");
      expect(await storedAt(id, "/sets/2/plate/ratedPower")).toBe(1777);
      await odo.page.goto(`${served.url}/visits/${id}/sets`);
      expect(await odo.page.locator("text=Put it back").count()).toBe(2);
      await Promise.all([odo.page.waitForEvent("load"), odo.page.click("text=Put it back >> nth=0")]);
      await mara.page.goto(`${served.url}/visits/${id}/ask/sets/1/plate`);
      expect(await mara.page.inputValue('input[name="/sets/0/plate/ratedPower.text"]')).toBe("1888");
      await mara.context.close();
      await odo.context.close();
    }
  });

  test("a number and 'not known' exclude each other", async () => {
    const visitor = await byMara({ javaScriptEnabled: false });
    const { page } = visitor;
    const id = await pageOf(visitor, "old-mechanical", "/ask/sets/1/plate");
    await page.check('input[name="/sets/0/plate/voltage.notKnown"]');
    await page.fill('input[name="/sets/0/plate/voltage.text"]', "690");
    await next(page);
    expect(await page.locator("#problems").innerText()).toContain('given "690" and “not known”; wanted one of the two');
    await visitor.context.close();
    const scripted = await byMara();
    await scripted.page.goto(`${served.url}/visits/${id}/ask/sets/2/plate`);
    await scripted.page.check('input[name="/sets/1/plate/voltage.notKnown"]');
    await expect.poll(() => scripted.page.inputValue('input[name="/sets/1/plate/voltage.text"]')).toBe("");
    await scripted.page.fill('input[name="/sets/1/plate/voltage.text"]', "690");
    await expect.poll(() => scripted.page.isChecked('input[name="/sets/1/plate/voltage.notKnown"]')).toBe(false);
    await next(scripted.page);
    expect(await storedAt(id, "/sets/2/plate/voltage")).toBe(690);
    await scripted.context.close();
  });

  test("what an answer brings is asked before the next page, though no script showed it and the answer was kept already", async () => {
    const visitor = await byMara();
    const { page } = visitor;
    await page.route("**/core/core.*", (route) => route.abort());
    await pageOf(visitor, "almost-nothing-known", "/ask/sets/2/machine");
    await choose(page, "/sets/1/primeMover", "diesel");
    await page.waitForFunction(() => /Saved at/.test(document.querySelector(".saved")?.textContent ?? ""));
    expect(await page.locator('input[name="/sets/1/cooling.text"]').count()).toBe(0);
    await next(page);
    expect(await heading(page)).toContain("Prime mover");
    expect(await page.locator(".note").innerText()).toMatch(/brought \d+ more questions/);
    expect(await page.locator('input[name="/sets/1/cooling.text"]').count()).toBeGreaterThan(0);
    await visitor.context.close();
  });

  test("signed out in the middle of a form: sign in again, and what was typed is there", async () => {
    for (const javaScriptEnabled of [true, false]) {
      const visitor = await byMara({ javaScriptEnabled });
      const { page } = visitor;
      const id = await pageOf(visitor, "old-mechanical", "/ask/sets/1/plate");
      await visitor.context.clearCookies();
      await page.fill('input[name="/sets/0/plate/frequency.text"]', "51");
      await page.fill('input[name="/sets/0/plate/voltage.text"]', "fourhundred");
      await page.fill('input[name="/sets/0/plate/voltage.text"]', "401");
      await next(page);
      expect(await page.locator(".note").innerText()).toContain("what you typed is kept");
      await page.fill("#email", "mara@office.example");
      await page.fill("#password", "four quiet lanterns");
      await Promise.all([page.waitForEvent("load"), page.click("main button[type=submit]")]);
      expect(page.url()).toContain(`/visits/${id}/ask/sets/1/plate`);
      expect(await page.inputValue('input[name="/sets/0/plate/frequency.text"]')).toBe("51");
      expect(await page.inputValue('input[name="/sets/0/plate/voltage.text"]')).toBe("401");
      await next(page);
      expect(await storedAt(id, "/sets/1/plate/frequency")).toBe(51);
      await visitor.context.close();
    }
  });

  test("pressed twice it is kept once", async () => {
    const visitor = await byMara();
    const { page } = visitor;
    const id = await pageOf(visitor, "old-mechanical", "/ask/sets/1/plate");
    const versionOf = async () => (await served.office.store.visit(id))?.version ?? 0;
    const before = await versionOf();
    await page.fill('input[name="/sets/0/plate/frequency.text"]', "52");
    await Promise.all([page.waitForEvent("load"), page.dblclick("text=Save and continue")]);
    expect(await versionOf()).toBe(before + 1);
    await visitor.context.close();
  });

  test("on a phone the plan folds below the questions", async () => {
    const visitor = await byMara({ viewport: { width: 360, height: 740 } });
    const { page } = visitor;
    await pageOf(visitor, "old-mechanical", "/ask/sets/1/overspeed");
    const [form, plan] = [await page.locator("form.questions").boundingBox(), await page.locator(".fold").boundingBox()];
    expect(plan?.y).toBeGreaterThan((form?.y ?? 0) + (form?.height ?? 0) - 1);
    await page.click(".fold > summary");
    expect(await page.locator(".panel").isVisible()).toBe(false);
    await visitor.context.close();
  });

  test("text in foreign signs, scripts or turned direction is refused by name or shown as text", async () => {
    const visitor = await byMara({ javaScriptEnabled: false });
    const { page } = visitor;
    const id = await pageOf(visitor, "old-mechanical", "/particulars");
    await page.fill("#p-visit-vessel-flag", "<script>document.title='gone'</script>");
    await page.fill("#p-visit-place-name", "Haven\u202e gnp.exe");
    await next(page);
    expect(await page.locator("#problems").innerText()).toMatch(/Place: given .*; wanted text without control, direction/);
    expect(await page.inputValue("#p-visit-vessel-flag")).toContain("<script>");
    await page.fill("#p-visit-place-name", "Haven");
    await next(page);
    await page.goto(`${served.url}/visits/${id}/letter`);
    const letter = page.frameLocator("iframe");
    expect(await letter.locator("h1").innerText()).not.toBe("");
    expect(await page.title()).not.toContain("gone");
    await visitor.context.close();
  });
});

test.each(VISITS)("loaded by the page, a demo visit plans there as on the command line, and is saved as it was: %s", async (name) => {
  const visitor = await byMara({ javaScriptEnabled: false });
  const { page } = visitor;
  await page.setInputFiles("#file", visit(name));
  await Promise.all([page.waitForEvent("load"), page.click("text=Load it")]);
  expect(await heading(page)).toBe("Parts of this visit");
  const home = page.url();
  await page.goto(`${home}/board`);
  const printed = execFileSync(process.execPath, [join(ROOT, "lib/cli/run.mjs"), "plan", visit(name), "--json"], { maxBuffer: 64e6 });
  const plan = JSON.parse(printed.toString("utf8")) as Plan;
  const glance = glanceOf(plan, rulebook);
  expect(await page.locator("main > p").first().innerText()).toBe(sumOf(glance));
  const shown = await page.locator("table.board td").allInnerTexts();
  for (const { ref, standing, ways } of glance.sets.flatMap(({ protections }) => protections)) {
    if (standing === "does not apply") continue;
    const cell = shown.find((text) => text.split(/\s/)[0] === ref) ?? "";
    expect(cell, ref).toContain(standing);
    expect(cell, ref).toContain(ways.join(" and "));
  }
  await visitor.context.close();
});

test("the visit file that a page saves plans as the visit does", async () => {
  const visitor = await byMara();
  const id = await pageOf(visitor, "shaft-generator", "");
  const answer = await visitor.context.request.get(`${served.url}/visits/${id}/file`);
  const file = join(scratch(), "saved.json");
  writeFileSync(file, await answer.body());
  const plan = (path: string) => {
    const printed = execFileSync(process.execPath, [join(ROOT, "lib/cli/run.mjs"), "plan", path, "--json"], { maxBuffer: 64e6 });
    return JSON.parse(printed.toString("utf8")) as { sets: unknown; questions: unknown };
  };
  const original = plan(join(ROOT, "fixtures/visits/shaft-generator.json"));
  expect(readFileSync(file, "utf8")).toContain('"format": "forehail visit 1"');
  expect(plan(file)).toEqual(original);
  await visitor.context.close();
});
