import { createServer, type IncomingMessage, type OutgoingHttpHeaders, type ServerResponse } from "node:http";
import compression from "compression";
import next from "next";
import { pageBefore, refusalPage } from "../access/refusal.ts";
import { tooLarge, tooLargeOnReply } from "../access/rules.ts";
import { TRY_AFTER, unavailablePage } from "../access/unavailablePage.ts";
import { awayLately } from "../store/dialects/awayNow.ts";
import { brokenPage, lightPage } from "./lightPage.ts";

/** How long answers that are on their way may take once the server is told to stop, in milliseconds. */
const LAST_ANSWERS = 10_000;

/** In place of an answer that failed since the database is away: a page that says so; null for every other answer. */
const awayPage = (response: ServerResponse, html: string, url: string): string | null => {
  const why = response.headersSent || (response.statusCode !== 500 && brokenPage(html) === null) ? null : awayLately();
  if (why === null) return null;
  response.statusCode = 503;
  response.setHeader("content-type", "text/html; charset=utf-8");
  response.setHeader("cache-control", "no-store");
  response.setHeader("retry-after", String(TRY_AFTER));
  response.removeHeader("content-length");
  return unavailablePage(why, url, null);
};

/** Holds a page back until it is whole, and sends it without the scripts that it does not need. */
const lighten = (response: ServerResponse, url: string): void => {
  const held: Buffer[] = [];
  const [write, end] = [response.write.bind(response), response.end.bind(response)];
  const isPage = (): boolean => String(response.getHeader("content-type") ?? "").startsWith("text/html");
  const hold = (chunk: unknown, encoding: unknown): void => {
    if (typeof chunk === "string") held.push(Buffer.from(chunk, typeof encoding === "string" ? (encoding as BufferEncoding) : "utf8"));
    else if (chunk instanceof Uint8Array) held.push(Buffer.from(chunk));
  };
  const calledWith = (given: readonly unknown[]): (() => void) | undefined =>
    given.find((one) => typeof one === "function") as (() => void) | undefined;
  response.write = ((chunk: unknown, ...more: unknown[]): boolean => {
    if (!isPage()) return write(chunk as string, ...(more as []));
    hold(chunk, more[0]);
    calledWith(more)?.();
    return true;
  }) as typeof response.write;
  response.end = ((...given: unknown[]): ServerResponse => {
    if (!isPage()) {
      const away = awayPage(response, "", url);
      return away === null ? end(...(given as [])) : end(away, calledWith(given));
    }
    hold(given[0], given[1]);
    const html = Buffer.concat(held).toString("utf8");
    const away = awayPage(response, html, url);
    if (away !== null) return end(away, calledWith(given));
    if (!response.headersSent) response.removeHeader("content-length");
    return end(brokenPage(html) ?? lightPage(html), calledWith(given));
  }) as typeof response.end;
};

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
const isTurnedAway = (request: IncomingMessage, response: ServerResponse): boolean => {
  const { url = "/", headers } = request;
  const path = url.replace(/\?.*$/, "");
  const bytes = Number(headers["content-length"] ?? 0);
  const words = tooLarge(path, bytes);
  if (words === null) return false;
  if (path === "/reply/files") {
    answerOver(request, response, 303, { location: tooLargeOnReply(bytes), "referrer-policy": "no-referrer" }, "");
    return true;
  }
  const safe = { "content-security-policy": "default-src 'none'", "x-content-type-options": "nosniff" };
  // Pages of the reply tell nobody, not even us, where they were left.
  const back = path.startsWith("/reply/") ? "/reply/at/files" : pageBefore(headers.referer ?? null);
  answerOver(request, response, 413, { ...safe, "content-type": "text/html; charset=utf-8" }, refusalPage(words, back));
  return true;
};

const port = Number(process.env["PORT"] ?? 3000);
const hostname = process.env["HOST"] ?? "localhost";
const app = next({ dev: false, dir: process.cwd(), hostname, port });
await app.prepare();
const handle = app.getRequestHandler();
const compress = compression();

const server = createServer((request, response) => {
  if (isTurnedAway(request, response)) return;
  compress(request as Parameters<typeof compress>[0], response as Parameters<typeof compress>[1], () => {
    lighten(response, request.url ?? "/");
    void handle(request, response);
  });
});

const stop = (): void => {
  server.close(() => process.exit(0));
  server.closeIdleConnections();
  setTimeout(() => process.exit(0), LAST_ANSWERS).unref();
};
for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, stop);

server.on("error", (error) => {
  process.stderr.write(`The pages cannot be served: ${error.message}\n`);
  process.exit(1);
});
server.listen(port, hostname, () => process.stdout.write(`Forehail is open at http://${hostname}:${port}\n`));
