import type { Need } from "./roles.ts";

/** What an address is about: nothing of anybody's, or one visit, which only those may open who `mayOpen` it. */
export interface Rule {
  readonly need: Need;
  readonly visit?: true;
  /** So many bytes a write may have where it may have more than others. */
  readonly largest?: number;
  /** What it costs, where that is not what looking and writing usually cost. */
  readonly pace?: "heavy" | "open";
}

const MEGABYTE = 1024 * 1024;

/** So many bytes a write may have: a visit file is the largest. */
const LARGEST = 2 * MEGABYTE;
/** So many bytes the rest of a form may have, beside its file. */
const AROUND = MEGABYTE / 2;

const anybody: Rule = { need: "anybody" };
const signedIn: Rule = { need: "signed in" };
const supervisor: Rule = { need: "supervisor" };
const ofVisit: Rule = { need: "signed in", visit: true };
/** A file that comes with a reply. */
const withUpload: Rule = { ...anybody, largest: 10 * MEGABYTE, pace: "heavy" };
/** A rulebook as a file. */
const withRulebook: Rule = { ...supervisor, largest: 4 * MEGABYTE, pace: "heavy" };
const withForm: Rule = { ...ofVisit, largest: 40 * MEGABYTE, pace: "heavy" };
/** Tried by people of whom nothing is known yet. */
const tried: Rule = { ...anybody, pace: "open" };
/** What lays out papers, reads files or weighs the whole office. */
const heavy = (rule: Rule): Rule => ({ ...rule, pace: "heavy" });

/**
 * Who may come to each address. A test compares this table with the routes there are, so that none is without a rule, and tries each with
 * each role.
 */
export const RULES = {
  "GET /": anybody,
  "GET /set-up": tried,
  "POST /set-up/create": tried,
  "GET /join": tried,
  "POST /join/create": tried,
  "POST /join/password": tried,
  "GET /sign-in": anybody,
  "POST /sign-in/enter": tried,
  "POST /sign-out": signedIn,
  "GET /core/[name]": anybody,
  // Whoever has a private link; the pages look at it themselves.
  "GET /reply/[code]": tried,
  "GET /reply/open": anybody,
  "POST /reply/open": tried,
  "GET /reply": anybody,
  "GET /reply/at/[step]": anybody,
  "POST /reply/at/[step]": anybody,
  "POST /reply/files": withUpload,
  "POST /reply/confirm": anybody,
  "GET /reply/letter": heavy(anybody),
  "GET /reply/receipt": heavy(anybody),
  "GET /account": signedIn,
  "POST /account/password": heavy(signedIn),
  "POST /account/absence": signedIn,
  "GET /account/export": signedIn,
  "GET /privacy": signedIn,
  "GET /privacy/person": supervisor,
  "GET /privacy/person/export": supervisor,
  "POST /privacy/erase": supervisor,
  "GET /privacy/visits": supervisor,
  "POST /privacy/visits/remove": supervisor,
  "GET /rulebook": signedIn,
  "GET /rulebook/[kind]": signedIn,
  "GET /rulebook/[kind]/[id]": signedIn,
  "GET /people": supervisor,
  "POST /people/invite": heavy(supervisor),
  "POST /people/withdraw": supervisor,
  "GET /people/[person]": supervisor,
  "POST /people/[person]/role": supervisor,
  "POST /people/[person]/absence": supervisor,
  "POST /people/[person]/hand-over": supervisor,
  "POST /people/[person]/sign-ins": supervisor,
  "POST /people/[person]/password": heavy(supervisor),
  "POST /people/[person]/end": supervisor,
  "GET /over-time": supervisor,
  "GET /over-time/visits": supervisor,
  "GET /over-time/numbers": heavy(supervisor),
  "GET /log": supervisor,
  "GET /reviews": supervisor,
  "GET /what-if": supervisor,
  "POST /what-if/start": withRulebook,
  "GET /what-if/[tried]": supervisor,
  "POST /what-if/[tried]/go-on": heavy(supervisor),
  "GET /consistency": supervisor,
  "POST /consistency/settle": supervisor,
  "GET /consistency/export/[file]": heavy(supervisor),
  "GET /policy": signedIn,
  "GET /policy/[number]": signedIn,
  "GET /policy/change": supervisor,
  "POST /policy/keep": supervisor,
  "POST /policy/[number]/adopt": supervisor,
  "POST /policy/[number]/drop": supervisor,
  "GET /visits": signedIn,
  "GET /visits/new": signedIn,
  "POST /visits/create": heavy(signedIn),
  "POST /visits/import": heavy(signedIn),
  "GET /visits/[visit]": ofVisit,
  "GET /visits/[visit]/policy": ofVisit,
  "POST /visits/[visit]/policy/take": ofVisit,
  "GET /visits/[visit]/particulars": ofVisit,
  "POST /visits/[visit]/particulars/save": ofVisit,
  "GET /visits/[visit]/sets": ofVisit,
  "POST /visits/[visit]/sets/change": ofVisit,
  "GET /visits/[visit]/ask/[...path]": ofVisit,
  "POST /visits/[visit]/save/[...path]": ofVisit,
  "GET /visits/[visit]/check": ofVisit,
  "GET /visits/[visit]/board": ofVisit,
  "GET /visits/[visit]/tests/[set]/[kind]": ofVisit,
  "POST /visits/[visit]/tests/[set]/[kind]/choose": ofVisit,
  "GET /visits/[visit]/review": ofVisit,
  "POST /visits/[visit]/review/decide": ofVisit,
  "POST /visits/[visit]/review/run-again": ofVisit,
  "GET /visits/[visit]/letter": ofVisit,
  "POST /visits/[visit]/letter/make": heavy(ofVisit),
  "POST /visits/[visit]/letter/today": ofVisit,
  "GET /visits/[visit]/letter/page": heavy(ofVisit),
  "GET /visits/[visit]/letters/[made]": heavy(ofVisit),
  "GET /visits/[visit]/files/[file]": heavy(ofVisit),
  "GET /visits/[visit]/lists/[list]": heavy(ofVisit),
  "GET /visits/[visit]/day": ofVisit,
  "POST /visits/[visit]/day/save": ofVisit,
  "GET /visits/[visit]/exchange": ofVisit,
  "POST /visits/[visit]/exchange/send": heavy(ofVisit),
  "POST /visits/[visit]/exchange/link": heavy(ofVisit),
  "POST /visits/[visit]/exchange/remind": heavy(ofVisit),
  "GET /visits/[visit]/results": ofVisit,
  "POST /visits/[visit]/results/keep": ofVisit,
  "GET /visits/[visit]/file": heavy(ofVisit),
  "GET /visits/[visit]/again": ofVisit,
  "POST /visits/[visit]/again/create": heavy(ofVisit),
  "GET /visits/[visit]/exchange/[sent]": ofVisit,
  "POST /visits/[visit]/exchange/[sent]/load": withForm,
  "POST /visits/[visit]/exchange/[sent]/read": ofVisit,
  "POST /visits/[visit]/exchange/[sent]/key-in": ofVisit,
  "POST /visits/[visit]/exchange/[sent]/confirm": ofVisit,
  "POST /visits/[visit]/exchange/[sent]/weigh": ofVisit,
  "POST /visits/[visit]/exchange/[sent]/take-in": ofVisit,
  "POST /visits/[visit]/exchange/[sent]/take-back": ofVisit,
  "GET /visits/[visit]/record": ofVisit,
} as const satisfies Readonly<Record<string, Rule>>;

