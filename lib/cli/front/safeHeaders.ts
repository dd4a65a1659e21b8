import type { ServerResponse } from "node:http";

/** What every answer bears that says nothing of its own: nothing in it runs, loads or is shown within something else, and it is what it says it is. */
export const SAFE: Readonly<Record<string, string>> = {
  "content-security-policy": "default-src 'none'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'",
  "x-content-type-options": "nosniff",
  "referrer-policy": "same-origin",
};

/** Puts these headers on an answer as it is sent. Not sooner: what a page says of itself would stand beside them, and a browser keeps to both. */
export const safeHeaders = (response: ServerResponse): void => {
  const writeHead = response.writeHead.bind(response);
  response.writeHead = ((...given: Parameters<typeof writeHead>) => {
    if (!response.headersSent)
      for (const [name, value] of Object.entries(SAFE)) if (!response.hasHeader(name)) response.setHeader(name, value);
    return writeHead(...given);
  }) as typeof response.writeHead;
};
