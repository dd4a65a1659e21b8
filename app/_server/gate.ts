import { headers } from "next/headers";
import { redirect } from "next/navigation";
import type { Person } from "../../lib/access/accounts.ts";
import { formToken, personOfForm, sameOrigin } from "../../lib/access/formToken.ts";
import { type Message, sealed, unsealed } from "../../lib/access/message.ts";
import { pageBefore, refusalPage } from "../../lib/access/refusal.ts";
import { hasNeed, mayOpen, type Opener } from "../../lib/access/roles.ts";
import { mostOf, type Route, ruleOf, tooLarge } from "../../lib/access/rules.ts";
import { isFrom } from "../../lib/outside/underWay.ts";
import type { Act, StoredVisit } from "../../lib/store/store.ts";
import type { Office } from "../../lib/usecases/office.ts";
import { theOffice } from "./office.ts";
import { readBody } from "./readForm.ts";
import { orUnavailable } from "./unavailable.ts";

/** A person as he comes: with those for whom he stands in today. */
export type Comer = Person & Opener;

const whoComes = async ({ accounts, store, world }: Office, given: Headers): Promise<Comer | null> => {
  const person = await accounts.whoIs(given);
  if (person === null) return null;
  isFrom(given, person.id);
  const absences = await store.standingIn(person.id, world.now().slice(0, 10));
  return { ...person, standsInFor: absences.map(({ person: away }) => away) };
};

/** Whoever came to a page, and what the page needs of the office. */
export interface Admitted {
  readonly office: Office;
  readonly person: Comer | null;
  /** Goes into every form of the page. */
  readonly token: string;
}

export interface SignedInTo extends Admitted {
  readonly person: Comer;
}

export interface AtVisit extends SignedInTo {
  readonly stored: StoredVisit;
}

/** Sends to the page that there is none. Thrown from within a page, "not found" would only be drawn by a script; an address without a page is drawn by the server. */
export const missing = (): never => redirect("/no-such-page");

const NOBODY = "nobody";

/** Writes into the office's log that somebody was refused. */
const refused = ({ store, world }: Office, person: Person | null, route: string, detail: string): Promise<void> =>
  store.audit({ who: person?.id ?? NOBODY, when: world.now(), act: "refused", subject: route, detail });

type PageRoute = Extract<Route, `GET ${string}`>;

/** Lets a person come to a page or sends him to sign in; whoever may not come is told that there is no such page. */
export const admit = async (route: PageRoute): Promise<Admitted> => {
  const office = await theOffice();
  const given = new Headers(await headers());
  const person = await whoComes(office, given);
  const { need } = ruleOf(route);
  if (!hasNeed(person?.role ?? null, need)) {
    if (person === null) redirect(`/sign-in?back=${encodeURIComponent(given.get("x-forehail-path") ?? "/")}`);
    // What stands behind the path may be words that somebody typed, such as a name that is looked for.
    await refused(office, person, route, (given.get("x-forehail-path") ?? "").replace(/\?.*$/s, ""));
    missing();
  }
  return { office, person, token: formToken(person?.id ?? "", office.secret, office.clock()) };
};

/** `admit` for a page that nobody sees without being signed in. */
export const admitPerson = async (route: PageRoute): Promise<SignedInTo> => {
  const admitted = await admit(route);
  const { person } = admitted;
  if (person === null) redirect("/sign-in");
  return { ...admitted, person };
};

/** `admit` for a page of one visit. Other people's visits are no visits. */
export const admitToVisit = async (route: PageRoute, visit: string): Promise<AtVisit> => {
  const admitted = await admitPerson(route);
  const stored = await admitted.office.store.visit(visit);
  if (stored === null) return missing();
  if (!mayOpen(admitted.person, stored)) {
    await refused(admitted.office, admitted.person, route, visit);
    missing();
  }
  return { ...admitted, stored };
};

/** What a write has to go on with. */
export interface Writing {
  readonly request: Request;
  readonly office: Office;
  readonly form: FormData;
  readonly params: Readonly<Record<string, string | readonly string[]>>;
  /** Writes into the log what was done. */
  readonly log: (act: string, subject: string, detail?: string) => Promise<void>;
}

export interface WritingPerson extends Writing {
  readonly person: Comer;
  readonly by: Act;
}

export interface WritingVisit extends WritingPerson {
  readonly stored: StoredVisit;
}

const LONGEST_MESSAGE = 1_500;

/** What the next page shall say, as the query of its address. */
export const said = ({ secret, clock }: Office, { problem, ...more }: Message): string =>
  `said=${sealed({ ...more, ...(problem === undefined ? {} : { problem: problem.slice(0, LONGEST_MESSAGE) }) }, secret, clock())}`;

/** What a page is told to say by its address. */
export const saidIn = ({ secret, clock }: Office, query: Readonly<Record<string, string | undefined>>): Message =>
  unsealed(query["said"], secret, clock());

/** Goes on to a page of ours, as the answer to a form. */
export const see = (path: string, cookies: readonly string[] = []): Response => {
  const answer = new Response(null, { status: 303, headers: { location: path } });
  for (const cookie of cookies) answer.headers.append("set-cookie", cookie);
  return answer;
};

