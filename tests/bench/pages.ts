import { readFileSync } from "node:fs";
import { performance } from "node:perf_hooks";
import lighthouse from "lighthouse";
import { type Browser, chromium } from "playwright-core";
import { DEMO_PASSWORD } from "../../lib/cli/demoPeople.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { chromiumAt, FLAGS, newVisitor, signIn } from "../browser/browser.ts";
import { loaded, type Served, serve } from "../browser/server.ts";
import { visit } from "../cli/cli.ts";
import { slowLink } from "./slowLink.ts";

const show = (what: string): void => console.log(what);

const spread = (times: readonly number[]): string => {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (share: number): string => (sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0).toFixed(1);
  return `median ${at(0.5)} ms, p95 ${at(0.95)} ms, worst ${at(1)} ms of ${times.length}`;
};

/** A visit of six sets: those of two demo visits together. */
const sixSets = (): string => {
  const [one, other] = ["passenger-ship", "modern-electronic"].map(
    (name) =>
      JSON.parse(readFileSync(visit(name), "utf8")) as {
        sets: { name: string }[];
        references?: unknown;
        deviations?: unknown;
        letters?: unknown;
      },
  );
  const { references: _, deviations: __, letters: ___, ...rest } = one ?? { sets: [] };
  const sets = [...(one?.sets ?? []), ...(other?.sets ?? [])].slice(0, 6);
  return JSON.stringify({ ...rest, sets: sets.map((set, place) => ({ ...set, name: `Set ${place + 1}` })) });
};

const imported = async ({ office, people }: Served, text: string): Promise<string> => {
  const kept = await importVisit({ store: office.store, world: office.world, planner: office.planner }, text, people.mara);
  if (!kept.ok) throw new Error(JSON.stringify(kept.faults.slice(0, 3)));
  return kept.value;
};

/** From a key pressed in a field to the plan drawn anew, in the browser, with six sets. */
const keystrokes = async (served: Served, browser: Browser): Promise<void> => {
  const id = await imported(served, sixSets());
  const { page, context } = await newVisitor(browser);
  await signIn(page, served.url, "mara");
  await page.goto(`${served.url}/visits/${id}/ask/sets/1/overspeed`, { waitUntil: "networkidle" });
  const radios = page.locator(".question input[type=radio]:not([value='not known'])");
  await radios.first().focus();
  await page.waitForTimeout(4_000);
  const times = await page.evaluate(async () => {
    const measured: number[] = [];
    const groups = new Map<string, HTMLInputElement[]>();
    for (const radio of document.querySelectorAll<HTMLInputElement>(".question input[type=radio]"))
      groups.set(radio.name, [...(groups.get(radio.name) ?? []), radio]);
    const panel = document.querySelector("aside");
    const choices = [...groups.values()].filter((group) => group.length > 2);
    for (let round = 0; round < 120; round += 1) {
      const group = choices[round % choices.length] ?? [];
      const next = group.find((radio) => !radio.checked);
      if (next === undefined || panel === null) continue;
      const changed = new Promise<number | null>((done) => {
        const watch = new MutationObserver(() => {
          watch.disconnect();
          done(performance.now());
        });
        watch.observe(panel, { subtree: true, childList: true, characterData: true });
        setTimeout(() => {
          watch.disconnect();
          done(null);
        }, 500);
      });
      const start = performance.now();
      next.click();
      const end = await changed;
      // An answer that changes nothing of the plan draws nothing.
      if (end !== null) measured.push(end - start);
      await new Promise((again) => setTimeout(again, 150));
    }
    return measured;
  });
  show(`answer given to plan drawn anew, six sets, in the browser: ${spread(times)} (wanted 50 ms)`);
  await context.close();
};

/** How long the server takes for the list and a step with a thousand visits in its store. */
const manyVisits = async (served: Served): Promise<void> => {
  const text = readFileSync(visit("old-mechanical"), "utf8");
  for (let made = 0; made < 1000; made += 1) await imported(served, text);
  const id = await imported(served, text);
  const signedIn = await served.office.accounts.signIn("mara@office.example", DEMO_PASSWORD, "bench", served.office.clock());
  const cookie = signedIn.ok ? signedIn.value.cookies.map((one) => one.split(";")[0]).join("; ") : "";
  for (const [name, path] of [
    ["visit list", "/visits"],
    ["wizard step", `/visits/${id}/ask/sets/1/overspeed`],
    ["board", `/visits/${id}/board`],
    ["review", `/visits/${id}/review`],
  ] as const) {
    const times: number[] = [];
    for (let asked = 0; asked < 45; asked += 1) {
      const start = performance.now();
      const answer = await fetch(served.url + path, { headers: { cookie } });
      await answer.text();
      if (answer.status !== 200) throw new Error(`${name}: ${answer.status}`);
      if (asked >= 5) times.push(performance.now() - start);
    }
    show(`${name} with 1,000 visits in the store: ${spread(times)} (wanted 100 ms)`);
  }
};

