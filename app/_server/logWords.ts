import type { LogLine } from "../../components/people/LogTable.tsx";
import type { Audited } from "../../lib/store/store.ts";
import type { Office } from "../../lib/usecases/office.ts";
import { vesselOf } from "../../lib/usecases/visits/visitDraft.ts";
import { instant, namesIn } from "./words.ts";

/** Acts whose names in the log are too short to be understood by themselves; all others are told as they are kept. */
const ACTS: Readonly<Record<string, string>> = {
  refused: "turned away",
  deviation: "another way chosen",
  "deviation taken back": "chosen way taken back",
  invited: "link for an account made",
  withdrew: "one-time link withdrawn",
  "set: add": "set added",
  "set: copy": "set copied",
  "set: rename": "set renamed",
  "set: remove": "set taken out",
  "set: restore": "set put back",
};

/** What was done, in words. */
export const actWords = (act: string): string => ACTS[act] ?? act;

/** An address as it was asked for: "opening /people", "sending to /people/invite". */
const routeWords = (subject: string): string | null => {
  const [, method, path] = /^(GET|POST) (.+)$/.exec(subject) ?? [];
  if (path === undefined) return null;
  return `${method === "GET" ? "opening" : "sending to"} ${path}`;
};

const NOBODY: Readonly<Record<string, string>> = { nobody: "nobody signed in", console: "the console" };

/** So many visits are named, the last changed first; an older one stands there by its id. */
const MOST_VISITS = 2_000;

/** Entries of the log in words: people and vessels by their names. */
export const logLines = async (office: Office, entries: readonly (Audited & { readonly id: number })[]): Promise<readonly LogLine[]> => {
  const nameOf = await namesIn(office);
  const vessels = new Map((await office.store.listVisits({ limit: MOST_VISITS })).map(({ id, frame }) => [id, vesselOf(frame as object)]));
  const named = (subject: string): string => {
    const vessel = vessels.get(subject);
    if (vessel !== undefined) return vessel === "" ? "a visit of a vessel not named yet" : vessel;
    const person = nameOf(subject);
    return person === "somebody" ? (routeWords(subject) ?? subject) : person;
  };
  return entries.map(({ id, when, who, act, subject, detail }) => {
    const words = named(subject);
    const known = nameOf(who);
    return {
      id,
      when: instant(when),
      // Whoever answers by a private link has no account: he stands there by the name that the letter went to.
      who: NOBODY[who] ?? (known === "somebody" ? who : known),
      act: actWords(act),
      subject: words,
      ...(words === subject ? {} : { kept: subject }),
      detail,
    };
  });
};
