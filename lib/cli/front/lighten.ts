import type { ServerResponse } from "node:http";
import { brokenPage, errorPage, lightPage } from "../lightPage.ts";

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
  /** An answer without words, as the framework leaves it where one of our handlers failed. */
  const isMute = (given: unknown): boolean => response.statusCode >= 500 && !response.headersSent && (given ?? "") === "";
  response.write = ((chunk: unknown, ...more: unknown[]): boolean => {
    if (!isPage()) return write(chunk as string, ...(more as []));
    hold(chunk, more[0]);
    calledWith(more)?.();
    return true;
  }) as typeof response.write;
  response.end = ((...given: unknown[]): ServerResponse => {
    if (isMute(given[0]) && held.length === 0) {
      response.setHeader("content-type", "text/html; charset=utf-8");
      response.removeHeader("content-length");
      return end(errorPage(number), calledWith(given));
    }
    if (!isPage()) return end(...(given as []));
    hold(given[0], given[1]);
    const html = Buffer.concat(held).toString("utf8");
    if (!response.headersSent) response.removeHeader("content-length");
    return end(brokenPage(html, number) ?? lightPage(html), calledWith(given));
  }) as typeof response.end;
};
