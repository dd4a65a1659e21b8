import { request } from "node:http";
import { join } from "node:path";
import Sqlite from "better-sqlite3";
import { formToken } from "../../lib/access/formToken.ts";
import { type Route, RULES, ruleOf } from "../../lib/access/rules.ts";
import { DEMO_PASSWORD } from "../../lib/cli/demoPeople.ts";
import type { Sent } from "../../lib/usecases/exchange/send.ts";
import { loadedNow, sentNow } from "./sent.ts";
import { type Served, serve } from "./server.ts";

/** The address that people reach the office by. */
export const OFFICE = "https://plans.example.org";

export interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | readonly string[] | undefined>>;
  readonly text: string;
}

export interface Asking {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string;
}

/** Asks as the server in front would, with headers as they are, the host among them. */
export const ask = ({ url }: Served, path: string, { method, headers = {}, body }: Asking = {}): Promise<Answer> =>
  new Promise((done, fail) => {
    const to = { port: new URL(url).port, host: "127.0.0.1", path, headers: { host: new URL(OFFICE).host, ...headers } };
    const asked = request({ ...to, method: method ?? (body === undefined ? "GET" : "POST"), agent: false }, (answer) => {
      let text = "";
      answer.setEncoding("utf8").on("data", (chunk: string) => {
        text += chunk;
      });
      answer.on("end", () => done({ status: answer.statusCode ?? 0, headers: answer.headers, text }));
    });
    asked.on("error", fail);
    asked.end(body);
  });

export type Fields = Readonly<Record<string, string>>;

/** A form as a page of ours sends it. */
export const formOf = (fields: Fields, cookie = ""): Asking => ({
  headers: { origin: OFFICE, cookie, "content-type": "application/x-www-form-urlencoded" },
  body: new URLSearchParams(fields).toString(),
});

export const cookiesIn = ({ headers }: Answer): readonly string[] => [headers["set-cookie"] ?? []].flat();

/** What a browser sends of these cookies. */
export const shown = (cookies: readonly string[]): string => cookies.map((cookie) => cookie.split(";")[0]).join("; ");

type Name = keyof Served["people"];

/** The page's token for a person, by name; "" for nobody. */
export const tokenFor = ({ people, office }: Served, name: Name | ""): string =>
  formToken(name === "" ? "" : people[name], office.secret, office.clock());

/** Signs a person in by the page; the answer. */
export const signIn = (served: Served, name: Name, more: Fields = {}): Promise<Answer> =>
  ask(served, "/sign-in/enter", formOf({ token: tokenFor(served, ""), email: `${name}@office.example`, password: DEMO_PASSWORD, ...more }));

/** Opens a private link: the cookie and the token of the page that comes back. */
export const openLink = async (
  served: Served,
  sent: Sent,
): Promise<{ readonly cookie: string; readonly token: string; readonly answer: Answer }> => {
  const code = sent.links[0]?.link.split("/").at(-1) ?? "";
  const answer = await ask(served, "/reply/open", formOf({ code }));
  return { cookie: shown(cookiesIn(answer)), token: /name="token" value="([^"]+)"/.exec(answer.text)?.[1] ?? "", answer };
};

/** Rows of tables as they stand in the database. */
export const rowsOf = ({ folder }: Served, ...tables: readonly string[]): Readonly<Record<string, readonly unknown[]>> => {
  const file = new Sqlite(join(folder, "office.db"), { readonly: true });
  const rows = Object.fromEntries(tables.map((table) => [table, file.prepare(`select * from "${table}"`).all()]));
  file.close();
  return rows;
};

/** Every table but those that only count requests and keep what is short-lived. */
export const lastingTables = ({ folder }: Served): readonly string[] => {
  const file = new Sqlite(join(folder, "office.db"), { readonly: true });
  const named = file.prepare("select name from sqlite_master where type = 'table' and name not like 'sqlite_%'").all();
  file.close();
  const passing = new Set(["pace", "failed_try", "told_once", "under_way", "session"]);
  return (named as readonly { readonly name: string }[]).map(({ name }) => name).filter((name) => !passing.has(name));
};

export interface Guarded {
  readonly served: Served;
  /** A visit of Mara's with a letter out, and another. */
  readonly visit: string;
  readonly sent: Sent;
  readonly other: Sent;
}

/** An office under its own address, with two visits of Mara's of which a letter is out. */
export const guardedOffice = async (): Promise<Guarded> => {
  const served = await serve({ copies: 1, more: { HOST: "127.0.0.1", FOREHAIL_URL: OFFICE, FOREHAIL_PROXIES: "127.0.0.1" } });
  const [visit, second] = [await loadedNow(served, "old-mechanical"), await loadedNow(served, "modern-electronic")];
  return { served, visit, sent: await sentNow(served, visit), other: await sentNow(served, second) };
};

/** Addresses of a method, with what stands in for their places. */
export const addresses = (method: "GET" | "POST", { served, visit, sent }: Guarded): readonly (readonly [Route, string])[] =>
  (Object.keys(RULES) as readonly Route[])
    .filter((route) => route.startsWith(method))
    .map((route) => [
      route,
      (route.split(" ")[1] ?? "")
        .replace("/rulebook/[kind]/[id]", "/rulebook/protections/overspeed")
        .replace("/rulebook/[kind]", "/rulebook/protections")
        .replace("/consistency/export/[file]", "/consistency/export/findings.csv")
        .replace("/privacy/person/export", `/privacy/person/export?who=${served.people.ilse}`)
        .replace("[visit]", visit)
        .replace("[person]", served.people.ilse)
        .replace("[made]", sent.letter.made)
        .replace("[sent]", sent.letter.id)
        .replace("[...path]", "rules")
        .replace("[list]", "requests.csv")
        .replace("[set]", "1")
        .replace("[kind]", "overspeed")
        .replace("[step]", "start")
        .replace(/\[(?:code|name|tried|file)\]/, "nothing")
        .replace("[number]", "1"),
    ]);

/** Addresses of the office itself, which nobody comes to who is not signed in. */
export const officeAddresses = (guarded: Guarded): readonly (readonly [Route, string])[] =>
  addresses("GET", guarded).filter(([route]) => ruleOf(route).need !== "anybody");