export const LARGEST_FILE = 2 * 1024 * 1024;

/** Whether a script asks, which is answered with data: one that keeps a form while it is filled in. */
export const wantsJson = (request: Request): boolean => request.headers.get("accept") === "application/json";

/** A refusal as a page of its own, with the way back; as data to a script. */
export const turnedAway = (request: Request, status: number, words: string): Response =>
  wantsJson(request)
    ? Response.json({ problem: words }, { status })
    : new Response(refusalPage(words, pageOfForm(request)), { status, headers: { "content-type": "text/html; charset=utf-8" } });

/** Where a browser goes back to after signing in: the page that the form stood on, if it is ours. */
const pageOfForm = (request: Request): string => pageBefore(request.headers.get("referer"));

type WriteRoute = Extract<Route, `POST ${string}`>;
type Context = { readonly params: Promise<Readonly<Record<string, string | readonly string[]>>> };
type Handler = (request: Request, context: Context) => Promise<Response>;

interface Checked {
  readonly writing: Writing;
  readonly person: Comer | null;
  /** Whose page the form stood on. */
  readonly formOf: string;
}

/** What every write has in common: from our own page, of a size, with a token of ours. */
const checked = async (route: WriteRoute, request: Request, { params }: Context): Promise<Checked | Response> => {
  const office = await theOffice();
  const person = await whoComes(office, request.headers);
  const turn = async (status: number, words: string): Promise<Response> => {
    await refused(office, person, route, words);
    return turnedAway(request, status, words);
  };
  if (!sameOrigin(request.headers, office.urlGiven ? office.url : null)) return turn(403, `this was not sent from a page of ${office.url}`);
  const large = tooLarge(new URL(request.url).pathname, Number(request.headers.get("content-length") ?? 0));
  if (large !== null) return turn(413, large);
  const read = await readBody(request, mostOf(route));
  if (!read.ok) return turn(read.faults[0]?.status ?? 400, read.faults[0]?.words ?? "this is no form");
  const form = read.value;
  const formOf = personOfForm(String(form.get("token") ?? ""), office.secret, office.clock());
  if (formOf === null) return turn(403, "this form has run out or is not ours; load its page again");
  if (person !== null && formOf !== person.id) return turn(403, "this form belongs to somebody else; load its page again");
  const log = (act: string, subject: string, detail = ""): Promise<void> =>
    office.store.audit({ who: person?.id ?? NOBODY, when: office.world.now(), act, subject, detail });
  return { writing: { request, office, form, params: await params, log }, person, formOf };
};

/** A write that anybody may send. */
export const writeOfAnybody = (route: WriteRoute, act: (writing: Writing) => Promise<Response>): Handler =>
  orUnavailable(async (request, context) => {
    const outcome = await checked(route, request, context);
    return outcome instanceof Response ? outcome : act(outcome.writing);
  });

/** What is done with a form whose sender is no longer signed in: what he typed is kept for him. */
type Rescue = (writing: Writing, person: string) => Promise<void>;

/** A write of somebody who is signed in and may. */
export const writeOfPerson = (route: WriteRoute, act: (writing: WritingPerson) => Promise<Response>, rescue?: Rescue): Handler =>
  orUnavailable(async (request, context) => {
    const outcome = await checked(route, request, context);
    if (outcome instanceof Response) return outcome;
    const { writing, person, formOf } = outcome;
    if (person === null) {
      if (formOf !== "") await rescue?.(writing, formOf);
      if (wantsJson(request)) return Response.json({ problem: "signed out" }, { status: 401 });
      return see(`/sign-in?back=${encodeURIComponent(pageOfForm(request))}&out=1`);
    }
    if (!hasNeed(person.role, ruleOf(route).need)) {
      await refused(writing.office, person, route, new URL(request.url).pathname);
      return turnedAway(request, 404, "there is no such page");
    }
    return act({ ...writing, person, by: { who: person.id, when: writing.office.world.now() } });
  });

/** The visit of a write, if its sender may open it. */
const visitOf = async ({ office, params }: Writing, person: Comer): Promise<StoredVisit | null> => {
  const stored = await office.store.visit(String(params["visit"] ?? ""));
  return stored !== null && mayOpen(person, stored) ? stored : null;
};

/** A write on one visit. */
export const writeOfVisit = (route: WriteRoute, act: (writing: WritingVisit) => Promise<Response>, rescue?: Rescue): Handler =>
  writeOfPerson(
    route,
    async (writing) => {
      const stored = await visitOf(writing, writing.person);
      if (stored !== null) return act({ ...writing, stored });
      await refused(writing.office, writing.person, route, new URL(writing.request.url).pathname);
      return turnedAway(writing.request, 404, "there is no such visit");
    },
    rescue,
  );

/** What a text field of a form holds. */
export const textIn = (form: FormData, name: string): string => {
  const given = form.get(name);
  return typeof given === "string" ? given : "";
};

/** A path of ours to go back to; the way in where it is none. */
export const ownPath = (given: string): string => (/^\/(?![/\\])[^\s\\]*$/.test(given) && !/[\p{Cc}]/u.test(given) ? given : "/visits");
