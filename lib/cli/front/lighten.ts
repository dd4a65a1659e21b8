import type { ServerResponse } from "node:http";
import { TRY_AFTER, unavailablePage } from "../../access/unavailablePage.ts";
import type { Away } from "../../store/dialects/away.ts";
import { awayLately } from "../../store/dialects/awayNow.ts";
import { brokenPage, errorPage, lightPage } from "../lightPage.ts";
import { runningOffice } from "./health.ts";

const isFailed = (response: ServerResponse, html: string): boolean =>
  !response.headersSent && (response.statusCode === 500 || brokenPage(html, "") !== null);

/** Why the database is away; null where it is not. It is asked itself, since the answer may come before anybody told of its error. */
const awayNow = async (): Promise<Away | null> => {
  const noted = awayLately();
  if (noted !== null) return noted;
  const parts =
    (await runningOffice()
      ?.then((office) => office.notReady())
      .catch(() => ["database"])) ?? [];
  return parts.includes("database") ? "not reached" : awayLately();
};

/** Makes of an answer that failed since the database is away one that says so; its page. */
const awayPage = (response: ServerResponse, why: Away): string => {
  response.statusCode = 503;
  response.setHeader("cache-control", "no-store");
  response.setHeader("retry-after", String(TRY_AFTER));
  return unavailablePage(why, response.req.url ?? "/", null);
};

/** Holds a page back until it is whole, and sends it without the scripts that it does not need. `number` is the request's. */
export const lighten = (response: ServerResponse, number: string): void => {
  const held: Buffer[] = [];
  const [write, end] = [response.write.bind(response), response.end.bind(response)];
  // What is sent while it comes about (`app/_server/inTurn.ts`) is not held back.
  const isPage = (): boolean =>
    String(response.getHeader("content-type") ?? "").startsWith("text/html") && !response.hasHeader("x-forehail-streamed");
  const hold = (chunk: unknown, encoding: unknown): void => {
    if (typeof chunk === "string") held.push(Buffer.from(chunk, typeof encoding === "string" ? (encoding as BufferEncoding) : "utf8"));
    else if (chunk instanceof Uint8Array) held.push(Buffer.from(chunk));
  };
  const calledWith = (given: readonly unknown[]): (() => void) | undefined =>
    given.find((one) => typeof one === "function") as (() => void) | undefined;
  const isMute = (given: unknown): boolean => response.statusCode >= 500 && !response.headersSent && (given ?? "") === "";
  const sendPage = (page: string, done: (() => void) | undefined): ServerResponse => {
    if (!response.headersSent) response.removeHeader("content-length");
    return end(page, done);
  };
  /** Tells what failed in our words, once it is known whether the database is away. */
  const sendFailed = (page: string, done: (() => void) | undefined): ServerResponse => {
    void awayNow()
      .catch(() => null)
      .then((why) => {
        response.setHeader("content-type", "text/html; charset=utf-8");
        sendPage(why === null ? page : awayPage(response, why), done);
      });
    return response;
  };
  // The framework sends the head of a page ahead; held back with the rest, it can still say that the page failed, and why.
  const flushHeaders = response.flushHeaders.bind(response);
  response.flushHeaders = () => {
    if (!isPage()) flushHeaders();
  };
  response.write = ((chunk: unknown, ...more: unknown[]): boolean => {
    if (!isPage()) return write(chunk as string, ...(more as []));
    hold(chunk, more[0]);
    calledWith(more)?.();
    return true;
  }) as typeof response.write;
  response.end = ((...given: unknown[]): ServerResponse => {
    const done = calledWith(given);
    // An answer without words is how the framework leaves it where one of our handlers failed.
    if (isMute(given[0]) && held.length === 0) return sendFailed(errorPage(number), done);
    if (!isPage()) return end(...(given as []));
    hold(given[0], given[1]);
    const html = Buffer.concat(held).toString("utf8");
    const page = brokenPage(html, number) ?? lightPage(html);
    return isFailed(response, html) ? sendFailed(page, done) : sendPage(page, done);
  }) as typeof response.end;
};
