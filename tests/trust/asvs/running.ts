import type { Item, Shown } from "./types.ts";

const OPERATION = "tests/browser/operation.test.ts";
const HEADERS = "tests/browser/headers.test.ts";
const FIELDS = "tests/browser/fields.test.ts";
const AUDIT = "tests/trust/audit.test.ts";
const SOURCES: Shown = ["tests/trust/sources.test.ts", "%s stands nowhere but where it is known"];
const PROXY = "tests/service/proxy.test.ts";
const SMTP = "tests/outside/smtp.test.ts";
const SETTINGS = "tests/usecases/settings.test.ts";
const LOG: Shown = [OPERATION, "tells of a request by number, pattern, visit and person, and nothing that somebody wrote"];
const REFUSED: Shown = ["tests/browser/doors.test.ts", "%s is refused, changes nothing and is logged"];
const ERROR: Shown = [OPERATION, "an error is told with its number, which the log knows; what does not work is named"];
const OWN_FILES: Shown = [HEADERS, "nothing of the program's own files is served: sources, settings, history, source maps"];
const NO_STORE: Shown = [HEADERS, "nothing that is only for who is signed in, or has a link, may be kept by a browser or on the way"];
const INVENTORY: Shown = [
  "tests/store/privacy.test.ts",
  "the inventory names every table and every column that the database has, and no other",
];
const LINK: Shown = [
  "tests/browser/reply.test.ts",
  "opens nothing by being looked at, and the wrong, the withdrawn and the expired are answered alike and slowly",
];
const LOCK: Shown = [
  AUDIT,
  "tells a package without an integrity hash, a direct version that is a range, a script that is not named, another registry",
];

