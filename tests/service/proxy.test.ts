import { request } from "node:https";
import { join } from "node:path";
import { connect } from "node:tls";
import Sqlite from "better-sqlite3";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { formToken } from "../../lib/access/formToken.ts";
import { DEMO_PASSWORD } from "../../lib/cli/demoPeople.ts";
import { loadedNow, sentNow } from "../browser/sent.ts";
import { type Served, serve } from "../browser/server.ts";
import { scratch } from "../cli/cli.ts";
import { type Front, startNginx } from "./nginx.ts";

const URL_GIVEN = "https://plans.example.org";
const MB = 1024 * 1024;
const FORM = "application/x-www-form-urlencoded";

let copies: readonly [Served, Served];
let front: Front;

const portOf = ({ url }: Served): number => Number(new URL(url).port);

beforeAll(async () => {
  const more = { HOST: "127.0.0.1", FOREHAIL_URL: URL_GIVEN, FOREHAIL_PROXIES: "127.0.0.1", FOREHAIL_DATA: scratch() };
  const first = await serve({ more });
  copies = [first, await serve({ empty: true, more })];
  front = await startNginx([portOf(copies[0]), portOf(copies[1])]);
}, 300_000);
afterAll(async () => {
  await front.stop();
  for (const copy of copies) await copy.stop();
});

interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | readonly string[] | undefined>>;
  readonly text: string;
}

const ask = (path: string, headers: Readonly<Record<string, string>> = {}, body?: string | Uint8Array): Promise<Answer> =>
  new Promise((done, fail) => {
    const all = { host: "plans.example.org", origin: URL_GIVEN, ...headers };
    const to = { port: front.port, host: "127.0.0.1", path, headers: all, rejectUnauthorized: false, agent: false } as const;
    const asked = request({ ...to, method: body === undefined ? "GET" : "POST" }, (answer) => {
      let text = "";
      answer.setEncoding("utf8").on("data", (chunk: string) => {
        text += chunk;
      });
      answer.on("end", () => done({ status: answer.statusCode ?? 0, headers: answer.headers, text }));
    });
    asked.on("error", fail);
    asked.end(body);
  });

const tokenOf = (person: string): string => encodeURIComponent(formToken(person, copies[0].office.secret, copies[0].office.clock()));

const signIn = (password: string, headers: Readonly<Record<string, string>> = {}): Promise<Answer> =>
  ask(
    "/sign-in/enter",
    { "content-type": FORM, ...headers },
    `token=${tokenOf("")}&email=mara@office.example&password=${encodeURIComponent(password)}`,
  );

test("HTTP/2 over TLS 1.2 and later, nothing older", async () => {
  const shake = (version: "TLSv1.1" | "TLSv1.3"): Promise<unknown> =>
    new Promise((done) => {
      const limits = { minVersion: "TLSv1", maxVersion: version, ciphers: "DEFAULT:@SECLEVEL=0" } as const;
      const socket = connect({ port: front.port, host: "127.0.0.1", rejectUnauthorized: false, ALPNProtocols: ["h2"], ...limits }, () => {
        done(socket.alpnProtocol);
        socket.end();
      });
      socket.on("error", () => done("refused"));
    });
  expect([await shake("TLSv1.3"), await shake("TLSv1.1")]).toEqual(["h2", "refused"]);
});

test("a person signs in by a secure cookie, which either copy knows", async () => {
  const answer = await signIn(DEMO_PASSWORD);
  expect([answer.status, answer.headers["location"]]).toEqual([303, "/visits"]);
  const cookies = [answer.headers["set-cookie"] ?? []].flat();
  expect(cookies.length).toBeGreaterThan(0);
  for (const cookie of cookies) expect(cookie).toMatch(/^__Host-.*; Secure/i);
  expect(answer.headers["strict-transport-security"]).toMatch(/^max-age=31536000/);
  const cookie = cookies.map((one) => one.split(";")[0]).join("; ");
  for (const copy of copies) {
    const page = await fetch(`http://127.0.0.1:${portOf(copy)}/health`);
    expect(page.status).toBe(200);
  }
  for (let tried = 0; tried < 4; tried += 1) expect((await ask("/visits", { cookie })).status).toBe(200);
});

