import { afterAll, beforeAll, expect, test } from "vitest";
import { newVisitor, openBrowser, signIn as signInByPage } from "./browser.ts";
import {
  type Answer,
  ask,
  cookiesIn,
  formOf,
  type Guarded,
  guardedOffice,
  lastingTables,
  officeAddresses,
  openLink,
  rowsOf,
  shown,
  signIn,
  tokenFor,
} from "./guarded.ts";
import { loaded, serve } from "./server.ts";

let it: Guarded;
let owner: string;
let supervisor: string;
beforeAll(async () => {
  it = await guardedOffice();
  owner = shown(cookiesIn(await signIn(it.served, "mara")));
  supervisor = shown(cookiesIn(await signIn(it.served, "odo")));
}, 180_000);
afterAll(() => it.served.stop());

const headerOf = ({ headers }: Answer, name: string): string => String(headers[name] ?? "");

/** One answer of every kind that the program gives, good and bad. */
const everyKind = async (): Promise<readonly (readonly [string, Answer])[]> => {
  const { served, visit, sent } = it;
  const page = await ask(served, "/sign-in");
  const files = [...page.text.matchAll(/(?:href|src)="(\/_next\/static\/[^"]+)"/g)].map(([, path]) => path ?? "");
  expect(files.some((path) => path.includes(".css"))).toBe(true);
  const core = /\/core\/[^"\\]+/.exec((await ask(served, `/visits/${visit}/ask/rules`, { headers: { cookie: owner } })).text)?.[0];
  const reply = await openLink(served, sent);
  const asOwner = { headers: { cookie: owner } };
  const asked: readonly (readonly [string, Promise<Answer>])[] = [
    ...[
      "/",
      "/sign-in",
      "/no-such-page",
      "/%E0%A4%A",
      "/health",
      "/ready",
      "/metrics",
      "/icon.svg",
      "/.git/config",
      core ?? "/core/nothing",
      ...files,
    ].map((path) => [path, ask(served, path)] as const),
    ...["", "/board", "/letter/page", "/file", "/lists/requests.csv", `/letters/${sent.letter.made}`, "/files/nothing"].map(
      (end) => [`visit${end}`, ask(served, `/visits/${visit}${end}`, asOwner)] as const,
    ),
    ["who is not signed in", ask(served, "/visits")],
    ["a reply", Promise.resolve(reply.answer)],
    ["a page of the reply", ask(served, "/reply/at/start", { headers: { cookie: reply.cookie } })],
    ["a letter by the reply", ask(served, "/reply/letter", { headers: { cookie: reply.cookie } })],
    ["a reply without a link", ask(served, "/reply")],
    ["a file too large for the reply", ask(served, "/reply/files", { method: "POST", headers: { "content-length": "99999999" } })],
    ["another host", ask(served, "/sign-in", { headers: { host: "elsewhere.example" } })],
    ["too large", ask(served, "/visits/create", { method: "POST", headers: { "content-length": "99999999" } })],
    [
      "from elsewhere",
      ask(served, "/visits/create", { ...formOf({}, owner), headers: { cookie: owner, origin: "https://elsewhere.example" } }),
    ],
    ["as data", ask(served, "/visits/create", { ...formOf({}, owner), headers: { cookie: owner, accept: "application/json" } })],
    ["a method that is none", ask(served, "/visits", { ...asOwner, method: "DELETE" })],
  ];
  return Promise.all(asked.map(async ([what, answer]) => [what, await answer] as const));
};

test("every answer bears the headers of safety, whatever it is", async () => {
  for (const [what, answer] of await everyKind()) {
    const policy = headerOf(answer, "content-security-policy");
    for (const wanted of ["default-src 'none'", "object-src 'none'", "base-uri 'none'", "frame-ancestors '"])
      expect(policy, `${what}: ${answer.status}`).toContain(wanted);
    expect(policy, what).not.toMatch(/unsafe-|\*/);
    expect(headerOf(answer, "x-content-type-options"), what).toBe("nosniff");
    expect(headerOf(answer, "strict-transport-security"), what).toBe("max-age=31536000; includeSubDomains");
    expect(headerOf(answer, "referrer-policy"), what).toMatch(/^(?:same-origin|no-referrer)$/);
    expect(headerOf(answer, "access-control-allow-origin"), what).toBe("");
    expect(headerOf(answer, "x-powered-by") + headerOf(answer, "server"), what).toBe("");
    if (answer.text !== "" && /^text\//.test(headerOf(answer, "content-type")))
      expect(headerOf(answer, "content-type"), what).toMatch(/charset=utf-8/i);
  }
}, 60_000);

test("cookies are of this host alone, encrypted, out of reach of scripts, and not sent along from other sites", async () => {
  const [session = ""] = cookiesIn(await signIn(it.served, "mara"));
  expect(session).toMatch(/^__Host-forehail\.session_token=/);
  const [reply = ""] = cookiesIn((await openLink(it.served, it.sent)).answer);
  expect(reply).toMatch(/^__Host-forehail-reply=/);
  for (const cookie of [session, reply]) {
    expect(cookie).toMatch(/; Path=\/(?:;|$)/i);
    expect(cookie).toMatch(/; Secure(?:;|$)/i);
    expect(cookie).toMatch(/; HttpOnly(?:;|$)/i);
    expect(cookie).not.toMatch(/; Domain=/i);
    expect(cookie.length).toBeLessThan(4096);
  }
  expect(session).toMatch(/; SameSite=Lax/i);
  expect(reply).toMatch(/; SameSite=Strict/i);
});

test("nothing that is only for who is signed in, or has a link, may be kept by a browser or on the way", async () => {
  const { served } = it;
  for (const [route, path] of officeAddresses(it)) {
    const answer = await ask(served, path, { headers: { cookie: supervisor } });
    if (answer.status === 200) expect(headerOf(answer, "cache-control"), route).toContain("no-store");
  }
  const { cookie, answer } = await openLink(served, it.sent);
  for (const one of [
    answer,
    await ask(served, "/reply/at/start", { headers: { cookie } }),
    await ask(served, "/reply/letter", { headers: { cookie } }),
  ])
    expect(headerOf(one, "cache-control")).toBe("no-store");
}, 120_000);

test("every page of the office has the way out on it", async () => {
  for (const [route, path] of officeAddresses(it)) {
    const answer = await ask(it.served, path, { headers: { cookie: supervisor } });
    const alone = route === "GET /visits/[visit]/letter/page" || headerOf(answer, "content-disposition") !== "";
    if (answer.status === 200 && !alone && headerOf(answer, "content-type").startsWith("text/html"))
      expect(answer.text, route).toMatch(/action="\/sign-out"/);
  }
}, 120_000);

test("reading changes nothing, whoever is led to an address by another site", async () => {
  const { served } = it;
  // A page that is opened for the first time may keep what it worked out.
  for (const [, path] of officeAddresses(it)) await ask(served, path, { headers: { cookie: supervisor } });
  // Who took a copy of what stands in the log; that is all that may be added.
  const tables = lastingTables(served).filter((table) => table !== "audit");
  const before = rowsOf(served, ...tables);
  for (const [route, path] of officeAddresses(it)) {
    for (const method of ["GET", "HEAD"]) {
      await ask(served, path, { method, headers: { cookie: supervisor, "sec-fetch-site": "cross-site" } });
      expect(rowsOf(served, ...tables), `${method} ${route}`).toEqual(before);
    }
  }
}, 300_000);

test("methods that no address has do nothing and repeat nothing", async () => {
  const { served, visit } = it;
  for (const method of ["TRACE", "PUT", "PATCH", "DELETE", "OPTIONS", "PROPFIND"]) {
    const answer = await ask(served, `/visits/${visit}/particulars/save`, { method, headers: { cookie: owner, "x-mark": "MARKED" } });
    expect([answer.status, answer.headers["allow"], answer.text], method).toEqual([
      405,
      "GET, HEAD, POST",
      expect.not.stringContaining("MARKED"),
    ]);
  }
});

test("nothing of the program's own files is served: sources, settings, history, source maps", async () => {
  const { served } = it;
  const page = await ask(served, "/sign-in");
  const scripts = [...page.text.matchAll(/(?:href|src)="(\/_next\/static\/[^"]+)"/g)].map(([, path]) => `${path}.map`);
  const hidden = [
    "/.git/HEAD",
    "/.env",
    "/package.json",
    "/.next/BUILD_ID",
    "/_next/../package.json",
    "/office.db",
    "/%2e%2e/package.json",
    "/lib/access/seal.ts",
  ];
  for (const path of [
    ...hidden,
    "/_next/static/../../../package.json",
    "/_next/static/..%2f..%2f..%2fpackage.json",
    "/_next/image?url=%2Ficon.svg&w=64&q=75",
    ...scripts,
  ])
    expect((await ask(served, path)).status, path).toBeGreaterThanOrEqual(300);
});

test("who signed in, and who tried to, stands in the office's log, without what he typed as password", async () => {
  const { served } = it;
  await signIn(served, "ilse", { password: "not the password at all" });
  await signIn(served, "ilse");
  const audited = await served.office.store.audited(50);
  expect(audited.find(({ act }) => act === "signed in")).toMatchObject({ who: served.people.ilse, subject: served.people.ilse });
  expect(audited.find(({ act, subject }) => act === "refused" && subject === "sign-in")?.detail).toMatch(
    /^ilse@office\.example: e-mail address/,
  );
  expect(JSON.stringify(audited)).not.toContain("not the password at all");
  for (const { when } of audited) expect(when).toMatch(/^\d{4}-\d\d-\d\dT[\d:.]+Z$/);
});

test("a supervisor ends every sign-in of somebody, and who signs out is known no more", async () => {
  const { served } = it;
  const known = async (cookie: string): Promise<boolean> => (await ask(served, "/visits", { headers: { cookie } })).status === 200;
  const ilse = shown(cookiesIn(await signIn(served, "ilse")));
  const own = shown(cookiesIn(await signIn(served, "mara")));
  expect([await known(ilse), await known(own)]).toEqual([true, true]);
  const seen = String((await served.office.accounts.people()).find(({ id }) => id === served.people.ilse)?.version ?? 0);
  await ask(served, `/people/${served.people.ilse}/sign-ins`, formOf({ token: tokenFor(served, "odo"), seen }, supervisor));
  await ask(served, "/sign-out", formOf({ token: tokenFor(served, "mara") }, own));
  expect([await known(ilse), await known(own)]).toEqual([false, false]);
});

test("after signing out the browser's way back shows nothing of the office", async () => {
  const [served, browser] = await Promise.all([serve({ copies: 1 }), openBrowser()]);
  const id = await loaded(served, "old-mechanical", served.people.mara);
  const { page } = await newVisitor(browser);
  await signInByPage(page, served.url, "mara");
  await page.goto(`${served.url}/visits/${id}/board`);
  const shownThere = await page.textContent("h1");
  await page.click('form[action="/sign-out"] button');
  await page.waitForURL(/\/sign-in/);
  await page.goBack();
  await page.waitForLoadState("networkidle");
  expect(page.url()).toContain("/sign-in");
  expect(await page.textContent("h1")).not.toBe(shownThere);
  await browser.close();
  await served.stop();
}, 120_000);

test("a password is masked while it is typed, and may come from a program that keeps it", async () => {
  const [field = ""] = /<input[^>]*name="password"[^>]*>/.exec((await ask(it.served, "/sign-in")).text) ?? [];
  expect(field).toMatch(/type="password"/);
  expect(field).toMatch(/autocomplete="current-password"/i);
  expect(field).not.toMatch(/onpaste|readonly/i);
});
