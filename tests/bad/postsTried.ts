import { readFileSync } from "node:fs";
import { setTimeout as pause } from "node:timers/promises";
import { unsealed } from "../../lib/access/message.ts";
import { type Route, RULES, ruleOf } from "../../lib/access/rules.ts";
import type { Served } from "../browser/server.ts";
import { halfThere, lookedAt } from "../trust/crash/whole.ts";
import type { Field } from "./htmlForms.ts";
import { changedIn, lookInto, type Marks } from "./kept.ts";
import { type Chance, chanceOf } from "./nasty.ts";
import { badPost, HOWS, type Material, type Post, type Target } from "./posts.ts";
import { type Caller, type Stage, signedInAnew, staged } from "./stage.ts";
import { type Answered, sendRaw } from "./wire.ts";

/** So long an answer may take, in milliseconds, and where a paper is laid out or a file read. */
export const POST_LIMIT = 10_000;
const HEAVY_LIMIT = 30_000;
/** So many megabytes the server may hold, its workers that lay out papers among it. */
const MOST_MEMORY = 1_200;
/** After so many posts an office is set up anew, since some of them end what others need. */
const ROUND = 2_500;
/**
 * Whoever is gone, or has no answer any more since he ended his half of the connection, does not hear when it is done: then the server is looked at so often,
 * at these distances in milliseconds, that it was at rest each time. A paper's plan is made before its place in the queue is counted.
 */
const LOOKS = { quick: 3, heavy: 20 } as const;
const BETWEEN_LOOKS = 100;

export const POST_ROUTES: readonly Route[] = (Object.keys(RULES) as readonly Route[]).filter((route) => route.startsWith("POST "));

/**
 * What is written beside, refused or not: the log, paces and tries, what was typed, what is told once, acts under way, sign-ins, the row that has changes of
 * people wait for each other, and what goes on after its answer.
 */
const BESIDE: ReadonlySet<string> = new Set([
  "audit",
  "pace",
  "failed_try",
  "typed",
  "told_once",
  "under_way",
  "session",
  "people_changes",
  "what_if_plan",
]);

/** What lays out letters, goes through the whole office or holds wrong tries back on purpose comes a third as often. */
const SLOW: ReadonlySet<Route> = new Set<Route>([
  "POST /visits/[visit]/letter/make",
  "POST /visits/[visit]/exchange/send",
  "POST /what-if/start",
  "POST /what-if/[tried]/go-on",
  "POST /reply/open",
]);
const QUICK = POST_ROUTES.filter((route) => !SLOW.has(route));

const routeAt = (place: number): Route => {
  const [turn, at] = [Math.floor(place / POST_ROUTES.length), place % POST_ROUTES.length];
  const route = POST_ROUTES[at] ?? "POST /sign-out";
  return SLOW.has(route) && turn % 3 > 0 ? (QUICK[(turn * 7 + at) % QUICK.length] ?? route) : route;
};

const ENDS = ["refused", "taken", "unheard", "hasty"] as const;

/** What became of posts. */
export interface PostsTried {
  readonly count: number;
  /** How many were refused, taken, left without an answer since their sender went, or turned away as too hasty, of which nothing else was learned. */
  readonly ends: Readonly<Record<(typeof ENDS)[number], number>>;
  /** In milliseconds, of all but what lays out papers, and of those. */
  readonly slowest: number;
  readonly slowestPaper: number;
  /** The server's memory at the end, in megabytes. */
  readonly memory: number;
  readonly halfSaved: number;
  readonly wrong: readonly string[];
  readonly byRoute: ReadonlyMap<Route, number>;
}

/** One post as it was sent and answered. */
interface Trial {
  readonly who: string;
  readonly post: Post;
  readonly answer: Answered;
  readonly end: (typeof ENDS)[number];
  /** Tables that a refused post changed. */
  readonly halves: readonly string[];
}

const isHeavy = (route: Route): boolean => ruleOf(route).pace === "heavy";

/** An address of its own for each, so that none is turned away for those before; a browser is told from others by its cookies. */
const headersOf = (caller: Caller, served: Served, place: number): readonly Field[] => [
  ["origin", served.url],
  ["x-forwarded-for", `198.18.${Math.floor(place / 250) % 250}.${(place % 250) + 1}`],
  ["cookie", [caller.cookie, `forehail-number=${place}`].filter((one) => one !== "").join("; ")],
];

/** Somebody else's form, mostly with the seal of whoever sends it: then only who he is is wrong. */
const asSentBy = ({ token }: Caller, target: Target, chance: Chance): Target =>
  chance.below(4) === 0 ? target : { ...target, fields: [...target.fields.filter(([name]) => name !== "token"), ["token", token]] };

/** The post of a number: addresses and ways of being bad come in turn, who sends it by chance, mostly who may. */
const postOf = ({ callers, material }: Stage, place: number, chance: Chance): { readonly caller: Caller; readonly post: Post } => {
  const route = routeAt(place);
  const isHere = (one: Target): boolean => one.route === route;
  const able = callers.filter(({ targets }) => targets.some(isHere));
  const caller = chance.below(5) === 0 || able.length === 0 ? chance.one(callers) : chance.one(able);
  const own = caller.targets.filter(isHere);
  const target = own.length > 0 ? chance.one(own) : asSentBy(caller, chance.one(material.targets.filter(isHere)), chance);
  const how = HOWS[(place + Math.floor(place / POST_ROUTES.length)) % HOWS.length] ?? "";
  return { caller, post: badPost(target, how, chance, material) };
};

