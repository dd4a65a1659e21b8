import { createHash } from "node:crypto";
import type { IncomingMessage } from "node:http";
import { doorsPassed } from "../../access/pace.ts";
import { refusalPage } from "../../access/refusal.ts";
import type { Store } from "../../store/store.ts";
import { answer } from "./answers.ts";
import { runningOffice } from "./health.ts";
import type { Station } from "./server.ts";

/** Files of the program itself, which cost nothing. */
const FILES = /^\/_next\/|^\/(?:icon\.svg|favicon\.ico)$/;

/** What tells a browser from another: the cookies of ours that it shows. Whoever makes some up is still one network address. */
const browserOf = ({ headers }: IncomingMessage): string => {
  const ours = (headers.cookie ?? "").split("; ").filter((cookie) => /^(?:__(?:Host|Secure)-)?forehail/.test(cookie));
  return ours.length === 0 ? "" : createHash("sha256").update(ours.sort().join()).digest("base64url");
};

/** After how many milliseconds a request may be tried again; 0 where it may pass. */
const waitOf = async (store: Store, now: number, ...doors: ReturnType<typeof doorsPassed>): Promise<number> => {
  for (const { door, pace } of doors) {
    const { wait } = await store.passDoor(door, now, pace);
    if (wait > 0) return wait;
  }
  return 0;
};

/**
 * Turns away who asks faster than anybody reads, before the pages do any work for him. Every copy of the program counts in the one database; where that does not
 * answer, the pages themselves say so.
 */
export const turnAwayHasty: Station = async (coming, request, response) => {
  if (FILES.test(coming.path)) return false;
  const office = await runningOffice()?.catch(() => undefined);
  if (office === undefined) return false;
  const doors = doorsPassed(coming.rule, coming.address, browserOf(request));
  const wait = await waitOf(office.store, office.clock(), ...doors).catch(() => 0);
  if (wait === 0) return false;
  const seconds = Math.ceil(wait / 1000);
  const words = `these are more requests than anybody makes by hand; try again in ${seconds} s`;
  response.setHeader("retry-after", seconds);
  request.resume();
  if (request.headers.accept === "application/json") answer(coming, response, 429, "application/json", JSON.stringify({ problem: words }));
  else answer(coming, response, 429, "text/html", refusalPage(words, coming.path));
  return true;
};
