import type { OutgoingHttpHeaders, ServerResponse } from "node:http";
import type { Coming } from "./coming.ts";
import { SAFE } from "./safeHeaders.ts";

const OWN: OutgoingHttpHeaders = { ...SAFE, "cache-control": "no-store" };

/** Answers whole and at once, before the pages see anything of it. */
export const answer = ({ method }: Coming, response: ServerResponse, status: number, type: string, text: string): void => {
  response.writeHead(status, { ...OWN, "content-type": `${type}; charset=utf-8`, "content-length": Buffer.byteLength(text) });
  response.end(method === "HEAD" ? undefined : text);
};

/** A page of few words, of which none come from elsewhere. */
export const plainPage = (title: string, words: string): string =>
  `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${title} – Forehail</title></head><body><main><h1>${title}</h1><p>${words}</p></main></body></html>`;
