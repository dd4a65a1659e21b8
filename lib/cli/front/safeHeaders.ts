import type { ServerResponse } from "node:http";
import { OWN_STYLE } from "../../access/ownPage.ts";

const NOTHING = "default-src 'none'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'";

/**
 * What every answer bears that says nothing of its own: nothing in it runs, loads or is shown within something else, and it is what it says it is. Kept short: it
 * goes with every file of a page.
 */
export const SAFE: Readonly<Record<string, string>> = {
  "content-security-policy": NOTHING,
  "x-content-type-options": "nosniff",
  "referrer-policy": "same-origin",
};

/** The same for pages of the server's own: their sheet, the program's icon and a form that leads back here. */
export const SAFE_PAGE: Readonly<Record<string, string>> = {
  ...SAFE,
  "content-security-policy": `${NOTHING}; style-src ${OWN_STYLE}; img-src 'self'; form-action 'self'`,
};

/** Of no use to a file that never changes under its address; a page takes some twenty of them, and each byte of theirs counts. */
const IDLE = ["last-modified", "x-request-id"] as const;

const neverChanges = (response: ServerResponse): boolean => String(response.getHeader("cache-control") ?? "").includes("immutable");

/** Puts these headers on an answer as it is sent. Not sooner: what a page says of itself would stand beside them, and a browser keeps to both. */
export const safeHeaders = (response: ServerResponse): void => {
  const writeHead = response.writeHead.bind(response);
  response.writeHead = ((...given: Parameters<typeof writeHead>) => {
    if (!response.headersSent) {
      for (const [name, value] of Object.entries(SAFE)) if (!response.hasHeader(name)) response.setHeader(name, value);
      if (neverChanges(response)) for (const name of IDLE) response.removeHeader(name);
    }
    return writeHead(...given);
  }) as typeof response.writeHead;
};
