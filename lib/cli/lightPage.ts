import { escaped, ownPage } from "../access/ownPage.ts";

const SCRIPT = /<script\b([^>]*)>[\s\S]*?<\/script>/g;
const SCRIPT_AHEAD = /<link rel="preload" as="script"[^>]*>/g;
/** By this a page says that parts of it come alive in the browser, and where the script is that waits for the first sign of life. */
const LIVE = /\bdata-live="([^"]*)"/;

/** A script of its own that a form of the page names. */
const OWN = /\bdata-script="([^"]*)"/g;

const attribute = (name: string, within: string): string | null => new RegExp(`\\b${name}="([^"]*)"`).exec(within)?.[1] ?? null;

/**
 * A page as the pages' framework made it, without the scripts that it does not need: a page on which nothing comes alive keeps only those
 * that a form of it names; a page of questions keeps its data, and its scripts are named to the one that waits for the first sign of life. Text in pages cannot be mistaken for a
 * script, since it is sent escaped. Anything that the framework did not make is returned as it is.
 */
export const lightPage = (html: string): string => {
  if (!html.includes("self.__next_f")) return html;
  const live = LIVE.exec(html)?.[1];
  const bare = html.replace(SCRIPT_AHEAD, "");
  const tags = [...bare.matchAll(SCRIPT)].map(([, attributes = ""]) => attributes);
  const nonce = tags.map((attributes) => attribute("nonce", attributes)).find((one) => one !== null) ?? "";
  const own = [...new Set([...html.matchAll(OWN)].map(([, src = ""]) => src))].map(
    (src) => `<script src="${src}" nonce="${nonce}" defer></script>`,
  );
  if (live === undefined) return bare.replace(SCRIPT, "").replace("</head>", `${own.join("")}</head>`);
  const scripts = tags.flatMap((attributes) => (/\bnoModule\b/.test(attributes) ? [] : (attribute("src", attributes) ?? [])));
  const waiting = `<script src="${live}" data-scripts="${scripts.join(" ")}" nonce="${nonce}" defer></script>${own.join("")}`;
  return bare
    .replace(SCRIPT, (tag, attributes: string) => (attribute("src", attributes) === null ? tag : ""))
    .replace("</head>", `${waiting}</head>`);
};

/** The page that says that something went wrong, with the number by which the log tells of it. */
export const errorPage = (number: string): string =>
  ownPage(
    "Something went wrong in the program",
    `<p>What was saved is kept, and what you typed on the last page is kept as far as it was sent. Go back and try again; if it stays, tell whoever
runs this office.</p><p>If you tell somebody of this, give the number <code>${escaped(number)}</code>.</p><p><a href="/visits">All visits</a></p>`,
  );

/** The page in place of one that the framework gave up on, which it would leave to a script to tell; null where it did not. */
export const brokenPage = (html: string, number: string): string | null =>
  html.includes('id="__next_error__"') ? errorPage(number) : null;