test("where a try comes from is not what it says of itself", async () => {
  const own = {
    "x-forwarded-for": "192.0.2.77",
    "x-forehail-address": "192.0.2.78",
    forwarded: "for=192.0.2.79",
    "x-real-ip": "192.0.2.80",
  };
  expect((await signIn("wrong", own)).headers["location"]).toMatch(/^\/sign-in\?/);
  const rows = new Sqlite(join(copies[0].folder, "office.db"), { readonly: true });
  const doors = (rows.prepare("select door from failed_try").all() as readonly { readonly door: string }[]).map(({ door }) => door);
  rows.close();
  expect(doors).toContain("address 127.0.0.1");
  expect(doors.join()).not.toContain("192.0.2");
});

test("figures and the state of a copy are not for outside", async () => {
  for (const path of ["/metrics", "/ready", "/metrics?x", "/./metrics"]) expect((await ask(path)).status).toBe(404);
  expect((await ask("/health")).status).toBe(200);
});

describe("what is sent", () => {
  const parts = (fields: Readonly<Record<string, string>>, content: Uint8Array): readonly [string, Uint8Array] => {
    const mark = "a-mark-between-parts";
    const texts = Object.entries(fields).map(
      ([name, value]) => `--${mark}\r\ncontent-disposition: form-data; name="${name}"\r\n\r\n${value}\r\n`,
    );
    const file = `--${mark}\r\ncontent-disposition: form-data; name="file"; filename="plate.pdf"\r\ncontent-type: application/pdf\r\n\r\n`;
    return [
      `multipart/form-data; boundary=${mark}`,
      Buffer.concat([Buffer.from(texts.join("") + file), content, Buffer.from(`\r\n--${mark}--\r\n`)]),
    ];
  };

  const paper = (bytes: number): Uint8Array => {
    const ends = ["%PDF-1.7\n% ", "\nstartxref\n9\n%%EOF\n"].map((text) => Buffer.from(text));
    return Buffer.concat([ends[0] ?? Buffer.of(), Buffer.alloc(bytes, "a page "), ends[1] ?? Buffer.of()]);
  };

  test("a file of 9 MB comes in with a reply; one too large is told on the page of files", async () => {
    const sent = await sentNow(copies[0], await loadedNow(copies[0], "old-mechanical"));
    const code = sent.links[0]?.link.split("/").at(-1) ?? "";
    const opened = await ask("/reply/open", { "content-type": FORM }, `code=${code}`);
    const token = /name="token" value="([^"]+)"/.exec(opened.text)?.[1] ?? "";
    expect(token).not.toBe("");
    const [type, body] = parts({ token, what: "photograph" }, paper(9 * MB));
    const taken = await ask("/reply/files", { "content-type": type }, body);
    expect([taken.status, taken.text]).toEqual([200, expect.stringContaining("plate.pdf is received and kept")]);
    const [, large] = parts({ token, what: "photograph" }, paper(42 * MB));
    const told = await ask("/reply/files", { "content-type": type }, large);
    expect([told.status, told.headers["location"]]).toEqual([303, `/reply/at/files?large=${large.length}`]);
  });

  test("elsewhere what is too large is refused, by Forehail as each address says, beyond all by nginx", async () => {
    const own = await ask("/visits/create", { "content-type": FORM }, Buffer.alloc(3 * MB, "a"));
    expect([own.status, own.text]).toEqual([413, expect.stringContaining("at most 2 MB")]);
    expect((await ask("/visits/create", { "content-type": FORM }, Buffer.alloc(42 * MB, "a")).catch(() => ({ status: 413 }))).status).toBe(
      413,
    );
  });
});

test("one copy is stopped, and nobody notices", async () => {
  const [, second] = copies;
  expect(await second.signal("SIGTERM")).toBe(0);
  for (let tried = 0; tried < 6; tried += 1) expect((await ask("/sign-in")).status).toBe(200);
});
