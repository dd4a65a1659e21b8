import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { formToken } from "../../lib/access/formToken.ts";
import { MESSAGE_LASTS, sealed, unsealed } from "../../lib/access/message.ts";
import { hasNeed, type Role } from "../../lib/access/roles.ts";
import { type Route, RULES, ruleOf } from "../../lib/access/rules.ts";
import { DEMO_PASSWORD } from "../../lib/cli/demoPeople.ts";
import { officePolicySchema } from "../../lib/model/officePolicy.ts";
import { decideReview } from "../../lib/usecases/review/decide.ts";
import { beginWhatIf } from "../../lib/usecases/review/whatIf.ts";
import { ROOT } from "../cli/cli.ts";
import { letterSent } from "./replies.ts";
import { loaded, type Served, serve } from "./server.ts";

const APP = join(ROOT, "app");

const METHODS = ["GET", "POST", "PUT", "PATCH", "DELETE", "HEAD", "OPTIONS"];

/** Every address there is, read off the folders and what their files export. */
const routesIn = (folder: string): readonly string[] =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return entry.name.startsWith("_") ? [] : routesIn(path);
    const address = `/${relative(APP, folder)}`;
    if (entry.name === "page.tsx") return [`GET ${address}`];
    if (entry.name !== "route.ts") return [];
    const source = readFileSync(path, "utf8");
    return METHODS.filter((method) => new RegExp(`export (?:const|async function|function) ${method}\\b`).test(source)).map(
      (method) => `${method} ${address}`,
    );
  });

test("every address has a rule, and every rule an address", () => {
  expect([...routesIn(APP)].sort()).toEqual(Object.keys(RULES).sort());
});

test("every file asks for its own rule and no other", () => {
  for (const route of Object.keys(RULES)) {
    const [method = "", address = ""] = route.split(" ");
    const folder = join(APP, address);
    const files = readdirSync(folder).filter((name) => name === "page.tsx" || name === "route.ts");
    const source = files.map((name) => readFileSync(join(folder, name), "utf8")).join("\n");
    const named = [...source.matchAll(/"((?:GET|POST) \/[^"]*)"/g)].map(([, name]) => name);
    const open = ruleOf(route as Route).need === "anybody" && method === "GET" && named.length === 0;
    expect(open ? [route] : named.filter((name) => name?.startsWith(method)), route).toEqual([route]);
  }
});

type Who = "nobody" | "owner" | "another inspector" | "supervisor";

/** Somebody whose page is opened and who is changed, so that those who try the doors stay who they are. */
let changed: string;

let served: Served;
let visit: string;
let made: string;
let file: string;
let sent: string;
let tried: string;
const cookies = new Map<Who, string>();
const tokens = new Map<Who, string>();

const signedIn = async (who: Who, name: "mara" | "odo" | "ilse"): Promise<void> => {
  const outcome = await served.office.accounts.signIn(`${name}@office.example`, DEMO_PASSWORD, "test", served.office.clock());
  if (!outcome.ok) throw new Error(outcome.faults.join());
  cookies.set(who, outcome.value.cookies.map((cookie) => cookie.split(";")[0]).join("; "));
  tokens.set(who, formToken(served.people[name], served.office.secret, served.office.clock()));
};

