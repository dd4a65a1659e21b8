import { pageBefore } from "../../lib/access/refusal.ts";
import { TRY_AFTER, type Typed, unavailablePage, unavailableWords, type Why } from "../../lib/access/unavailablePage.ts";
import { awayBecause } from "../../lib/store/dialects/away.ts";
import { formRead } from "./readForm.ts";

type Handler<Context> = (request: Request, context: Context) => Promise<Response>;

const HEADERS = { "retry-after": String(TRY_AFTER), "cache-control": "no-store" } as const;

/** What was sent is held on the page, but for passwords and files. */
const typedIn = async (request: Request): Promise<Typed> => {
  const given = [...((await formRead(request)) ?? [])];
  const passwords = given.filter(([name]) => /password/i.test(name));
  const files = given.filter(([, value]) => typeof value !== "string" && value.size > 0);
  const { pathname, search } = new URL(request.url);
  return {
    action: `${pathname}${search}`,
    fields: given.flatMap(([name, value]) => (typeof value === "string" && !/password/i.test(name) ? [[name, value] as const] : [])),
    passwords: passwords.length > 0,
    files: files.length > 0,
  };
};

const REPLY = /^\/reply(?:\/|$)/;

/** Pages of the reply tell nobody, not even us, where they were left; a page that was asked for is asked for again. */
const backOf = (request: Request): string => {
  const { pathname, search } = new URL(request.url);
  if (request.method === "GET") return `${pathname}${search}`;
  return REPLY.test(pathname) ? "/reply/at/start" : pageBefore(request.headers.get("referer"));
};

const answered = async (request: Request, why: Why, headers: Readonly<Record<string, string>>): Promise<Response> => {
  const all = { ...headers, ...HEADERS };
  if (request.headers.get("accept") === "application/json")
    return Response.json({ problem: unavailableWords(why) }, { status: 503, headers: all });
  const page = unavailablePage(why, backOf(request), request.method === "POST" ? await typedIn(request) : null);
  return new Response(page, { status: 503, headers: { ...all, "content-type": "text/html; charset=utf-8" } });
};

/** Answers by a handler; where its database is away, by a page that says so and holds what was sent. Any other error stays one. */
export const orUnavailable =
  <Context>(handle: Handler<Context>, headers: Readonly<Record<string, string>> = {}): Handler<Context> =>
  async (request, context) => {
    try {
      return await handle(request, context);
    } catch (error) {
      const why = awayBecause(error);
      if (why === null) throw error;
      return answered(request, why, headers);
    }
  };