export type Route = keyof typeof RULES;

export const ruleOf = (route: Route): Rule => RULES[route];

const withOwn = (Object.keys(RULES) as readonly Route[]).flatMap((route) => {
  const { largest } = ruleOf(route);
  const path = new RegExp(`^${route.replace("POST ", "").replaceAll(/\[[^\]]*\]/g, "[^/]+")}$`);
  return largest === undefined ? [] : [{ path, largest }];
});

/** So many bytes a write may have, its form among them. */
export const mostOf = (route: Route): number => (ruleOf(route).largest ?? LARGEST) + AROUND;

const LARGE = "large";

/** The page of the vessel's reply that tells of a file too large to be read, of so many bytes with its form. */
export const tooLargeOnReply = (bytes: number): string => `/reply/at/files?${LARGE}=${bytes}`;

/** How many bytes somebody wanted to send who was led to the page of files for that; null where he came otherwise. */
export const largeIn = (query: URLSearchParams): number | null => {
  const bytes = query.get(LARGE) ?? "";
  return /^\d{1,15}$/.test(bytes) ? Number(bytes) : null;
};

/** Why a write of so many bytes is turned away from an address before any of it is read; null where it is not. */
export const tooLarge = (path: string, bytes: number): string | null => {
  const most = withOwn.find((one) => one.path.test(path))?.largest ?? LARGEST;
  return bytes <= most + AROUND ? null : `this is too large: at most ${most / MEGABYTE} MB can be sent to this page`;
};

const patterns = (Object.keys(RULES) as readonly Route[])
  .map((route) => ({
    route,
    free: route.split("[").length,
    form: new RegExp(`^${route.replaceAll(/\[\.\.\.[^\]]*\]/g, ".+").replaceAll(/\[[^\]]*\]/g, "[^/]+")}$`),
  }))
  .sort((one, other) => one.free - other.free);

/** Which address a request asks for, without what stands in it of codes and names; null where there is none such. */
export const routeOf = (method: string, path: string): Route | null =>
  patterns.find(({ form }) => form.test(`${method === "HEAD" ? "GET" : method} ${path}`))?.route ?? null;