beforeAll(async () => {
  served = await serve();
  visit = await loaded(served, "old-mechanical", served.people.mara);
  const { store, world } = served.office;
  made = world.newId();
  const letter = { visit, version: 1, rulebook: "-", file: "{}", plan: "{}", pdf: new Uint8Array([37, 80]) };
  await store.keepMade({ id: made, ...letter, who: served.people.mara, when: world.now() });
  sent = (await letterSent(served, visit)).letter.id;
  file = world.newId();
  const told = { what: "photograph", name: "<b>.jpg", type: "image/jpeg", size: 3, digest: "-" };
  await store.keepAttachment({ id: file, sent, ...told, who: "The superintendent", when: world.now() }, Uint8Array.of(255, 216, 255), 10);
  const stored = await store.visit(visit);
  const asking = { act: "asked", words: "", comments: new Map(), seen: 0, version: stored?.version ?? 0 } as const;
  if (stored !== null) await decideReview(served.office, stored, asking, { who: served.people.mara, when: world.now() });
  const begun = await beginWhatIf(served.office, { sort: "rulebook" }, served.people.odo);
  tried = begun.ok ? begun.value : "";
  const policy = officePolicySchema.parse({ plan: { loadLimit: 80 } });
  await store.addPolicy(policy, "", { versions: 0, acts: 0 }, { who: served.people.odo, when: world.now() });
  const code = await served.office.accounts.invite("inspector", "console", served.office.clock());
  const tove = await served.office.accounts.takeUp(
    code,
    { name: "Tove Hallin", email: "tove@office.example", password: DEMO_PASSWORD },
    served.office.clock(),
  );
  if (!tove.ok) throw new Error(tove.faults.join());
  changed = tove.value.id;
  tokens.set("nobody", formToken("", served.office.secret, served.office.clock()));
  await signedIn("owner", "mara");
  await signedIn("another inspector", "ilse");
  await signedIn("supervisor", "odo");
}, 120_000);
afterAll(() => served.stop());

const ROLES: Readonly<Record<Who, Role | null>> = {
  nobody: null,
  owner: "inspector",
  "another inspector": "inspector",
  supervisor: "supervisor",
};

const addressOf = (route: string): string =>
  (route.split(" ")[1] ?? "")
    .replace("/rulebook/[kind]/[id]", "/rulebook/protections/overspeed")
    .replace("/rulebook/[kind]", "/rulebook/protections")
    .replace("/consistency/export/[file]", "/consistency/export/findings.csv")
    .replace("/privacy/person/export", `/privacy/person/export?who=${changed}`)
    .replace("[tried]", tried)
    .replace("[visit]", visit)
    .replace("[person]", changed)
    .replace("[made]", made)
    .replace("[file]", file)
    .replace("[sent]", sent)
    .replace("[...path]", "rules")
    .replace("[list]", "requests.csv")
    .replace("[set]", "1")
    .replace("[kind]", "overspeed")
    .replace("[code]", "nothing")
    .replace("[step]", "start")
    .replace("[name]", "nothing")
    .replace("[number]", "1");

/** What each form needs so as not to be refused for what it says; the rest is refused or answered by its own rule. */
const BODIES: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  "POST /people/invite": { role: "inspector" },
  "POST /people/withdraw": { id: "none" },
  "POST /people/[person]/role": { role: "inspector", seen: "0" },
  "POST /visits/[visit]/sets/change": { act: "add", name: "Another", seen: "0" },
};

const ask = async (route: string, who: Who, more: Readonly<Record<string, string>> = {}): Promise<Response> => {
  const headers: Record<string, string> = { cookie: cookies.get(who) ?? "" };
  if (route.startsWith("GET")) return fetch(served.url + addressOf(route), { headers, redirect: "manual" });
  headers["origin"] = served.url;
  const body = new URLSearchParams({ token: tokens.get(who) ?? "", ...BODIES[route], ...more });
  return fetch(served.url + addressOf(route), { method: "POST", headers, body, redirect: "manual" });
};

const may = (route: Route, who: Who): boolean => {
  const rule = ruleOf(route);
  return hasNeed(ROLES[who], rule.need) && (!("visit" in rule) || who === "owner" || who === "supervisor");
};

const isShut = (answer: Response): boolean => answer.status === 404 || (answer.headers.get("location") ?? "").endsWith("/no-such-page");

const toSignIn = (answer: Response): boolean =>
  (answer.status === 303 || answer.status === 307) && (answer.headers.get("location") ?? "").includes("/sign-in?back=");

