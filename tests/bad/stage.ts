import { readFileSync } from "node:fs";
import { formToken } from "../../lib/access/formToken.ts";
import { markOf } from "../../lib/access/invitation.ts";
import { replyPageToken, replySession } from "../../lib/access/replyLink.ts";
import { type Route, RULES, routeOf, ruleOf } from "../../lib/access/rules.ts";
import { DEMO_PASSWORD } from "../../lib/cli/demoPeople.ts";
import { officePolicySchema } from "../../lib/model/officePolicy.ts";
import type { Sent } from "../../lib/usecases/exchange/send.ts";
import { decideReview } from "../../lib/usecases/review/decide.ts";
import { beginWhatIf } from "../../lib/usecases/review/whatIf.ts";
import { replyConfirmed } from "../browser/replies.ts";
import { loadedNow, sentNow } from "../browser/sent.ts";
import { loaded, type Served } from "../browser/server.ts";
import { visit as visitFile } from "../cli/cli.ts";
import { BASELINE, PNG } from "../reply/uploads.ts";
import { formsOf } from "./htmlForms.ts";
import type { Material, Target } from "./posts.ts";

export type Who = "inspector" | "another inspector" | "supervisor" | "vessel" | "nobody";

/** Somebody who posts: what his browser shows, the seal of his forms, and the forms that his pages offer. */
export interface Caller {
  readonly who: Who;
  readonly cookie: string;
  readonly token: string;
  readonly targets: readonly Target[];
}

/** An office with something of everything, and those who write to it. */
export interface Stage {
  readonly callers: readonly Caller[];
  readonly material: Material;
}

/** What stands in the addresses in place of codes and names. */
interface Places {
  readonly visits: readonly string[];
  readonly sent: ReadonlyMap<string, string>;
  readonly person: string;
  readonly tried: string;
  readonly made: string;
}

/** The pages of questions whose forms are taken. */
const PAGES = ["rules", "sets/1/plate", "sets/1/overspeed", "crew"];
/** Of forms of one address so many are tried. */
const EACH = 4;

const filledOf = (route: string, visit: string, { sent, person, tried, made }: Places): readonly string[] => {
  const path = (route.split(" ")[1] ?? "")
    .replace("[visit]", visit)
    .replace("[sent]", sent.get(visit) ?? "none")
    .replace("[person]", person)
    .replace("[tried]", tried)
    .replace("[made]", made)
    .replace("[set]", "1")
    .replace("[kind]", "overspeed")
    .replace("[number]", "1")
    .replace("[step]", "start")
    .replace(/\/privacy\/visits$/, "/privacy/visits?years=1")
    .replace(/\/privacy\/person$/, `/privacy/person?who=${person}`);
  return path.includes("[...path]") ? PAGES.map((page) => path.replace("[...path]", page)) : [path.replace(/\[[^\]]*\]/g, "none")];
};

const pathsOf = (route: string, places: Places): readonly string[] =>
  route.includes("[visit]") ? places.visits.flatMap((visit) => filledOf(route, visit, places)) : filledOf(route, "", places);

/** Papers and files hold no forms. */
const isPage = (route: string): boolean =>
  route.startsWith("GET ") && !/export|numbers|letters|files|lists|\/file$|receipt|reply\/letter|letter\/page|core/.test(route);

const pageOf = async (url: string, path: string, cookie: string): Promise<string> => {
  const answer = await fetch(url + path, { headers: { cookie }, redirect: "manual" });
  return answer.text();
};