/** Whether an answer says that nothing was done. */
const isRefusal = ({ status, location }: Answered, secret: string): boolean => {
  if (status >= 400) return true;
  if (status < 300) return false;
  const said = new URL(location, "http://localhost").searchParams.get("said") ?? undefined;
  return /#problems|^\/sign-in|no-such-page|large=/.test(location) || unsealed(said, secret, Date.now()).problem !== undefined;
};

const endOf = (answer: Answered, secret: string): Trial["end"] => {
  if (answer.status === 0) return "unheard";
  if (answer.status === 429) return "hasty";
  return isRefusal(answer, secret) ? "refused" : "taken";
};

const faultsOf = ({ who, post, answer, halves }: Trial): readonly string[] => {
  const name = `${post.route}, ${post.how}, at ${post.path.slice(0, 120)}, from ${who}: ${answer.status}`;
  return [
    ...(answer.hung ? [`${name}, no end after ${Math.round(answer.took)} ms`] : []),
    ...(answer.status >= 500 ? [name] : []),
    ...(answer.status === 0 && post.end === "whole" && !answer.hung ? [`${name}, the connection ended without an answer`] : []),
    ...(halves.length === 0 ? [] : [`${name}, ${answer.location.slice(0, 80)}: refused, and changed ${halves.join(", ")}`]),
  ];
};

/** What the server printed of errors, each once. */
const errorsIn = (printed: string): readonly string[] => [
  ...new Set(printed.split("\n").filter((line) => /"level":"error"|unhandled|uncaught/i.test(line))),
];

/** Whether a server's figures tell of a paper that waits or is laid out. */
const isBusy = (figures: string): boolean => /^forehail_letters\{[^}]*\} [1-9]/m.test(figures);

/** Waits until the server lays out no paper, so many looks long. */
const atRest = async (port: number, looks: number, limit: number): Promise<void> => {
  const end = performance.now() + limit;
  for (let quiet = 0; quiet < looks && performance.now() < end; await pause(BETWEEN_LOOKS)) {
    const figures = await (await fetch(`http://localhost:${port}/metrics`)).text();
    quiet = isBusy(figures) ? 0 : quiet + 1;
  }
};

const memoryOf = (pid: number): number => Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, "utf8"))?.[1] ?? 0) / 1024;

/** Sends posts one after the other and looks after each what of the office it changed. */
const trialsOf = async (served: Served, seed: number, count: number, files: Material["files"]): Promise<readonly Trial[]> => {
  const looking = lookInto(served.folder, BESIDE);
  const { secret } = served.office;
  const trials: Trial[] = [];
  let stage: Stage = await staged(served, 0, files);
  let before: Marks = looking.marks();
  for (let place = 0; place < count; place += 1) {
    if (place > 0 && place % ROUND === 0) {
      stage = await staged(served, place, files);
      before = looking.marks();
    }
    const { caller, post } = postOf(stage, place, chanceOf(seed * 1_000_003 + place));
    const limit = isHeavy(post.route) ? HEAVY_LIMIT : POST_LIMIT;
    const port = served.copies[0]?.port ?? 0;
    const answer = await sendRaw(port, post, headersOf(caller, served, place), limit);
    if (answer.status === 0) await atRest(port, isHeavy(post.route) ? LOOKS.heavy : LOOKS.quick, HEAVY_LIMIT);
    const [after, end] = [looking.marks(), endOf(answer, secret)];
    trials.push({
      who: caller.who,
      post: { ...post, body: Buffer.alloc(0) },
      answer,
      end,
      halves: end === "refused" ? changedIn(before, after) : [],
    });
    before = after;
    if (answer.location.startsWith("/sign-in")) stage = await signedInAnew(served, stage, caller.who);
  }
  looking.close();
  return trials;
};

/** What is wrong with the office and its server once all was sent. */
const wrongAfter = async (served: Served, broken: readonly string[], memory: number): Promise<readonly string[]> => [
  ...broken,
  ...errorsIn(served.printed()),
  ...(memory > MOST_MEMORY ? [`the server holds ${Math.round(memory)} MB; wanted at most ${MOST_MEMORY}`] : []),
  ...((await fetch(`${served.url}/ready`)).status === 200 ? [] : ["the server does not serve any more"]),
];

const slowestOf = (trials: readonly Trial[]): number => trials.reduce((most, { answer }) => Math.max(most, answer.took), 0);

/** Tries an office with so many bad posts. The server must trust what this machine says of where a post comes from (FOREHAIL_PROXIES). */
export const postsTried = async (served: Served, seed: number, count: number, files: Material["files"] = []): Promise<PostsTried> => {
  const trials = await trialsOf(served, seed, count, files);
  const where = { folder: served.folder, port: served.copies[0]?.port ?? 0 };
  const broken = await lookedAt(where, (db) => halfThere(db, where));
  const memory = memoryOf(served.copies[0]?.pid ?? 0);
  const many = (end: Trial["end"]): number => trials.filter((one) => one.end === end).length;
  return {
    count: trials.length,
    ends: { refused: many("refused"), taken: many("taken"), unheard: many("unheard"), hasty: many("hasty") },
    slowest: slowestOf(trials.filter(({ post }) => !isHeavy(post.route))),
    slowestPaper: slowestOf(trials.filter(({ post }) => isHeavy(post.route))),
    memory,
    halfSaved: broken.length + trials.filter(({ halves }) => halves.length > 0).length,
    wrong: [...trials.flatMap(faultsOf), ...(await wrongAfter(served, broken, memory))],
    byRoute: new Map(POST_ROUTES.map((route) => [route, trials.filter(({ post }) => post.route === route).length])),
  };
};
