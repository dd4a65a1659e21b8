import { createHash, timingSafeEqual } from "node:crypto";
import type { IncomingMessage, ServerResponse } from "node:http";
import { answer } from "./answers.ts";
import type { Coming } from "./coming.ts";
import { healthText, partsNotReady, readyText, runningOffice } from "./health.ts";
import type { Metrics } from "./metrics.ts";

/** What the server's own addresses tell of. */
export interface Watched {
  readonly metrics: Metrics;
  readonly inFlight: () => number;
  readonly isStopping: () => boolean;
  /** What opens the figures to who is not on this machine; undefined where nothing does. */
  readonly key: string | undefined;
}

const digest = (text: string): Buffer => createHash("sha256").update(text).digest();

const LOOPBACK = /^(127\.|::1$)/;

const maySeeFigures = ({ address, passedOn }: Coming, { headers }: IncomingMessage, key: string | undefined): boolean =>
  (LOOPBACK.test(address) && !passedOn) ||
  (key !== undefined && timingSafeEqual(digest(headers.authorization ?? ""), digest(`Bearer ${key}`)));

const JSON_TYPE = "application/json";

type Own = (coming: Coming, request: IncomingMessage, response: ServerResponse, watched: Watched) => Promise<boolean>;

const health: Own = async (coming, _request, response) => {
  answer(coming, response, 200, JSON_TYPE, healthText());
  return true;
};

const ready: Own = async (coming, _request, response, { isStopping }) => {
  const parts = await partsNotReady(isStopping());
  answer(coming, response, parts.length === 0 ? 200 : 503, JSON_TYPE, readyText(parts));
  return true;
};

const figures: Own = async (coming, request, response, { metrics, inFlight, key }) => {
  if (!maySeeFigures(coming, request, key)) {
    answer(coming, response, 404, "text/plain", "There is no such page.\n");
    return true;
  }
  const office = await runningOffice()?.catch(() => undefined);
  answer(coming, response, 200, "text/plain; version=0.0.4", metrics.text(inFlight(), office?.figures()));
  return true;
};

/** Addresses that the server answers itself, so that they do when the pages cannot. */
export const OWN_ADDRESSES: ReadonlyMap<string, Own> = new Map([
  ["/health", health],
  ["/ready", ready],
  ["/metrics", figures],
]);

/** Answers one of the server's own addresses; whether it was one. Only reading is answered. */
export const answerOwn = async (coming: Coming, request: IncomingMessage, response: ServerResponse, watched: Watched): Promise<boolean> => {
  const own = OWN_ADDRESSES.get(coming.path);
  if (own === undefined || (coming.method !== "GET" && coming.method !== "HEAD")) return false;
  return own(coming, request, response, watched);
};
