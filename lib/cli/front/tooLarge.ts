import type { IncomingMessage, OutgoingHttpHeaders, ServerResponse } from "node:http";
import { pageBefore, refusalPage } from "../../access/refusal.ts";
import { tooLarge, tooLargeOnReply } from "../../access/rules.ts";
import type { Coming } from "./coming.ts";
import { SAFE_PAGE } from "./safeHeaders.ts";

/** So long what is turned away is let run in, unread, in milliseconds: cut off at once, a browser may never look at the answer. */
const RUN_IN = 20_000;

/** Answers whole at once, and ends the connection once the rest has run in or has had its time. */
const answerOver = (
  request: IncomingMessage,
  response: ServerResponse,
  status: number,
  headers: OutgoingHttpHeaders,
  page: string,
): void => {
  response.writeHead(status, { ...headers, "content-length": Buffer.byteLength(page), connection: "close" });
  response.flushHeaders();
  if (page !== "") response.write(page);
  const end = (): void => {
    clearTimeout(timer);
    response.end();
  };
  const timer = setTimeout(end, RUN_IN).unref();
  request.once("end", end).once("close", end).resume();
};

/**
 * Turns away what is too large by its own account before any of it is read: what stands before the pages would read it whole. The vessel is led to the
 * page of files, which tells it there.
 */
export const turnAwayLarge = ({ path }: Coming, request: IncomingMessage, response: ServerResponse): boolean => {
  const { headers } = request;
  const bytes = Number(headers["content-length"] ?? 0);
  const words = tooLarge(path, bytes);
  if (words === null) return false;
  if (path === "/reply/files") {
    answerOver(request, response, 303, { location: tooLargeOnReply(bytes), "referrer-policy": "no-referrer" }, "");
    return true;
  }
  // Pages of the reply tell nobody, not even us, where they were left.
  const back = path.startsWith("/reply/") ? "/reply/at/files" : pageBefore(headers.referer ?? null);
  answerOver(request, response, 413, { ...SAFE_PAGE, "content-type": "text/html; charset=utf-8" }, refusalPage(words, back));
  return true;
};
