import type { Kysely } from "kysely";
import { valueAt } from "../model/fault.ts";
import type { SentLetter } from "./exchanges.ts";
import type { Tables } from "./schema.ts";
import type { Json } from "./store.ts";

/** A letter as it is counted. */
export interface CountedLetter {
  readonly kind: SentLetter["kind"];
  readonly when: string;
  /** References of the requests that it asked. */
  readonly requests: readonly string[];
}

/** What became of one visit, as far as it is counted over many. */
export interface VisitHistory {
  readonly id: string;
  readonly owner: string;
  readonly vessel: string;
  /** Its first day. */
  readonly begins: string;
  /** The first first. */
  readonly letters: readonly CountedLetter[];
  /** References of the requests that count as confirmed. */
  readonly confirmed: readonly string[];
  /** The latest record of each test, without those that were taken back. */
  readonly results: readonly Json[];
}

export interface HistoryStore {
  /** The visits that begin within a time, both days included, the first first; of one owner, or all. A few questions to the database, however many visits. */
  readonly histories: (asked: { readonly from: string; readonly to: string; readonly owner?: string }) => Promise<readonly VisitHistory[]>;
}

/** The requests that a letter asked, as a row keeps them. A photograph is another way to answer questions and no request of its own. */
export const requestsIn = (asked: unknown): string => {
  const requests = valueAt(asked, "/asked/requests");
  if (!Array.isArray(requests)) return "";
  return requests
    .filter((one: unknown) => valueAt(one, "/kind") !== "photograph")
    .map((one: unknown) => String(valueAt(one, "/ref")))
    .join(" ");
};

const confirmedIn = (frame: unknown): readonly string[] => {
  const confirmed = valueAt(frame, "/confirmed");
  return Array.isArray(confirmed) ? confirmed.map((one: unknown) => String(valueAt(one, "/request"))) : [];
};

/** Rows by the visit that they are of. */
const byVisit = <Row extends { readonly visit: string }>(rows: readonly Row[]): ReadonlyMap<string, readonly Row[]> => {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const group = groups.get(row.visit);
    if (group === undefined) groups.set(row.visit, [row]);
    else group.push(row);
  }
  return groups;
};

/** Of entries in order, the latest of each test. */
const latest = (rows: readonly { readonly at: string; readonly value: string | null }[]): readonly Json[] =>
  [...new Map(rows.map(({ at, value }) => [at, value])).values()].flatMap((value) => (value === null ? [] : [JSON.parse(value) as Json]));

/** What became of visits, on an open database. */
export const historiesOn = (db: Kysely<Tables>): HistoryStore => ({
  histories: async ({ from, to, owner }) => {
    const wanted = db
      .selectFrom("visit")
      .where("begins_on", ">=", from)
      .where("begins_on", "<=", to)
      .$if(owner !== undefined, (query) => query.where("owner", "=", owner ?? ""));
    const [visits, letters, results] = await Promise.all([
      wanted.select(["id", "owner", "vessel", "begins_on", "frame"]).orderBy("begins_on").orderBy("id").execute(),
      db
        .selectFrom("sent")
        .select(["visit", "kind", "sent_at", "requests"])
        .where("visit", "in", wanted.select("id"))
        .orderBy("visit")
        .orderBy("number")
        .execute(),
      db
        .selectFrom("result")
        .select(["visit", "at", "value"])
        .where("visit", "in", wanted.select("id"))
        .orderBy("visit")
        .orderBy("version")
        .execute(),
    ]);
    const [lettersOf, resultsOf] = [byVisit(letters), byVisit(results)];
    return visits.map(({ begins_on, frame, ...visit }) => ({
      ...visit,
      begins: begins_on ?? "",
      letters: (lettersOf.get(visit.id) ?? []).map(({ kind, sent_at, requests }) => ({
        kind: kind as SentLetter["kind"],
        when: sent_at,
        requests: requests.split(" ").filter((ref) => ref !== ""),
      })),
      confirmed: confirmedIn(JSON.parse(frame)),
      results: latest(resultsOf.get(visit.id) ?? []),
    }));
  },
});
