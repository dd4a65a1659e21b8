import type { OutgoingHttpHeaders, ServerResponse } from "node:http";
import type { Coming } from "./coming.ts";
import { SAFE_PAGE } from "./safeHeaders.ts";

const OWN: OutgoingHttpHeaders = { ...SAFE_PAGE, "cache-control": "no-store" };

/** Answers whole and at once, before the pages see anything of it. */
export const answer = ({ method }: Coming, response: ServerResponse, status: number, type: string, text: string): void => {
  response.writeHead(status, { ...OWN, "content-type": `${type}; charset=utf-8`, "content-length": Buffer.byteLength(text) });
  response.end(method === "HEAD" ? undefined : text);
};
