import { performance } from "node:perf_hooks";
import type { Browser, CDPSession, Page } from "playwright-core";
import { newVisitor } from "../browser/browser.ts";
import { loadedNow, sentNow } from "../browser/sent.ts";
import type { Served } from "../browser/server.ts";

/** A ship's satellite link: 128 kbit/s each way, 700 ms there and back. */
const LINK = { offline: false, latency: 700, downloadThroughput: 128_000 / 8, uploadThroughput: 128_000 / 8 };

interface Traffic {
  bytes: number;
  requests: number;
}

const counted = async (page: Page, cdp: CDPSession): Promise<Traffic> => {
  const traffic: Traffic = { bytes: 0, requests: 0 };
  await cdp.send("Network.enable");
  await cdp.send("Network.emulateNetworkConditions", LINK);
  // What goes over the line: neither what the browser draws by itself nor what it has kept.
  cdp.on("Network.requestWillBeSent", ({ request }) => {
    if (!request.url.startsWith("data:")) traffic.requests += 1;
  });
  cdp.on("Network.requestServedFromCache", () => {
    traffic.requests -= 1;
  });
  cdp.on("Network.loadingFinished", ({ encodedDataLength }) => {
    traffic.bytes += encodedDataLength;
  });
  await page.setDefaultTimeout(60_000);
  return traffic;
};

interface Press extends Traffic {
  readonly what: string;
  readonly ms: number;
}

/** From the press of a button until the page that answers is there, with its scripts run and its buttons to be pressed. */
const pressed = async (page: Page, traffic: Traffic, selector: string, what: string): Promise<Press> => {
  const before = { ...traffic };
  const start = performance.now();
  await Promise.all([page.waitForEvent("domcontentloaded"), page.locator(selector).first().click({ noWaitAfter: true })]);
  await page.locator("button[type=submit]").last().waitFor();
  const ms = performance.now() - start;
  await page.waitForLoadState("networkidle");
  return { what, ms, bytes: traffic.bytes - before.bytes, requests: traffic.requests - before.requests };
};

const walk = async (served: Served, browser: Browser, name: string, javaScriptEnabled: boolean): Promise<void> => {
  const sent = await sentNow(served, await loadedNow(served, name));
  const { page, context } = await newVisitor(browser, { javaScriptEnabled, viewport: { width: 390, height: 800 } });
  const traffic = await counted(page, await context.newCDPSession(page));
  await page.goto(sent.links[0]?.link ?? "", { waitUntil: "networkidle" });
  const landing = { ...traffic };
  const opened = await pressed(page, traffic, "text=Open the reply", "opening");
  const steps: Press[] = [];
  while (!((await page.textContent("h1")) ?? "").startsWith("Check")) {
    const from = (await page.textContent("h1")) ?? "";
    steps.push(await pressed(page, traffic, ".acts button >> nth=0", `after ${from}`));
  }
  const worst = (by: "ms" | "bytes" | "requests"): Press => steps.reduce((most, one) => (one[by] > most[by] ? one : most), opened);
  const kB = (bytes: number): string => `${(bytes / 1000).toFixed(1)} kB`;
  console.log(
    `reply to ${name}, scripts ${javaScriptEnabled ? "on" : "off"}: first view cold ${kB(landing.bytes + opened.bytes)} in all (the link's page ${kB(landing.bytes)}; wanted ${javaScriptEnabled ? 60 : 30} kB); opened ${(opened.ms / 1000).toFixed(2)} s after the press; ${steps.length} steps: most ${kB(worst("bytes").bytes)} (wanted 8; ${worst("bytes").what}), ${worst("requests").requests} request(s) (wanted 1; ${worst("requests").what}), slowest ${(worst("ms").ms / 1000).toFixed(2)} s (wanted 5; ${worst("ms").what})`,
  );
  await context.close();
};

/** The vessel's reply over a satellite link, emulated by the browser: weight, round trips, and the time from each press to the next page. */
export const slowLink = async (served: Served, browser: Browser): Promise<void> => {
  for (const name of ["modern-electronic", "almost-nothing-known"])
    for (const scripts of [false, true]) await walk(served, browser, name, scripts);
};
