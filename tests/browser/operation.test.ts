import { request } from "node:http";
import { connect } from "node:net";
import { join } from "node:path";
import Sqlite from "better-sqlite3";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { formToken } from "../../lib/access/formToken.ts";
import { DEMO_PASSWORD } from "../../lib/cli/demoPeople.ts";
import { scratch, visit as visitFile } from "../cli/cli.ts";
import { freePort } from "../port.ts";
import { loaded, SECRET, type Served, serve, startCopy } from "./server.ts";

const KEY = "a key for figures that is long enough";
const URL_GIVEN = "https://plans.example.org";
const MARK = "MARKED-0815";

// What one copy tells of itself and how it stops: always of one, whatever FOREHAIL_TEST_COPIES says; `copies.test.ts` has two.
let served: Served;
let visit: string;
let cookie: string;

interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly text: string;
}

/** Asks with headers as they are, the host among them, which `fetch` would set itself. */
const ask = (at: Served, path: string, headers: Readonly<Record<string, string>> = {}, body?: string): Promise<Answer> =>
  new Promise((done, fail) => {
    const { port } = new URL(at.url);
    const asked = request({ port, host: "127.0.0.1", path, headers, method: body === undefined ? "GET" : "POST", family: 4 }, (answer) => {
      let text = "";
      answer.setEncoding("utf8");
      answer.on("data", (chunk: string) => {
        text += chunk;
      });
      answer.on("end", () => done({ status: answer.statusCode ?? 0, headers: answer.headers, text }));
    });
    asked.on("error", fail);
    asked.end(body);
  });

const OWN = { host: "plans.example.org" };
const FORM = { ...OWN, origin: URL_GIVEN, "content-type": "application/x-www-form-urlencoded" };

const lines = (at: Served): readonly Readonly<Record<string, unknown>>[] =>
  at
    .printed()
    .split("\n")
    .filter((line) => line.startsWith("{"))
    .map((line) => JSON.parse(line) as Readonly<Record<string, unknown>>);

const lineOf = async (at: Served, number: unknown): Promise<Readonly<Record<string, unknown>>> => {
  for (;;) {
    const line = lines(at).find((one) => one["what"] === "request" && one["request"] === number);
    if (line !== undefined) return line;
    await new Promise((again) => setTimeout(again, 20));
  }
};

beforeAll(async () => {
  const more = { HOST: "127.0.0.1", FOREHAIL_URL: URL_GIVEN, FOREHAIL_PROXIES: "127.0.0.1", FOREHAIL_METRICS: KEY };
  served = await serve({ copies: 1, more });
  visit = await loaded(served, "old-mechanical", served.people.mara);
  const outcome = await served.office.accounts.signIn("mara@office.example", DEMO_PASSWORD, "test", served.office.clock());
  if (!outcome.ok) throw new Error(outcome.faults.join());
  cookie = outcome.value.cookies.map((one) => one.split(";")[0]).join("; ");
});
afterAll(() => served.stop());

test("it says that it is up and ready, by whatever name it is asked", async () => {
  for (const [path, status] of [
    ["/health", "up"],
    ["/ready", "ready"],
  ] as const) {
    const answer = await ask(served, path, { host: "10.1.2.3:3000" });
    expect(answer.status).toBe(200);
    expect(JSON.parse(answer.text)).toMatchObject({ status, version: expect.any(String), rulebook: expect.any(String) });
  }
});

test("asked by another name than its own, it says which is", async () => {
  const other = await ask(served, "/sign-in", { host: "evil.example" });
  expect([other.status, other.text]).toEqual([421, expect.stringContaining(`Open ${URL_GIVEN} instead.`)]);
  expect((await ask(served, "/sign-in", { host: "plans.example.org:443" })).status).toBe(200);
});

test("over https browsers are told to come by nothing else, and cookies are secure", async () => {
  const page = await ask(served, "/sign-in", OWN);
  expect(page.headers["strict-transport-security"]).toMatch(/^max-age=\d{8}/);
  expect(cookie).toMatch(/^__Host-/);
});