test("a file that came with a reply is only ever a download under a name of ours, and nothing in it may run", async () => {
  const answer = await ask("GET /visits/[visit]/files/[file]", "owner");
  expect(answer.status).toBe(200);
  expect(Object.fromEntries(answer.headers)).toMatchObject({
    "content-type": "image/jpeg",
    "content-disposition": 'attachment; filename="letter-1-photograph-1.jpg"',
    "content-security-policy": "default-src 'none'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; sandbox",
    "x-content-type-options": "nosniff",
    "cache-control": "no-store",
  });
  expect(new Uint8Array(await answer.arrayBuffer())).toEqual(Uint8Array.of(255, 216, 255));
  // Not by way of another visit, though that is one's own too.
  const other = await loaded(served, "passenger-ship", served.people.mara);
  const headers = { cookie: cookies.get("owner") ?? "" };
  const through = await fetch(`${served.url}/visits/${other}/files/${file}`, { headers, redirect: "manual" });
  expect(isShut(through)).toBe(true);
});

// Signing out ends the sign-ins that the others need: last.
const ORDER = Object.keys(RULES).sort((a, b) => Number(a === "POST /sign-out") - Number(b === "POST /sign-out"));

describe.each(ORDER)("%s", (route) => {
  test.each(["nobody", "another inspector", "supervisor", "owner"] as const)("%s", async (who) => {
    const answer = await ask(route, who);
    if (who === "nobody" && !may(route as Route, who)) expect(toSignIn(answer), `${answer.status}`).toBe(true);
    else if (!may(route as Route, who)) expect(isShut(answer)).toBe(true);
    else {
      expect(isShut(answer) && route !== "GET /core/[name]", "shut to somebody who may").toBe(false);
      expect(answer.status).toBeLessThan(500);
      expect(toSignIn(answer)).toBe(false);
    }
  });
});

test("the log tells which page was refused to whom, without what was looked for there", async () => {
  await signedIn("another inspector", "ilse");
  const headers = { cookie: cookies.get("another inspector") ?? "" };
  expect(isShut(await fetch(`${served.url}/privacy/person?who=a.sought.name%40ship.example`, { headers, redirect: "manual" }))).toBe(true);
  const [line] = await served.office.store.auditedWhere({ act: "refused", person: served.people.ilse, limit: 1 });
  expect(line).toMatchObject({ subject: "GET /privacy/person", detail: "/privacy/person" });
});

describe("who stands in", () => {
  const DAY = 24 * 60 * 60_000;
  const dayFrom = (days: number): string => new Date(served.office.clock() + days * DAY).toISOString().slice(0, 10);
  const WAYS = ["GET /visits/[visit]", "GET /visits/[visit]/board", "POST /visits/[visit]/sets/change"] as const;
  const opens = async (): Promise<readonly boolean[]> => {
    const tried: boolean[] = [];
    const seen = String((await served.office.store.visit(visit))?.frameVersion);
    for (const route of WAYS) tried.push(!isShut(await ask(route, "another inspector", route.startsWith("POST") ? { seen } : {})));
    return tried;
  };
  const tell = async (from: number, to: number): Promise<string> => {
    const { accounts, world } = served.office;
    const id = world.newId();
    const person = served.people.mara;
    const seen = (await accounts.people()).find((one) => one.id === person)?.version ?? 0;
    const asked = { from: dayFrom(from), to: dayFrom(to), standsIn: served.people.ilse };
    const told = await accounts.tellAbsence({ person, seen }, id, asked, { who: person, when: world.now() });
    if (!told.ok) throw new Error(JSON.stringify(told.faults));
    return id;
  };
  beforeAll(() => signedIn("another inspector", "ilse"));

  test("opens and changes the visits while it lasts, sees them in the list, and neither before nor after", async () => {
    expect(await opens()).toEqual([false, false, false]);
    await tell(1, 3);
    expect(await opens()).toEqual([false, false, false]);
    const id = await tell(-2, 0);
    expect(await opens()).toEqual([true, true, true]);
    const list = await (await ask("GET /visits", "another inspector")).text();
    expect(list).toContain(`/visits/${visit}"`);
    expect(list).toMatch(/for Mara Tellingen until \d+ \w+ \d{4}/);
    expect((await served.office.store.visit(visit))?.changedBy).toBe(served.people.ilse);
    const { accounts, world } = served.office;
    const about = {
      person: served.people.mara,
      seen: (await accounts.people()).find((one) => one.id === served.people.mara)?.version ?? 0,
    };
    expect((await accounts.endAbsence(about, id, { who: served.people.mara, when: world.now() })).ok).toBe(true);
    expect(await opens()).toEqual([false, false, false]);
    expect(await (await ask("GET /visits", "another inspector")).text()).not.toContain(`/visits/${visit}"`);
  });
});