/** From a duration typed to the day drawn anew, in the browser, with the demo day that comes nearest to 34 tasks. */
const changedDay = async (served: Served, browser: Browser): Promise<void> => {
  const id = await loaded(served, "shaft-generator", served.people.mara);
  const { page, context } = await newVisitor(browser);
  await signIn(page, served.url, "mara");
  await page.goto(`${served.url}/visits/${id}/day`, { waitUntil: "networkidle" });
  await page.mouse.move(5, 5);
  await page.waitForTimeout(4_000);
  const measured = await page.evaluate(async () => {
    const fields = [...document.querySelectorAll<HTMLInputElement>("input[name^='minutes.']")];
    const figure = document.querySelector("figure.day");
    const times: number[] = [];
    for (const [round, field] of [...fields, ...fields].entries()) {
      if (figure === null) break;
      const changed = new Promise<number | null>((done) => {
        const watch = new MutationObserver(() => {
          watch.disconnect();
          done(performance.now());
        });
        watch.observe(figure, { subtree: true, childList: true, characterData: true, attributes: true });
        setTimeout(() => {
          watch.disconnect();
          done(null);
        }, 3000);
      });
      const start = performance.now();
      field.value = String(40 + (round % 7));
      field.dispatchEvent(new InputEvent("input", { bubbles: true }));
      const end = await changed;
      if (end !== null) times.push(end - start);
      await new Promise((again) => setTimeout(again, 100));
    }
    return { times, tasks: fields.length };
  });
  show(`duration typed to day drawn anew, ${measured.tasks} tasks, in the browser: ${spread(measured.times)} (wanted 150 ms)`);
  await context.close();
};

const LIGHTHOUSE_PORT = 9333;

/** Lighthouse's own throttled run on the pages that people spend their time on. */
const scores = async (served: Served): Promise<void> => {
  const browser = await chromium.launch({ executablePath: chromiumAt(), args: [...FLAGS, `--remote-debugging-port=${LIGHTHOUSE_PORT}`] });
  const id = await loaded(served, "old-mechanical", served.people.mara);
  const signedIn = await served.office.accounts.signIn("mara@office.example", DEMO_PASSWORD, "bench", served.office.clock());
  const cookie = signedIn.ok ? signedIn.value.cookies.map((one) => one.split(";")[0]).join("; ") : "";
  for (const path of [`/visits/${id}/ask/sets/1/overspeed`, `/visits/${id}/board`]) {
    const result = await lighthouse(
      served.url + path,
      {
        port: LIGHTHOUSE_PORT,
        output: "json",
        extraHeaders: { Cookie: cookie },
        onlyCategories: ["performance", "accessibility", "best-practices"],
      },
      undefined,
    );
    const categories = result?.lhr.categories ?? {};
    show(
      `lighthouse ${path.split("/").slice(3).join("/")}: ${Object.entries(categories)
        .map(([name, { score }]) => `${name} ${Math.round((score ?? 0) * 100)}`)
        .join(", ")}`,
    );
    const audits = result?.lhr.audits ?? {};
    show(
      `  ${["first-contentful-paint", "largest-contentful-paint", "total-blocking-time", "cumulative-layout-shift", "speed-index"].map((name) => `${name} ${audits[name]?.displayValue ?? ""}`).join(", ")}`,
    );
    for (const { id: audit, score, title, scoreDisplayMode } of Object.values(result?.lhr.audits ?? {}))
      if (score !== null && score < 0.9 && scoreDisplayMode === "binary") show(`  ${audit}: ${title}`);
  }
  await browser.close();
};

const served = await serve();
const browser = await chromium.launch({ executablePath: chromiumAt(), args: FLAGS });
const parts = process.argv.slice(2);
const wanted = (part: string): boolean => parts.length === 0 || parts.includes(part);
if (wanted("keystrokes")) await keystrokes(served, browser);
if (wanted("day")) await changedDay(served, browser);
if (wanted("slowLink")) await slowLink(served, browser);
await browser.close();
if (wanted("lighthouse")) await scores(served);
if (wanted("visits")) await manyVisits(served);
await served.stop();
process.exit(0);