describe("figures", () => {
  test("are seen from this machine, and elsewhere by whoever has the key", async () => {
    expect((await ask(served, "/metrics")).text).toContain("forehail_requests_total");
    const passed = { "x-forwarded-for": "203.0.113.9" };
    expect((await ask(served, "/metrics", passed)).status).toBe(404);
    expect((await ask(served, "/metrics", { ...passed, authorization: `Bearer ${KEY}x` })).status).toBe(404);
    expect((await ask(served, "/metrics", { ...passed, authorization: `Bearer ${KEY}` })).status).toBe(200);
  });

  test("count pages by their pattern", async () => {
    await ask(served, `/visits/${visit}/board`, { ...OWN, cookie });
    const { text } = await ask(served, "/metrics");
    expect(text).toMatch(/forehail_requests_total\{method="GET",route="\/visits\/\[visit\]\/board",status="200"\} [1-9]/);
    expect(text).not.toContain(visit);
  });
});

describe("the log", () => {
  test("tells of a request by number, pattern, visit and person, and nothing that somebody wrote", async () => {
    const page = await ask(served, `/visits/${visit}/ask/rules?said=${MARK}`, { ...OWN, cookie, "user-agent": MARK });
    const token = formToken(served.people.mara, served.office.secret, served.office.clock());
    const path = `/visits/${visit}/save/rules`;
    await ask(served, path, { ...FORM, cookie }, `token=${encodeURIComponent(token)}&${MARK}=${MARK}&%2FruleBasis=${MARK}`);
    await ask(served, `/reply/${MARK}`, OWN);
    await ask(served, "/reply/open", FORM, `code=${MARK}`);
    await ask(served, "/sign-in/enter", FORM, `token=${encodeURIComponent(token)}&email=${MARK}@office.example&password=${MARK}`);
    await ask(served, `/${MARK}`, { ...OWN, cookie: `forehail=${MARK}` });
    const line = await lineOf(served, page.headers["x-request-id"]);
    expect(line).toMatchObject({ method: "GET", route: "/visits/[visit]/ask/[...path]", visit, person: served.people.mara, status: 200 });
    expect(line["time"]).toMatch(/^\d{4}-\d\d-\d\dT[\d:.]+Z$/);
    expect(line["bytes"]).toBeGreaterThan(500);
    expect(served.printed()).not.toContain(MARK);
    expect(served.printed()).not.toContain("office.example");
  });

  test("takes a proxy's number for a request", async () => {
    const answer = await ask(served, "/sign-in", { ...OWN, "x-request-id": "from-the-proxy-1" });
    expect(answer.headers["x-request-id"]).toBe("from-the-proxy-1");
    expect(await lineOf(served, "from-the-proxy-1")).toMatchObject({ route: "/sign-in", status: 200 });
  });
});

test("tries from one address shut the door to it, and the address is the proxy's word, not the visitor's", async () => {
  const token = formToken("", served.office.secret, served.office.clock());
  await ask(
    served,
    "/sign-in/enter",
    { ...FORM, "x-forwarded-for": "192.0.2.77, 203.0.113.50", "x-forehail-address": "192.0.2.78" },
    `token=${encodeURIComponent(token)}&email=nobody@office.example&password=wrong`,
  );
  const rows = new Sqlite(join(served.folder, "office.db"), { readonly: true });
  const doors = rows.prepare("select door from failed_try").all() as readonly { readonly door: string }[];
  rows.close();
  expect(doors.map(({ door }) => door)).toContain("address 203.0.113.50");
  expect(doors.map(({ door }) => door).join()).not.toContain("192.0.2");
});