/** The forms that pages offer to whoever shows this cookie, of each address some. */
const targetsFor = async ({ url, people }: Served, cookie: string, paths: readonly string[]): Promise<readonly Target[]> => {
  // Who posts is not ended or erased himself.
  const kept = [people.mara, people.odo];
  const found = new Map<Route, Target[]>();
  for (const path of paths)
    for (const { action, fields } of formsOf(await pageOf(url, path, cookie))) {
      const route = routeOf("POST", action.replace(/[?#].*$/, ""));
      if (route === null || kept.some((id) => action.includes(id))) continue;
      const here = found.get(route) ?? [];
      if (here.length < EACH && !here.some((one) => one.path === action && one.fields.length === fields.length))
        found.set(route, [...here, { route, path: action, fields }]);
    }
  return [...found.values()].flat();
};

/** The pages of a reply, as its first one names them. */
const replyPages = async (url: string, cookie: string): Promise<readonly string[]> =>
  [...new Set((await pageOf(url, "/reply/at/start", cookie)).match(/\/reply\/at\/[\w-]+/g) ?? [])].slice(0, 12);

/** Signs somebody in; who cannot be, since an earlier post ended his account, shows nothing. */
const signedIn = async (
  { office, people }: Served,
  name: "mara" | "odo" | "ilse",
): Promise<{ readonly cookie: string; readonly token: string }> => {
  const outcome = await office.accounts.signIn(`${name}@office.example`, DEMO_PASSWORD, "test", office.clock());
  const cookie = outcome.ok ? outcome.value.cookies.map((one) => one.split(";")[0]).join("; ") : "";
  return { cookie, token: formToken(people[name], office.secret, office.clock()) };
};

/** Somebody whose page is opened and who is changed, so that those who post stay who they are. */
const another = async ({ office }: Served, number: number): Promise<string> => {
  const code = await office.accounts.invite("inspector", "console", office.clock());
  const about = { name: `Tove Hallin ${number}`, email: `tove${number}@office.example`, password: DEMO_PASSWORD };
  const made = await office.accounts.takeUp(code, about, office.clock());
  if (!made.ok) throw new Error(made.faults.join());
  return made.value.id;
};

/** An office's acts that leave something to be posted to: a policy to adopt, a review that is asked for, something that is tried. */
const acts = async ({ office, people }: Served, visit: string): Promise<string> => {
  const { store, world } = office;
  const stored = await store.visit(visit);
  const asking = { act: "asked", words: "", comments: new Map(), seen: 0, version: stored?.version ?? 0 } as const;
  if (stored !== null) await decideReview(office, stored, asking, { who: people.mara, when: world.now() });
  const by = { who: people.odo, when: world.now() };
  await store.addPolicy(officePolicySchema.parse({ plan: { loadLimit: 80 } }), "", { versions: 0, acts: 0 }, by);
  const begun = await beginWhatIf(office, { sort: "rulebook" }, people.odo);
  return begun.ok ? begun.value : "";
};

const NAMES: Partial<Record<Who, "mara" | "odo" | "ilse">> = { inspector: "mara", supervisor: "odo", "another inspector": "ilse" };

/** The same stage once somebody's sign-in has ended: he is signed in anew. */
export const signedInAnew = async (served: Served, stage: Stage, who: Who): Promise<Stage> => {
  const name = NAMES[who];
  if (name === undefined) return stage;
  const { cookie } = await signedIn(served, name);
  return { ...stage, callers: stage.callers.map((caller) => (caller.who === who ? { ...caller, cookie } : caller)) };
};

const codeOf = ({ links }: Sent): string => links[0]?.link.split("/").at(-1) ?? "";

const vesselOf = async (served: Served, sent: Sent): Promise<Caller> => {
  const { office } = served;
  const mark = markOf(codeOf(sent));
  const cookie = `forehail-reply=${replySession(mark, office.secret, office.clock())}`;
  const targets = await targetsFor(served, cookie, await replyPages(served.url, cookie));
  const open: Target = { route: "POST /reply/open", path: "/reply/open", fields: [["code", codeOf(sent)]] };
  return { who: "vessel", cookie, token: replyPageToken(mark, office.secret, office.clock()), targets: [...targets, open] };
};

const FILES: readonly Uint8Array[] = [PNG, BASELINE, readFileSync(visitFile("old-mechanical")), Buffer.from("%PDF-1.7\n%%EOF\n")];

/** Sets an office up anew beside what is there already; `number` tells one time from another. */
export const staged = async (served: Served, number: number, files: readonly Uint8Array[] = []): Promise<Stage> => {
  const { office, people } = served;
  const open = await loaded(served, "old-mechanical", people.mara);
  const asked = await loadedNow(served, "old-mechanical");
  const answered = await loadedNow(served, "mixed-channels");
  const [waiting, confirmed] = [await sentNow(served, asked), await replyConfirmed(served, answered)];
  const [tried, person] = [await acts(served, open), await another(served, number)];
  const sent = new Map([
    [asked, waiting.letter.id],
    [answered, confirmed.id],
  ]);
  const places: Places = { visits: [open, asked, answered], sent, person, tried, made: confirmed.made };
  const signed = { mara: await signedIn(served, "mara"), odo: await signedIn(served, "odo"), ilse: await signedIn(served, "ilse") };
  const nobody = { cookie: "", token: formToken("", office.secret, office.clock()) };
  const pages = (Object.keys(RULES) as readonly Route[]).filter(isPage);
  const callerOf = async (who: Who, as: { readonly cookie: string; readonly token: string }, own: readonly Route[]): Promise<Caller> => ({
    who,
    ...as,
    targets: await targetsFor(
      served,
      as.cookie,
      own.flatMap((route) => pathsOf(route, who === "inspector" ? places : { ...places, visits: [open] })),
    ),
  });
  const callers: readonly Caller[] = [
    await callerOf(
      "inspector",
      signed.mara,
      pages.filter((route) => ruleOf(route).need === "signed in"),
    ),
    await callerOf(
      "supervisor",
      signed.odo,
      pages.filter((route) => ruleOf(route).need === "supervisor" || /review|policy/.test(route)),
    ),
    await vesselOf(served, waiting),
    await callerOf(
      "nobody",
      nobody,
      pages.filter((route) => ruleOf(route).need === "anybody" && !route.includes("/reply")),
    ),
    { who: "another inspector", ...signed.ilse, targets: [] },
  ];
  const tokens = [
    ...callers.map(({ token }) => token),
    formToken(people.mara, office.secret, 0),
    formToken("x", "another key of thirty-two characters", office.clock()),
  ];
  const ids = [
    open,
    asked,
    answered,
    waiting.letter.id,
    confirmed.id,
    tried,
    person,
    people.ilse,
    "none",
    "00000000-0000-4000-8000-000000000000",
  ];
  const bare = (Object.keys(RULES) as readonly Route[])
    .filter((route) => route.startsWith("POST ") && !callers.some(({ targets }) => targets.some((one) => one.route === route)))
    .map((route): Target => ({ route, path: pathsOf(route, { ...places, visits: [answered] })[0] ?? "/", fields: [] }));
  const targets = [...callers.flatMap((caller) => caller.targets), ...bare];
  return { callers, material: { targets, tokens, ids, files: [...FILES, ...files] } };
};