/** Chapters 11 to 16: ciphers, encryption on the way, settings, data, code, logs and errors. */
export const RUNNING: readonly Item[] = [
  {
    id: "11.2.1",
    level: 2,
    what: "proven ciphers",
    how: "Node's own and better-auth's; nothing of our own but FNV, which guards nothing",
    tests: [SOURCES],
  },
  {
    id: "11.3.2",
    level: 1,
    what: "approved modes",
    how: "AES-256-GCM for what is told once",
    tests: [
      [
        "tests/store/running.test.ts",
        "of what is told once the database holds neither the words nor what it is asked for by; it runs out after ten minutes",
      ],
    ],
  },
  { id: "11.4.1", level: 1, what: "no broken digests", how: "SHA-256", tests: [SOURCES] },
  {
    id: "11.4.2",
    level: 2,
    what: "passwords by a slow function",
    how: "not met to the letter: better-auth's scrypt (N 2^14, r 16, p 1: 32 MiB) is one pass where OWASP's advice for as much memory is three",
    tests: [["tests/access/access.test.ts", "no password and no code stands in the database"]],
    accepted: "the library's own setting; twelve characters and no common ones make up for it",
  },
  {
    id: "11.5.1",
    level: 2,
    what: "random is random",
    how: "`randomBytes`, `randomUUID` only for ids that open nothing",
    tests: [["tests/access/replyLink.test.ts", "a code has more than 128 random bits and two are never alike"], SOURCES],
  },
  {
    id: "12.1.1",
    level: 1,
    what: "TLS 1.2 and 1.3",
    how: "recipe for nginx",
    tests: [[PROXY, "HTTP/2 over TLS 1.2 and later, nothing older"]],
  },
  {
    id: "12.1.2",
    level: 2,
    what: "good cipher suites",
    how: "forward secret AEAD only; `npm run scan` has sslscan list them",
    tests: [[PROXY, "HTTP/2 over TLS 1.2 and later, nothing older"]],
  },
  {
    id: "12.2.1",
    level: 1,
    what: "nothing unencrypted from outside",
    how: "recipe leads port 80 to https; HSTS; a warning at the start where others reach an office by http",
    tests: [
      [OPERATION, "over https browsers are told to come by nothing else, and cookies are secure"],
      [SETTINGS, "an office that others reach unencrypted"],
    ],
  },
  {
    id: "12.2.2",
    level: 1,
    what: "certificates that everybody trusts",
    how: "put in by who runs the office",
    accepted: "README says so; nothing in the program can",
  },
  {
    id: "12.3.1",
    level: 2,
    what: "encrypted between services",
    how: "a password goes to a mail server encrypted or not at all; the database by `sslmode` of its address",
    tests: [[SMTP, "is not done in the clear away from this machine"]],
  },
  {
    id: "12.3.2",
    level: 2,
    what: "certificates are looked at",
    how: "a mail server's is",
    tests: [[SMTP, "shows a certificate that nobody known has signed"]],
  },
  {
    id: "13.1.1",
    level: 2,
    what: "written down whom it talks to",
    how: "database and mail server of the settings, nobody else",
    tests: [SOURCES],
  },
  {
    id: "13.2.3",
    level: 2,
    what: "no default passwords",
    how: "without a key nothing opens; the first account by a code of the console",
    tests: [[SETTINGS, "without a key nothing opens; what is empty is not given"]],
  },
  {
    id: "13.2.4",
    level: 2,
    what: "only to whom it may",
    how: "as 13.1.1; the recipe for systemd allows no other kinds of sockets",
    tests: [SOURCES],
  },
  {
    id: "13.3.1",
    level: 2,
    what: "secrets are kept in a vault",
    how: "not met in part: they come from the environment alone, out of a file for root only, and are never repeated",
    tests: [[SETTINGS, "a password in an address that is none of ours is not repeated"]],
    accepted: "whoever has a vault fills the environment from it",
  },
  { id: "13.4.1", level: 1, what: "no history of the sources is served", how: "no folder is served", tests: [OWN_FILES] },
  { id: "13.4.2", level: 2, what: "no debugging", how: "production build; errors as a number", tests: [ERROR] },
  { id: "13.4.3", level: 2, what: "no lists of folders", how: "no folder is served", tests: [OWN_FILES] },
  { id: "13.4.4", level: 2, what: "no TRACE", how: "405", tests: [[HEADERS, "methods that no address has do nothing and repeat nothing"]] },
  {
    id: "13.4.5",
    level: 2,
    what: "figures are not for everybody",
    how: "this machine, or a key; the recipe shuts them",
    tests: [
      [OPERATION, "are seen from this machine, and elsewhere by whoever has the key"],
      [PROXY, "figures and the state of a copy are not for outside"],
    ],
  },
  { id: "14.1.1", level: 2, what: "known what is sensitive", how: "inventory column by column", tests: [INVENTORY] },
  {
    id: "14.2.1",
    level: 1,
    what: "no secrets in addresses",
    how: "not met in part: a private link in a mail holds its code",
    tests: [LINK],
    accepted:
      "a link can do nothing else; opening it reads nothing, a POST exchanges it for a cookie under an address without a code; each recipient has his own, which ends by its day, is withdrawn alone, slowed against guessing, and stands in no log",
  },
  { id: "14.2.2", level: 2, what: "kept by nobody on the way", how: "`no-store`", tests: [NO_STORE] },
  {
    id: "14.2.3",
    level: 2,
    what: "told to nobody else",
    how: "no page asks anything of another host",
    tests: [
      [
        "tests/browser/reply.test.ts",
        "every page of the reply is in order for axe and the Nu checker, fits 320 px, and asks nothing of anybody else",
      ],
    ],
  },
  {
    id: "14.2.7",
    level: 3,
    what: "does not stay for ever",
    how: "short-lived rows go by themselves, visits by a supervisor",
    tests: [["tests/store/privacy.test.ts", "what is short-lived goes by itself, and nothing else; twice at once does no harm"]],
  },
  {
    id: "14.3.1",
    level: 1,
    what: "nothing is left in the browser",
    how: "pages are not kept; see 14.3.3 for results",
    tests: [[HEADERS, "after signing out the browser's way back shows nothing of the office"]],
  },
  { id: "14.3.2", level: 2, what: "`no-store`", how: "on all that is for somebody", tests: [NO_STORE] },
  {
    id: "14.3.3",
    level: 2,
    what: "nothing sensitive in the browser's store",
    how: "not met in part: results entered aboard stay there until the office has them",
    accepted: "readings of tests, by person; without them a morning's work in an engine room without network would be lost",
  },
  {
    id: "15.1.1",
    level: 1,
    what: "written down how soon weak packages are mended",
    how: "what can be reached from outside within a week, all else within thirty days; `npm run audit` tells",
    accepted: "a promise of who maintains it",
  },
  { id: "15.1.2", level: 2, what: "inventory of packages", how: "`package-lock.json`, each with its hash", tests: [LOCK] },
  {
    id: "15.1.3",
    level: 2,
    what: "written down what takes long",
    how: "`heavy` in `lib/access/rules.ts`; papers in turn, workers with a hard time-out",
    tests: [["tests/app/inTurn.test.ts", "what takes long tells its place as it changes, and goes on by itself without a script"]],
  },
  {
    id: "15.2.1",
    level: 1,
    what: "no package beyond that time",
    how: "`npm run audit`, where the registry tells of advisories",
    tests: [[AUDIT, "an answer of the registry is told as what it is: advisories, none, or that it tells nothing"]],
  },
  {
    id: "15.2.2",
    level: 2,
    what: "what takes long shuts nobody out",
    how: "one paper at a time in a worker, a pace of its own, a limit of bytes",
    tests: [
      ["tests/store/running.test.ts", "all at once: exactly the burst gets through"],
      ["tests/app/inTurn.test.ts", "whoever leaves the page does not stop what he asked for"],
    ],
  },
  {
    id: "15.2.4",
    level: 3,
    what: "packages from where they should be",
    how: "exact versions, hashes, no other registry in the lock",
    tests: [LOCK],
  },
  {
    id: "15.3.1",
    level: 1,
    what: "only what is needed is told",
    how: "pages are given view models",
    tests: [[FIELDS, "reads his own letter only, and nothing of the office beside it"]],
  },
  {
    id: "15.3.3",
    level: 2,
    what: "further fields change nothing",
    how: "forms are read by the names of their own fields",
    tests: [
      [FIELDS, "makes himself no supervisor and nobody else the owner, whatever his forms say"],
      [FIELDS, "a link for an inspector's account makes an inspector, whatever the form says"],
      [FIELDS, "a supervisor's form changes whom its address names, and nothing but what it is for"],
      [FIELDS, "fills in the fields that his letter asks and no others, whatever his form says"],
    ],
  },
  {
    id: "15.3.4",
    level: 2,
    what: "where somebody comes from is true",
    how: "`FOREHAIL_PROXIES`",
    tests: [[OPERATION, "tries from one address shut the door to it, and the address is the proxy's word, not the visitor's"]],
  },
  {
    id: "15.3.6",
    level: 2,
    what: "no names of every object",
    how: "maps, and lists of own names",
    tests: [
      ["tests/bad/prototype.test.ts", "names of a form that are names of every object are no fields, and change nothing of other objects"],
      ["tests/bad/prototype.test.ts", "whatever comes to any reader of outside data, what objects have in common stays as it is"],
    ],
  },
  {
    id: "16.1.1",
    level: 2,
    what: "inventory of logs",
    how: "lines of the program on its output (requests, errors, starts; kept by who runs it) and the office's log in the database (who did what; read by supervisors, never changed)",
    tests: [LOG],
  },
  { id: "16.2.1", level: 2, what: "who, what, when, where", how: "both logs", tests: [LOG] },
  {
    id: "16.2.2",
    level: 2,
    what: "UTC",
    how: "ISO 8601 with Z",
    tests: [LOG, [HEADERS, "who signed in, and who tried to, stands in the office's log, without what he typed as password"]],
  },
  { id: "16.2.3", level: 2, what: "nowhere else", how: "as 16.1.1", tests: [LOG] },
  {
    id: "16.2.4",
    level: 2,
    what: "readable by programs",
    how: "one JSON object a line, with the request's number",
    tests: [[OPERATION, "takes a proxy's number for a request"]],
  },
  {
    id: "16.2.5",
    level: 2,
    what: "no secrets in logs",
    how: "patterns instead of addresses, nothing that somebody wrote",
    tests: [["tests/browser/reply.test.ts", "never stands in what the server prints, nor in the log"], LOG],
  },
  {
    id: "16.3.1",
    level: 2,
    what: "sign-ins are logged",
    how: "those that succeed and those that fail",
    tests: [[HEADERS, "who signed in, and who tried to, stands in the office's log, without what he typed as password"]],
  },
  { id: "16.3.2", level: 2, what: "so is who was refused", how: "with the address", tests: [REFUSED] },
  { id: "16.3.3", level: 2, what: "and who tries to get around", how: "hand-made posts, tokens, doors that are shut", tests: [REFUSED] },
  { id: "16.3.4", level: 2, what: "and errors", how: "name, code and place", tests: [ERROR] },
  { id: "16.4.1", level: 2, what: "nobody writes lines of a log", how: "JSON", tests: [LOG] },
  {
    id: "16.4.2",
    level: 2,
    what: "nobody changes them",
    how: "triggers seal the office's log",
    tests: [["tests/store/store.test.ts", "the record of what was done cannot be changed or thinned out by the program"]],
  },
  {
    id: "16.4.3",
    level: 2,
    what: "kept elsewhere too",
    how: "lines go to the output, from where who runs it sends them on",
    accepted: "the program opens no connection of its own for it",
  },
  { id: "16.5.1", level: 2, what: "errors tell nothing of the inside", how: "a number", tests: [ERROR] },
  {
    id: "16.5.2",
    level: 2,
    what: "goes on without others",
    how: "every page says that the database is away and holds what was typed",
    tests: [
      [
        "tests/trust/failing.test.ts",
        "a PostgreSQL server that is stopped, started again or cuts its connections is told, and needs no new start of the program",
      ],
    ],
  },
  {
    id: "16.5.3",
    level: 2,
    what: "fails shut",
    how: "what could not be looked at is refused",
    tests: [
      ["tests/store/away.test.ts", "a full, a read-only and a held embedded database are told from a fault of ours"],
      [
        "tests/usecases/exchange.test.ts",
        "is taken in once, as decided, and not before it is confirmed; a way that is not fit is refused and changes nothing",
      ],
    ],
  },
];