/** An office whose store goes while it runs. */
test("an error is told with its number, which the log knows; what does not work is named", async () => {
  const broken = await serve({ copies: 1 });
  const own = await broken.office.accounts.signIn("mara@office.example", DEMO_PASSWORD, "test", broken.office.clock());
  const as = own.ok ? own.value.cookies.map((one) => one.split(";")[0]).join("; ") : "";
  const file = new Sqlite(join(broken.folder, "office.db"));
  file.exec("pragma foreign_keys = off; alter table visit rename to gone");
  const host = new URL(broken.url).host;
  const page = await ask(broken, "/visits", { host, cookie: as });
  const number = String(page.headers["x-request-id"]);
  expect(page.status).toBe(500);
  expect(page.text).toContain(`If you tell somebody of this, give the number <code>${number}</code>.`);
  // A handler that fails leaves no words of its own.
  const token = formToken(broken.people.mara, broken.office.secret, broken.office.clock());
  const form = { host, cookie: as, origin: broken.url, "content-type": "application/x-www-form-urlencoded" };
  const write = await ask(broken, `/visits/${MARK}/sets/change`, form, `token=${encodeURIComponent(token)}&act=add&name=${MARK}`);
  expect([write.status, write.text]).toEqual([500, expect.stringContaining(String(write.headers["x-request-id"]))]);
  const failed = lines(broken).filter(({ level }) => level === "error");
  expect(failed.find((line) => line["request"] === number)).toMatchObject({ what: "page failed", code: "SQLITE_ERROR", route: "/visits" });
  expect(broken.printed()).not.toContain(MARK);
  expect((await ask(broken, "/metrics")).text).toMatch(/forehail_database_errors_total [1-9]/);
  file.exec("insert into kysely_migration (name, timestamp) values ('9999-later', '2026-01-01')");
  const ready = await ask(broken, "/ready");
  expect([ready.status, JSON.parse(ready.text)]).toEqual([503, expect.objectContaining({ status: "not ready", parts: ["tables"] })]);
  file.close();
  await broken.stop();
});

/** Begins a request and sends the rest of it only later. */
const slowPost = (at: Served, path: string, headers: string, body: string) => {
  const { port } = new URL(at.url);
  const socket = connect(Number(port), "127.0.0.1");
  let text = "";
  socket.setEncoding("utf8").on("data", (chunk: string) => {
    text += chunk;
  });
  const ended = new Promise<string>((done) => socket.once("close", () => done(text)));
  socket.on("error", () => undefined);
  socket.write(`POST ${path} HTTP/1.1\r\n${headers}\r\ncontent-length: ${Buffer.byteLength(body)}\r\n\r\n${body.slice(0, 5)}`);
  return { rest: () => socket.write(body.slice(5)), ended };
};

const invitations = ({ folder }: Served): number => {
  const rows = new Sqlite(join(folder, "office.db"), { readonly: true });
  const many = rows.prepare("select mark from invitation").all().length;
  rows.close();
  return many;
};

describe("told to stop", () => {
  test("it answers what is under way, keeps it, takes nothing new and ends with 0", async () => {
    const own = await serve({ copies: 1, more: { HOST: "127.0.0.1" } });
    const { host } = new URL(own.url);
    const outcome = await own.office.accounts.signIn("odo@office.example", DEMO_PASSWORD, "test", own.office.clock());
    const as = outcome.ok ? outcome.value.cookies.map((one) => one.split(";")[0]).join("; ") : "";
    const token = formToken(own.people.odo, own.office.secret, own.office.clock());
    const headers = `host: ${host}\r\norigin: ${own.url}\r\ncookie: ${as}\r\ncontent-type: application/x-www-form-urlencoded`;
    const body = `token=${encodeURIComponent(token)}&role=inspector`;
    const before = invitations(own);
    const posts = [1, 2, 3].map(() => slowPost(own, "/people/invite", headers, body));
    while (!(await ask(own, "/metrics")).text.includes("forehail_requests_under_way 4"))
      await new Promise((again) => setTimeout(again, 20));
    const code = own.signal("SIGTERM");
    while ((await ask(own, "/ready").catch(() => null))?.status === 200) await new Promise((again) => setTimeout(again, 5));
    const refused = async (): Promise<boolean> =>
      ask(own, "/health").then(
        () => false,
        () => true,
      );
    while (!(await refused())) await new Promise((again) => setTimeout(again, 20));
    for (const post of posts) post.rest();
    for (const post of posts) expect(await post.ended).toMatch(/^HTTP\/1\.1 303 [\s\S]*\r\nconnection: close\r\n/i);
    expect(await code).toBe(0);
    expect(invitations(own)).toBe(before + 3);
    expect(lines(own).at(-1)).toMatchObject({ what: "stopped", cut: 0 });
    await own.stop();
  });

  test("those who broke off before their request was whole hold nothing up", async () => {
    const own = await serve({ copies: 1, more: { HOST: "127.0.0.1" } });
    const port = own.copies[0]?.port ?? 0;
    for (let turn = 0; turn < 5; turn += 1)
      await new Promise<void>((done) => {
        const socket = connect({ port, host: "127.0.0.1" });
        socket.on("close", () => done());
        socket.on("error", () => undefined);
        socket.write(
          `POST /sign-in/enter HTTP/1.1\r\nHost: localhost:${port}\r\nOrigin: http://localhost:${port}\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 5000\r\n\r\ntoken=a`,
          () => setTimeout(() => socket.destroy(), 30),
        );
      });
    await new Promise((later) => setTimeout(later, 300));
    const figures = (await ask(own, "/metrics", { host: `localhost:${port}` })).text;
    // Whoever asks for the figures is being answered himself.
    expect(figures).toMatch(/^forehail_requests_under_way 1$/m);
    expect(await own.signal("SIGTERM")).toBe(0);
    expect(own.printed()).toContain('"cut":0');
    await own.stop();
  });

  test("a second signal ends it at once", async () => {
    const own = await serve({ copies: 1, more: { HOST: "127.0.0.1" } });
    const { host } = new URL(own.url);
    const post = slowPost(
      own,
      "/sign-in/enter",
      `host: ${host}\r\norigin: ${own.url}\r\ncontent-type: application/x-www-form-urlencoded`,
      "0123456789",
    );
    while (!(await ask(own, "/metrics")).text.includes("forehail_requests_under_way 2"))
      await new Promise((again) => setTimeout(again, 20));
    const code = own.signal("SIGTERM");
    await new Promise((later) => setTimeout(later, 1_200));
    own.signal("SIGTERM");
    expect(await code).toBe(1);
    await post.ended;
    await own.stop();
  });
});

