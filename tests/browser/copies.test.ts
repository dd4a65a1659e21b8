import { setTimeout as pause } from "node:timers/promises";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { formToken } from "../../lib/access/formToken.ts";
import { newCode } from "../../lib/access/invitation.ts";
import { PACES } from "../../lib/access/pace.ts";
import { DEMO_PASSWORD } from "../../lib/cli/demoPeople.ts";
import { unlessUnderWay } from "../../lib/usecases/alone.ts";
import { beginWhatIf } from "../../lib/usecases/review/whatIf.ts";
import { newVisitor, openBrowser, signIn } from "./browser.ts";
import { letterSent } from "./replies.ts";
import { loadedNow } from "./sent.ts";
import { type Served, serve } from "./server.ts";

/** Two copies of the program on one PostgreSQL; every second request goes to the other. */
let served: Served;
let browser: Browser;
let cookie: string;

const tokenOf = (who: keyof Served["people"]): string => formToken(served.people[who], served.office.secret, served.office.clock());
const post = (path: string, body: Readonly<Record<string, string>>, cookies = cookie): Promise<Response> =>
  fetch(served.url + path, {
    method: "POST",
    redirect: "manual",
    headers: { cookie: cookies, origin: served.url },
    body: new URLSearchParams(body),
  });

beforeAll(async () => {
  [served, browser] = [await serve({ copies: 2 }), await openBrowser()];
  const signedIn = await served.office.accounts.signIn("mara@office.example", DEMO_PASSWORD, "test", served.office.clock());
  cookie = signedIn.ok ? signedIn.value.cookies.map((one) => one.split(";")[0]).join("; ") : "";
}, 120_000);
afterAll(async () => {
  await browser.close();
  await served.stop();
});

test("a letter pressed twice at once, at either copy, goes out once, and its links are told once by whichever copy is asked", async () => {
  const id = await loadedNow(served, "old-mechanical");
  const form = { token: tokenOf("mara"), number: "1", version: "1", units: "metric", "to-1": "on", "name-1": "The chief engineer" };
  const stored = await served.office.store.visit(id);
  const sending = { ...form, "address-1": "chief@ship.example", version: String(stored?.version) };
  const pressed = await Promise.all([1, 2, 3, 4].map(() => post(`/visits/${id}/exchange/send`, sending)));
  const gone = await Promise.all(
    pressed.map(async (answer) => answer.headers.get("location") ?? /url=([^"]*)"/.exec(await answer.text())?.[1] ?? "nowhere"),
  );
  expect(new Set(gone).size).toBe(1);
  expect(await served.office.store.sentOf(id)).toHaveLength(1);
  const page = async (): Promise<string> => (await fetch(served.url + gone[0], { headers: { cookie } })).text();
  const told = await Promise.all([page(), page(), page(), page()]);
  expect(told.filter((text) => text.includes(`${served.url}/reply/`))).toHaveLength(1);
});

test("guessing at private links is slowed by both copies together, and sent away beyond what waits", async () => {
  const guesses = (count: number): Promise<readonly number[]> =>
    Promise.all(Array.from({ length: count }, () => post("/reply/open", { code: newCode() }, "").then(({ status }) => status)));
  const began = performance.now();
  expect(await guesses(15)).toEqual(Array.from({ length: 15 }, () => 403));
  expect(performance.now() - began).toBeGreaterThan(14 * 400);
  // How many wait is held by the store's tests, whose clock stands still; here as many wait as take a minute.
  await served.office.store.passDoor("wrong links", served.office.clock(), { every: 60_000, burst: 1 });
  expect(await guesses(15)).toEqual(Array.from({ length: 15 }, () => 429));
});

test("who tries to sign in too fast is turned away by both copies together, with when to try again", async () => {
  const { burst } = PACES.open;
  const answers = await Promise.all(Array.from({ length: burst * 2 }, () => post("/sign-in/enter", { token: "none" }, "")));
  const away = answers.filter(({ status }) => status === 429);
  // Some more are let through while they come.
  expect(away.length).toBeGreaterThan(burst / 2);
  expect(answers.length - away.length).toBeGreaterThanOrEqual(burst / 2);
  expect(Number(away[0]?.headers.get("retry-after"))).toBeGreaterThan(0);
  expect(await away[0]?.text()).toMatch(/more requests than anybody makes by hand; try again in \d+ s/);
});

test("what one copy tries on past plans, both say is being tried", async () => {
  await letterSent(served, await loadedNow(served, "old-mechanical"));
  const id = await loadedNow(served, "old-mechanical");
  const stored = await served.office.store.visit(id);
  expect(stored).not.toBeNull();
  await post(`/visits/${id}/letter/make`, { token: tokenOf("mara"), units: "metric" });
  for (let tries = 0; tries < 60 && (await served.office.store.plansNow()).seq === 0; tries += 1) await pause(500);
  const begun = await beginWhatIf(served.office, { sort: "rulebook" }, served.people.odo);
  if (!begun.ok) throw new Error(begun.faults.join());
  const { page } = await newVisitor(browser);
  await signIn(page, served.url, "odo");
  const says = async (): Promise<readonly string[]> => {
    const texts: string[] = [];
    for (let copy = 0; copy < 2; copy += 1) {
      await page.goto(`${served.url}/what-if/${begun.value}`);
      texts.push(await page.innerText("main"));
    }
    return texts;
  };
  expect((await says()).every((text) => text.includes("Go on"))).toBe(true);
  await unlessUnderWay(served.office, `what if ${begun.value}`, async () => {
    expect((await says()).some((text) => text.includes("Go on"))).toBe(false);
  });
});

test("a copy that is killed takes nothing with it: the other goes on with what people were at, signed in as they are", async () => {
  const id = await loadedNow(served, "old-mechanical");
  const { page, complaints } = await newVisitor(browser);
  await signIn(page, served.url, "mara");
  await page.waitForLoadState("networkidle");
  served.copies[0]?.kill();
  // As the proxy in front does, once it sees that nobody answers.
  served.divide([served.copies[1]?.port ?? 0]);
  await page.goto(`${served.url}/visits/${id}`);
  expect(await page.locator("h1").innerText()).not.toContain("Sign in");
  await page.goto(`${served.url}/visits/${id}/ask/rules`);
  expect(page.url()).toContain("/ask/rules");
  expect(complaints).toEqual([]);
});
