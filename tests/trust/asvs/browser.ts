import type { Item, Shown } from "./types.ts";

const HEADERS = "tests/browser/headers.test.ts";
const DOORS = "tests/browser/doors.test.ts";
const ALL: readonly Shown[] = [[HEADERS, "every answer bears the headers of safety, whatever it is"]];
const COOKIES: readonly Shown[] = [
  [HEADERS, "cookies are of this host alone, encrypted, out of reach of scripts, and not sent along from other sites"],
];
const DOWNLOAD: Shown = [DOORS, "a file that came with a reply is only ever a download under a name of ours, and nothing in it may run"];
const FILES = "tests/usecases/files.test.ts";
const KIND = "tests/reply/fileKind.test.ts";

/** Chapters 3 to 5: what a browser is told, what the web server answers, files. */
export const BROWSER: readonly Item[] = [
  {
    id: "3.2.1",
    level: 1,
    what: "nothing is shown as what it is not",
    how: "`nosniff`; files from outside leave as a download in a sandbox",
    tests: [DOWNLOAD],
  },
  {
    id: "3.2.2",
    level: 1,
    what: "text is shown as text",
    how: "React; scripts write no markup",
    tests: [["tests/trust/sources.test.ts", "%s stands nowhere but where it is known"]],
  },
  { id: "3.3.1", level: 1, what: "cookies `Secure` with a prefix", how: "over https `__Host-` and `Secure`", tests: COOKIES },
  {
    id: "3.3.2",
    level: 2,
    what: "`SameSite` by purpose",
    how: "sign-in `Lax`, so that a link in a mail opens its page; reply `Strict`",
    tests: COOKIES,
  },
  { id: "3.3.3", level: 2, what: "`__Host-`", how: "both cookies", tests: COOKIES },
  { id: "3.3.4", level: 2, what: "no script reads them", how: "`HttpOnly`; the token stands in no page", tests: COOKIES },
  { id: "3.4.1", level: 1, what: "HSTS, a year, subdomains", how: "on every answer of an office whose address is https", tests: ALL },
  { id: "3.4.2", level: 1, what: "no other site reads answers", how: "no `Access-Control-Allow-Origin`", tests: ALL },
  {
    id: "3.4.3",
    level: 2,
    what: "content security policy on every answer",
    how: "`default-src`, `object-src`, `base-uri` `'none'`; scripts of pages by a nonce of each answer (level 3)",
    tests: [...ALL, [DOORS, "every page has the headers of safety, with a nonce of its own each time"]],
  },
  { id: "3.4.4", level: 2, what: "`nosniff`", how: "on every answer", tests: ALL },
  {
    id: "3.4.5",
    level: 2,
    what: "addresses are told to no other site",
    how: "`same-origin`, on the reply's pages `no-referrer`",
    tests: [
      ...ALL,
      [
        "tests/browser/reply.test.ts",
        "opens nothing by being looked at, and the wrong, the withdrawn and the expired are answered alike and slowly",
      ],
    ],
  },
  {
    id: "3.4.6",
    level: 2,
    what: "shown within no other site",
    how: "`frame-ancestors` `'none'`, or `'self'` for pages that show a letter",
    tests: ALL,
  },
  {
    id: "3.5.1",
    level: 1,
    what: "no other site writes",
    how: "origin looked at and a sealed token in each form; the reply's pages by their seal and `Sec-Fetch-Site`",
    tests: [[DOORS, "%s is refused, changes nothing and is logged"]],
  },
  {
    id: "3.5.3",
    level: 1,
    what: "reading changes nothing",
    how: "what writes is a POST",
    tests: [[HEADERS, "reading changes nothing, whoever is led to an address by another site"]],
  },
  {
    id: "3.5.4",
    level: 2,
    what: "a host name of its own",
    how: "the office answers to the name of `FOREHAIL_URL` only",
    tests: [["tests/browser/operation.test.ts", "asked by another name than its own, it says which is"]],
  },
  {
    id: "3.7.2",
    level: 2,
    what: "nobody is led to another site",
    how: "`ownPath`",
    tests: [["tests/app/ownPath.test.ts", "nobody is led to another site: what is no path of ours leads to the visits"]],
  },
  { id: "4.1.1", level: 1, what: "type and charset are told", how: "every text with `charset=utf-8`", tests: ALL },
  {
    id: "4.1.3",
    level: 2,
    what: "nobody makes up what the proxy says",
    how: "headers of proxies are believed of `FOREHAIL_PROXIES` only; the recipe throws the visitor's away",
    tests: [["tests/service/proxy.test.ts", "where a try comes from is not what it says of itself"]],
  },
  {
    id: "4.1.4",
    level: 3,
    what: "only methods that are wanted",
    how: "GET, HEAD, POST; all else 405",
    tests: [[HEADERS, "methods that no address has do nothing and repeat nothing"]],
  },
  {
    id: "5.1.1",
    level: 2,
    what: "kinds and sizes of files are told",
    how: "README, and the page of files itself",
    tests: [[KIND, "is said on the page with the limits that hold"]],
  },
  {
    id: "5.2.1",
    level: 1,
    what: "no file too large",
    how: "turned away by its own account before any of it is read, and while it is read",
    tests: [["tests/browser/takingIn.test.ts", "a file that is too large is turned away with clear words, before any of it is read"]],
  },
  {
    id: "5.2.2",
    level: 1,
    what: "a file is what its name says",
    how: "its content decides; name and type are compared with it",
    tests: [[FILES, "is refused with what is wrong, and not kept: of another kind, said to be nothing that is on the list"]],
  },
  {
    id: "5.2.3",
    level: 2,
    what: "nothing unpacks without end",
    how: "archives are refused; the PDF reader's worker has an allowance",
    tests: [
      ["tests/bad/mended.test.ts", "a PDF file that unpacks to more than its reader may take is given up before it has taken it"],
      [KIND, "with the mark of another kind before it, it is refused"],
    ],
  },
  { id: "5.3.1", level: 1, what: "no file is run", how: "files lie in the database, no folder is served", tests: [DOWNLOAD] },
  {
    id: "5.3.2",
    level: 1,
    what: "own names for files",
    how: "names are made by the program, what somebody called a file is shown only",
    tests: [
      [FILES, "the name of a download is ours, whatever the file is"],
      ["tests/outside/outbox.test.ts", "has a name of its own that leads nowhere else, whatever the id"],
    ],
  },
  {
    id: "5.4.1",
    level: 2,
    what: "downloads named by us",
    how: "`Content-Disposition: attachment` under a name of ours",
    tests: [DOWNLOAD],
  },
  {
    id: "5.4.2",
    level: 2,
    what: "names cannot break a header",
    how: "a shown name is one short line without hidden signs",
    tests: [[FILES, "is one line of at most 120 characters with nothing hidden in it, whatever is given"]],
  },
  {
    id: "5.4.3",
    level: 2,
    what: "files are scanned for known harm",
    how: "not met: there is no virus scanner",
    accepted:
      "a scanner would be another service with a list of its own; only pictures and PDF files without scripts and attachments are taken, and they only leave as downloads, which the office's machines scan",
  },
];
