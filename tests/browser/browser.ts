import { existsSync, mkdirSync, readdirSync } from "node:fs";
import { homedir } from "node:os";
import { join } from "node:path";
import { type Browser, type BrowserContext, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { DEMO_PASSWORD } from "../../lib/cli/demoPeople.ts";
import { ROOT } from "../cli/cli.ts";

/** Quiet: a browser that asks nobody outside anything. */
export const FLAGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

const SYSTEM = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome", "/usr/bin/google-chrome-stable"];

const playwrights = (): readonly string[] => {
  const cache = join(homedir(), ".cache/ms-playwright");
  return existsSync(cache)
    ? readdirSync(cache)
        .filter((name) => name.startsWith("chromium-"))
        .flatMap((name) => ["chrome-linux/chrome", "chrome-linux64/chrome"].map((end) => join(cache, name, end)))
    : [];
};

/** Where a Chromium is: named by FOREHAIL_CHROMIUM, the system's, or Playwright's. `.ci/tools` installs one before the tests. */
export const chromiumAt = (): string => {
  const found = [process.env["FOREHAIL_CHROMIUM"] ?? "", ...SYSTEM, ...playwrights()].find((path) => path !== "" && existsSync(path));
  if (found === undefined) throw new Error("no Chromium found: install Debian's chromium, or name one by FOREHAIL_CHROMIUM");
  return found;
};

export const openBrowser = (): Promise<Browser> => chromium.launch({ executablePath: chromiumAt(), args: FLAGS });

/** Where the pictures of every page are put, to be looked at. */
export const SCREENS = join(ROOT, "out/screens");

export const picture = async (page: Page, name: string): Promise<void> => {
  mkdirSync(SCREENS, { recursive: true });
  await page.screenshot({ path: join(SCREENS, `${name}.png`), fullPage: true });
};

export interface Visitor {
  readonly page: Page;
  readonly context: BrowserContext;
  /** What the browser complained about; nothing, if all is well. */
  readonly complaints: string[];
}

/** A browser of one person. Whatever its console complains about is kept, so that a test can say there was nothing. */
export const newVisitor = async (browser: Browser, options: BrowserContextOptions = {}): Promise<Visitor> => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  return { page, context, complaints };
};

export const signIn = async (page: Page, url: string, who: string): Promise<void> => {
  await page.goto(`${url}/sign-in`);
  await page.fill("#email", `${who}@office.example`);
  await page.fill("#password", DEMO_PASSWORD);
  await page.click("main button[type=submit]");
  await page.waitForURL(`${url}/visits`);
};