test("where nobody reads what it prints any more it goes on answering, and stops when it is told to", async () => {
  const own = await serve({ copies: 1, more: { HOST: "127.0.0.1" } });
  const { host } = new URL(own.url);
  own.unread();
  for (let turn = 0; turn < 10; turn += 1) expect((await ask(own, "/sign-in", { host })).status).toBe(200);
  expect(await own.signal("SIGTERM")).toBe(0);
  await own.stop();
});

describe("what keeps it from opening is told by the variable that says it, and nobody is told that it is open", () => {
  const printedBy = async (settings: Readonly<Record<string, string>>, port: number) => {
    let printed = "";
    const { child } = startCopy({ FOREHAIL_SECRET: SECRET, FOREHAIL_DATA: scratch(), ...settings }, port, (text) => {
      printed += text;
    });
    const code = await new Promise<number | null>((done) => child.on("exit", done));
    return { code, printed };
  };

  test.each([
    ["a file where a folder is wanted", { FOREHAIL_DATA: visitFile("old-mechanical") }, "FOREHAIL_DATA: given"],
    ["a folder in one that is not there", { FOREHAIL_DATA: "/no/such/folder" }, 'FOREHAIL_DATA: given "/no/such/folder"; wanted a folder'],
    // RFC 6761, 6.4: no such name ever; RFC 5737: an address of nobody.
    ["a name of nobody", { HOST: "plans.invalid" }, 'HOST: given "plans.invalid"; wanted a name or address of this machine'],
    ["another machine's address", { HOST: "192.0.2.7" }, 'HOST: given "192.0.2.7"; wanted a name or address of this machine'],
  ])("%s", async (_, settings, says) => {
    const { code, printed } = await printedBy(settings, await freePort());
    expect(code).toBe(1);
    expect(printed).toContain(says);
    expect(printed).not.toContain("Forehail is open");
  });

  test("a port at which another listens", async () => {
    const port = served.copies[0]?.port ?? 0;
    const { code, printed } = await printedBy({ HOST: "127.0.0.1" }, port);
    expect(code).toBe(1);
    expect(printed).toContain(`PORT: given "${port}"; wanted a port at which nothing listens yet`);
    expect(printed).not.toContain("Forehail is open");
  });

  test("where nothing does, that it is open is told once it is", () => {
    expect(served.printed()).toContain(`Forehail is open at http://127.0.0.1:${served.copies[0]?.port}`);
  });
});
