import { get } from "node:http";
import { join } from "node:path";
import Sqlite from "better-sqlite3";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { newVisitor, openBrowser, signIn } from "./browser.ts";
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

const KB = 1000;

/** Bytes of a file as the server sends it, compressed. */
const compressed = (url: string): Promise<number> =>
  new Promise((done, fail) => {
    get(url, { headers: { "accept-encoding": "gzip" } }, (answer) => {
      let bytes = 0;
      answer.on("data", (chunk: Buffer) => {
        bytes += chunk.length;
      });
      answer.on("end", () => done(bytes));
    }).on("error", fail);
  });

/** kB of JavaScript, as it was transferred, that a wizard page takes before the first sign of life and in all. */
test("a wizard page takes next to no JavaScript before the first sign of life and at most 250 kB in all", async () => {
  const id = await loaded(served, "old-mechanical", served.people.mara);
  const { page, context } = await newVisitor(browser);
  await signIn(page, served.url, "mara");
  // A new context has nothing in its cache but what signing in took; the scripts of that are counted too.
  const fresh = await newVisitor(browser);
  await fresh.context.addCookies(await context.cookies());
  const devtools = await fresh.context.newCDPSession(fresh.page);
  await devtools.send("Network.enable");
  const scripts = new Map<string, string>();
  const sizes = new Map<string, number>();
  devtools.on("Network.responseReceived", ({ requestId, response }) => {
    if (response.mimeType.includes("javascript")) scripts.set(requestId, new URL(response.url).pathname);
  });
  devtools.on("Network.loadingFinished", ({ requestId, encodedDataLength }) => sizes.set(requestId, encodedDataLength));
  const total = (): number => [...scripts.keys()].reduce((sum, request) => sum + (sizes.get(request) ?? 0), 0);

  await fresh.page.goto(`${served.url}/visits/${id}/ask/sets/1/overspeed`, { waitUntil: "networkidle" });
  const before = total();
  // The worker's script is its own target's business: what it transfers is read off the server's answer.
  const script = fresh.page.waitForResponse((response) => response.url().includes("/core/core."));
  await fresh.page.mouse.move(200, 200);
  const core = await compressed((await script).url());
  await fresh.page.waitForLoadState("networkidle");
  const inAll = total() + core;
  process.stdout.write(
    `JavaScript of a wizard page: ${Math.round(before / KB)} kB before the first input, ${Math.round(inAll / KB)} kB in all\n`,
  );
  expect(before).toBeGreaterThan(0);
  expect(before).toBeLessThanOrEqual(5 * KB);
  expect(core).toBeGreaterThan(50 * KB);
  expect(inAll).toBeLessThanOrEqual(250 * KB);
  await fresh.context.close();
  await context.close();
});

test("a page on which nothing comes alive takes no script at all, and a broken one says so without", async () => {
  const broken = await serve({ copies: 1 });
  const { page, context } = await newVisitor(browser);
  await signIn(page, broken.url, "mara");
  const board = await context.request.get(`${broken.url}/visits/${await loaded(broken, "old-mechanical", broken.people.mara)}/board`);
  expect(board.status()).toBe(200);
  expect(await board.text()).not.toContain("<script");
  // A store that is gone while the office runs.
  new Sqlite(join(broken.folder, "office.db")).exec("pragma foreign_keys = off; alter table visit rename to gone").close();
  const answer = await page.goto(`${broken.url}/visits`);
  expect(answer?.status()).toBe(500);
  expect(await page.locator("h1").innerText()).toBe("Something went wrong in the program");
  await context.close();
  await broken.stop();
});