describe("a write", () => {
  beforeAll(async () => {
    await signedIn("owner", "mara");
    await signedIn("another inspector", "ilse");
  });

  const versionOf = async (): Promise<number> => (await served.office.store.visit(visit))?.version ?? 0;
  const save = (init: RequestInit): Promise<Response> =>
    fetch(`${served.url}/visits/${visit}/save/sets/1/plate`, { method: "POST", redirect: "manual", ...init });
  const good = (): URLSearchParams =>
    new URLSearchParams({
      token: tokens.get("owner") ?? "",
      sets: "1,2",
      "/sets/0/plate/frequency.text": "61",
      "/sets/0/plate/frequency.seen": "0",
    });
  const cookie = (): string => cookies.get("owner") ?? "";

  test.each([
    ["from another site", () => ({ headers: { cookie: cookie(), origin: "https://elsewhere.example" }, body: good() }), 403],
    ["without saying where from", () => ({ headers: { cookie: cookie() }, body: good() }), 403],
    ["without a token", () => ({ headers: { cookie: cookie(), origin: served.url }, body: new URLSearchParams() }), 403],
    [
      "with another person's token",
      () => {
        const body = good();
        body.set("token", tokens.get("another inspector") ?? "");
        return { headers: { cookie: cookie(), origin: served.url }, body };
      },
      403,
    ],
    [
      "with a token that was changed",
      () => {
        const body = good();
        body.set(
          "token",
          (tokens.get("owner") ?? "").replace(/.$/, (sign) => (sign === "A" ? "B" : "A")),
        );
        return { headers: { cookie: cookie(), origin: served.url }, body };
      },
      403,
    ],
    [
      "with a field that the page does not ask",
      () => {
        const body = good();
        body.set("/sets/1/primeMover.text", "diesel");
        body.set("/sets/1/primeMover.seen", "0");
        return { headers: { cookie: cookie(), origin: served.url }, body };
      },
      400,
    ],
    [
      "with a field of no page",
      () => {
        const body = good();
        body.set("owner", "ilse");
        return { headers: { cookie: cookie(), origin: served.url }, body };
      },
      400,
    ],
    ["that is no form", () => ({ headers: { cookie: cookie(), origin: served.url, "content-type": "text/plain" }, body: "x" }), 400],
  ] as const)("%s is refused, changes nothing and is logged", async (_, init, status) => {
    const before = await versionOf();
    const refusedBefore = (await served.office.store.audited(500)).filter(({ act }) => act === "refused").length;
    expect((await save(init())).status).toBe(status);
    expect(await versionOf()).toBe(before);
    expect((await served.office.store.audited(500)).filter(({ act }) => act === "refused").length).toBe(refusedBefore + 1);
  });

  test("of a page that is none is refused", async () => {
    for (const path of ["sets/9/plate", "nowhere", "sets/1/__proto__"]) {
      const init = { method: "POST", headers: { cookie: cookie(), origin: served.url }, body: good() };
      expect((await fetch(`${served.url}/visits/${visit}/save/${path}`, init)).status, path).toBe(400);
    }
  });
});

test("too many wrong passwords shut the door, whatever comes after", async () => {
  const enter = async (password: string): Promise<string> => {
    const body = new URLSearchParams({ token: tokens.get("nobody") ?? "", email: "ilse@office.example", password, back: "/visits" });
    const answer = await fetch(`${served.url}/sign-in/enter`, {
      method: "POST",
      headers: { origin: served.url },
      body,
      redirect: "manual",
    });
    const where = new URL(answer.headers.get("location") ?? "/", served.url);
    return unsealed(where.searchParams.get("said") ?? undefined, served.office.secret, served.office.clock()).problem ?? "";
  };
  for (let tried = 0; tried < 5; tried += 1) expect(await enter("wrong wrong wrong")).toMatch(/do not belong together/);
  expect(await enter(DEMO_PASSWORD)).toMatch(/too many failed tries/i);
});

test("a page says nothing that the office did not seal, or sealed yesterday", async () => {
  const { secret, clock } = served.office;
  const message = { problem: "Call this number" };
  const forged = sealed(message, "another secret of thirty-two characters", clock());
  const old = sealed(message, secret, clock() - MESSAGE_LASTS - 60_000);
  expect(unsealed(sealed(message, secret, clock()), secret, clock())).toEqual(message);
  for (const query of ["problem=Call+this+number", `said=${forged}`, `said=${old}`, "said=x.y", "said=%00"]) {
    const answer = await fetch(`${served.url}/sign-in?${query}`);
    expect(answer.status).toBe(200);
    expect(await answer.text()).not.toContain("Call this number");
  }
});

test("every page has the headers of safety, with a nonce of its own each time", async () => {
  const [one, other] = [await ask("GET /visits", "owner"), await ask("GET /visits", "owner")];
  const policy = one.headers.get("content-security-policy") ?? "";
  expect(policy).toMatch(/default-src 'none'.*script-src 'self' 'nonce-[A-Za-z0-9+/=]{20,}' 'strict-dynamic'/);
  expect(policy).not.toMatch(/unsafe/);
  expect(policy).not.toBe(other.headers.get("content-security-policy"));
  expect(one.headers.get("x-content-type-options")).toBe("nosniff");
  const html = await one.text();
  expect(html).not.toMatch(/ on[a-z]+="/);
  expect(html).not.toMatch(/ style="/);
  const nonce = /'nonce-([^']+)'/.exec(policy)?.[1] ?? "-";
  for (const [script] of html.matchAll(/<script(?![^>]*type="application\/json")[^>]*>/g)) expect(script).toContain(nonce);
});

test("an empty office is set up with the code of the console, once", async () => {
  const empty = await serve({ empty: true });
  const first = await fetch(`${empty.url}/visits`, { redirect: "manual" });
  expect(first.headers.get("location")).toContain("/sign-in");
  const code = /\n {2}(\S{40,})\n/.exec(empty.printed())?.[1] ?? "";
  expect(code).not.toBe("");
  const page = await (await fetch(`${empty.url}/set-up`)).text();
  const token = /name="token" value="([^"]+)"/.exec(page)?.[1] ?? "";
  const create = (given: string) =>
    fetch(`${empty.url}/set-up/create`, {
      method: "POST",
      headers: { origin: empty.url },
      redirect: "manual",
      body: new URLSearchParams({ token, code: given, name: "Odo Varnhem", email: "odo@office.example", password: "a long enough one" }),
    });
  const guessed = (await create("guessed")).headers.get("location") ?? "";
  expect(guessed).toMatch(/^\/set-up\?.*said=/);
  expect(await (await fetch(empty.url + guessed)).text()).toContain("Code: given none that opens this office");
  const made = await create(code);
  expect(made.headers.get("location")).toBe("/visits");
  const [cookie = ""] = made.headers.getSetCookie().map((one) => one.split(";")[0] ?? "");
  expect((await fetch(`${empty.url}/people`, { headers: { cookie }, redirect: "manual" })).status).toBe(200);
  expect((await fetch(`${empty.url}/set-up`, { redirect: "manual" })).headers.get("location")).toContain("/sign-in");
  expect((await create(code)).headers.get("location")).toContain("said=");
  await empty.stop();
}, 120_000);
