/**
 * What a column holds of people. `account`: the id of an account, which stays so that who did what remains one nobody's; `name`: a name by itself or
 * before a comma; `address`: an e-mail address; `json`: people anywhere within; `words`: what people wrote; `log`: what the program wrote, with names in
 * it; `paper`: a PDF that was made here; `file`: one that came from outside; `network`: from where and with what somebody signed in; `secret`: what opens
 * a door, given to nobody.
 */
export type Holds = "nothing" | "account" | "name" | "address" | "json" | "words" | "log" | "paper" | "file" | "network" | "secret";

/** How a row is found to be of a visit: by a column of its own, by the letter that a column names, or by the page of a visit. */
export interface OfVisit {
  readonly column: string;
  readonly over?: "sent" | "page";
}

/** One table of the database with all that is said of it on the page about people. */
export interface Kept {
  readonly table: string;
  /** What it is called on pages. */
  readonly called: string;
  readonly key: readonly string[];
  /** Every column there is. */
  readonly columns: Readonly<Record<string, Holds>>;
  readonly of?: OfVisit;
  /** Refuses changes, except those of this folder. */
  readonly sealed?: true;
  /** JSON columns that are given whole to who wrote the row. */
  readonly own?: readonly string[];
  /** The rest is empty where it holds nothing about people. */
  readonly whose: string;
  readonly why: string;
  readonly howLong: string;
  readonly exported: string;
  readonly erased: string;
}

const WITH_VISIT = "until the office removes the visit";
const FOR_GOOD = "as long as the office keeps its database";
const ROWS = "every row that names or is by the person";
const REPLACED = "name and address replaced";

const nothing = (table: string, called: string, key: readonly string[], columns: readonly string[]): Kept => ({
  table,
  called,
  key,
  columns: Object.fromEntries(columns.map((column) => [column, "nothing" as const])),
  whose: "",
  why: "",
  howLong: "",
  exported: "",
  erased: "",
});

const none = (...columns: readonly string[]): Readonly<Record<string, "nothing">> =>
  Object.fromEntries(columns.map((column) => [column, "nothing"]));

/** Accounts and what guards the doors. */
const accounts: readonly Kept[] = [
  {
    table: "user",
    called: "Accounts",
    key: ["id"],
    columns: {
      ...none("emailVerified", "createdAt", "updatedAt", "role", "banned", "banExpires"),
      id: "account",
      name: "name",
      email: "address",
      image: "words",
      banReason: "words",
    },
    whose: "people of the office",
    why: "to sign in, and to say who did what",
    howLong: FOR_GOOD,
    exported: "name, address, role, days",
    erased: `${REPLACED}; the id stays`,
  },
  {
    table: "account",
    called: "Passwords",
    key: ["id"],
    columns: {
      ...none("providerId", "accessTokenExpiresAt", "refreshTokenExpiresAt", "scope", "createdAt", "updatedAt"),
      id: "nothing",
      accountId: "account",
      userId: "account",
      accessToken: "secret",
      refreshToken: "secret",
      idToken: "secret",
      password: "secret",
    },
    whose: "people of the office",
    why: "to sign in; only a digest is kept",
    howLong: "until erasure",
    exported: "that there is one, and since when",
    erased: "removed",
  },
  {
    table: "session",
    called: "Sign-ins",
    key: ["id"],
    columns: {
      ...none("id", "expiresAt", "createdAt", "updatedAt"),
      token: "secret",
      ipAddress: "network",
      userAgent: "network",
      userId: "account",
      impersonatedBy: "account",
    },
    whose: "people of the office",
    why: "to stay signed in",
    howLong: "7 days after the last use",
    exported: "days, network address, browser",
    erased: "removed",
  },
  {
    table: "verification",
    called: "Checks of addresses",
    key: ["id"],
    columns: { ...none("id", "expiresAt", "createdAt", "updatedAt"), identifier: "address", value: "secret" },
    whose: "people of the office",
    why: "the library for accounts may use it; nothing is written there today",
    howLong: "until it has expired",
    exported: ROWS,
    erased: "removed",
  },
  {
    table: "person",
    called: "Accounts that ended",
    key: ["id"],
    columns: { ...none("version", "ended_at"), id: "account", ended_by: "account" },
    whose: "people of the office",
    why: "to keep them out, and to say who ended the account",
    howLong: FOR_GOOD,
    exported: ROWS,
    erased: "stays; it holds ids only",
  },
  {
    table: "absence",
    called: "Absences",
    key: ["id"],
    columns: {
      ...none("id", "from_day", "to_day", "told_at", "over_at"),
      person: "account",
      stands_in: "account",
      told_by: "account",
      over_by: "account",
    },
    whose: "people of the office",
    why: "to say who stood in and could open which visits",
    howLong: FOR_GOOD,
    exported: ROWS,
    erased: "stays; it holds ids only",
  },
  {
    table: "invitation",
    called: "Invitations",
    key: ["mark"],
    columns: { ...none("role", "made_at", "used_at"), mark: "secret", invited_by: "account", for_person: "account" },
    whose: "people of the office",
    why: "to make accounts, and to set forgotten passwords",
    howLong: "30 days after it was used or made",
    exported: "those that the person made, or that are for him",
    erased: "stays until then; it holds ids only",
  },
  {
    table: "failed_try",
    called: "Failed tries to sign in",
    key: ["id"],
    columns: { ...none("id", "tried_at"), door: "log" },
    whose: "whoever tries to sign in",
    why: "to shut the door against guessing",
    howLong: "15 minutes",
    exported: ROWS,
    erased: "removed",
  },
  {
    table: "told_once",
    called: "What is told once",
    key: ["mark"],
    columns: { ...none("mark", "until"), person: "account", hidden: "secret" },
    whose: "whoever sent a letter or waits for a paper",
    why: "to tell private links and hand over papers once; hidden by a word that is kept nowhere",
    howLong: "until it is taken, at most some 10 minutes, then until the next tidying",
    exported: "that there is something, and for whom",
    erased: "the id stays",
  },
  {
    table: "under_way",
    called: "What is being done",
    key: ["act"],
    columns: { ...none("holder", "until"), act: "log", outcome: "secret" },
    whose: "whoever sends a letter or tries something on past plans",
    why: "so that nothing is done twice at once",
    howLong: "while it is done, then until the next tidying",
    exported: ROWS,
    erased: "the id stays",
  },
  {
    table: "pace",
    called: "How fast doors are used",
    key: ["door"],
    columns: { ...none("due"), door: "network" },
    whose: "whoever asks for a page",
    why: "to turn away who asks faster than anybody reads",
    howLong: "until the uses are worked off, then until the next tidying",
    exported: "nothing: it says from where and with which browser, not who",
    erased: "removed by the next tidying",
  },
];

/** Visits, their letters and what came back. */
const visits: readonly Kept[] = [
  {
    table: "visit",
    called: "Visits",
    key: ["id"],
    columns: {
      ...none("id", "version", "vessel", "frame_version", "sets", "created_at", "changed_at", "standing", "due_on", "begins_on", "ends_on"),
      owner: "account",
      frame: "json",
      changed_by: "account",
    },
    of: { column: "id" },
    whose: "people of the visit: inspectors, superintendents, ship’s people",
    why: "to plan the visit and to know who agrees for each side",
    howLong: WITH_VISIT,
    exported: "what stands about the person",
    erased: `${REPLACED}, contact removed`,
  },
  {
    table: "answer",
    called: "Answers about the machinery",
    key: ["visit", "at", "version"],
    columns: { ...none("visit", "at", "version", "saved_at"), value: "json", who: "name" },
    of: { column: "visit" },
    own: ["value"],
    whose: "who answered",
    why: "to tell who said what of the machinery",
    howLong: WITH_VISIT,
    exported: ROWS,
    erased: `${REPLACED}; the answer stays`,
  },
  {
    table: "made",
    called: "Letters that were made",
    key: ["id"],
    columns: { ...none("id", "visit", "version", "made_at", "rulebook"), who: "name", file: "json", plan: "json", pdf: "paper" },
    of: { column: "visit" },
    whose: "people whom a letter names",
    why: "to read later what was agreed, on which facts",
    howLong: WITH_VISIT,
    exported: "what stands about the person, not the PDF",
    erased: `${REPLACED}; a PDF that names the person is replaced by a page that says so`,
  },
  {
    table: "sent",
    called: "Letters that went out",
    key: ["id"],
    columns: {
      ...none("id", "visit", "number", "made", "mark", "reply_by", "sent_at", "kind", "requests"),
      recipients: "json",
      asked: "json",
      who: "name",
    },
    of: { column: "visit" },
    whose: "recipients of letters",
    why: "to tell to whom a letter went",
    howLong: WITH_VISIT,
    exported: "what stands about the person",
    erased: REPLACED,
  },
  {
    table: "delivery",
    called: "Mails",
    key: ["sent", "address", "tried_at"],
    columns: { ...none("sent", "tried_at", "how"), address: "address", detail: "log" },
    of: { column: "sent", over: "sent" },
    whose: "recipients of letters",
    why: "to tell whether a mail went out",
    howLong: WITH_VISIT,
    exported: ROWS,
    erased: `${REPLACED}; mails in the outbox are deleted`,
  },
  {
    table: "reply_link",
    called: "Private links",
    key: ["mark"],
    columns: { ...none("sent", "made_at", "expires_at", "withdrawn_at"), mark: "secret", recipient: "name" },
    of: { column: "sent", over: "sent" },
    whose: "recipients of letters",
    why: "to let a recipient answer, and to say whose link it was",
    howLong: `opens until a week after the visit; the row stays ${WITH_VISIT}`,
    exported: ROWS,
    erased: `${REPLACED}; the link is withdrawn`,
  },
  {
    table: "reply",
    called: "Replies",
    key: ["sent"],
    columns: {
      ...none("sent", "version", "confirmed_at", "taken_at"),
      confirmed_by: "name",
      reply: "json",
      taken_by: "name",
      outcome: "json",
    },
    of: { column: "sent", over: "sent" },
    own: ["reply"],
    whose: "who replied",
    why: "to tell what was agreed, and who said so",
    howLong: WITH_VISIT,
    exported: ROWS,
    erased: `${REPLACED}; what was answered stays`,
  },
  {
    table: "reply_entry",
    called: "Replies as they were filled in",
    key: ["sent", "ref", "version"],
    columns: { ...none("sent", "ref", "version", "saved_at", "post"), value: "json", who: "name" },
    of: { column: "sent", over: "sent" },
    own: ["value"],
    whose: "who replied",
    why: "so that nothing filled in is lost",
    howLong: WITH_VISIT,
    exported: ROWS,
    erased: `${REPLACED}; what was answered stays`,
  },
  {
    table: "attachment",
    called: "Files that came with replies",
    key: ["id"],
    columns: { ...none("id", "sent", "type", "size", "digest", "added_at"), what: "words", name: "words", content: "file", who: "name" },
    of: { column: "sent", over: "sent" },
    whose: "who replied, and whoever stands in the file",
    why: "photographs and papers that answer a question",
    howLong: WITH_VISIT,
    exported: "that there is one; it is opened from its visit",
    erased: `${REPLACED}; the file only where it is ticked`,
  },
  {
    table: "result",
    called: "Results aboard",
    key: ["visit", "at", "version"],
    columns: { ...none("visit", "at", "version", "saved_at"), value: "json", who: "name" },
    of: { column: "visit" },
    sealed: true,
    own: ["value"],
    whose: "who entered them",
    why: "to tell who saw what of a test",
    howLong: WITH_VISIT,
    exported: ROWS,
    erased: `${REPLACED}; the result stays`,
  },
  {
    table: "typed",
    called: "Typed and not kept",
    key: ["who", "page"],
    columns: { ...none("page", "kept_at"), who: "account", text: "json" },
    of: { column: "page", over: "page" },
    own: ["text"],
    whose: "people of the office",
    why: "so that nothing typed is lost",
    howLong: "90 days",
    exported: ROWS,
    erased: "removed where the person typed it, else name and address replaced",
  },
];

/** Reviews, policies, the log. */
const office: readonly Kept[] = [
  {
    table: "kept_plan",
    called: "Plans that are compared",
    key: ["visit"],
    columns: {
      ...none("visit", "seq", "version", "why", "kept_at", "rulebook", "rule_basis", "vessel", "sets"),
      owner: "account",
      who: "account",
      file: "json",
      decisions: "json",
    },
    of: { column: "visit" },
    whose: "people of the visit",
    why: "to find alike machinery that is treated unlike",
    howLong: WITH_VISIT,
    exported: "what stands about the person",
    erased: REPLACED,
  },
  {
    table: "review_event",
    called: "Reviews",
    key: ["visit", "number"],
    columns: { ...none("visit", "number", "act", "version", "done_at", "marks"), who: "account", words: "words" },
    of: { column: "visit" },
    sealed: true,
    whose: "people of the office",
    why: "to tell who approved which plan",
    howLong: WITH_VISIT,
    exported: ROWS,
    erased: "the words stay, their author is nobody",
  },
  {
    table: "review_comment",
    called: "Comments",
    key: ["id"],
    columns: { ...none("id", "visit", "at", "said_at"), who: "account", words: "words" },
    of: { column: "visit" },
    sealed: true,
    whose: "people of the office",
    why: "what was said of a plan",
    howLong: WITH_VISIT,
    exported: ROWS,
    erased: "the words stay, their author is nobody",
  },
  {
    table: "settled_finding",
    called: "Settled findings",
    key: ["finding", "number"],
    columns: { ...none("finding", "number", "how", "settled_at", "covers"), words: "words", who: "account", about: "words" },
    sealed: true,
    whose: "people of the office",
    why: "to tell who settled what, and why",
    howLong: FOR_GOOD,
    exported: ROWS,
    erased: "the words stay, their author is nobody",
  },
  {
    table: "policy_version",
    called: "Policies",
    key: ["number"],
    columns: { ...none("number", "written_at"), policy: "json", note: "words", who: "account" },
    sealed: true,
    whose: "people of the office",
    why: "to tell which policy held, and who wrote it",
    howLong: FOR_GOOD,
    exported: ROWS,
    erased: REPLACED,
  },
  {
    table: "policy_act",
    called: "Decisions on policies",
    key: ["number"],
    columns: { ...none("number", "version", "act", "takes_effect", "done_at"), note: "words", who: "account" },
    sealed: true,
    whose: "people of the office",
    why: "to tell who adopted a policy, and why",
    howLong: FOR_GOOD,
    exported: ROWS,
    erased: "the words stay, their author is nobody",
  },
  {
    table: "what_if",
    called: "Trials",
    key: ["id"],
    columns: { ...none("id", "made_at", "plans"), about: "json", who: "account" },
    whose: "people of the office",
    why: "to see what a policy would change",
    howLong: "90 days",
    exported: ROWS,
    erased: REPLACED,
  },
  {
    table: "what_if_plan",
    called: "Trials, plan by plan",
    key: ["what_if", "visit"],
    columns: { ...none("what_if", "visit"), outcome: "json" },
    of: { column: "visit" },
    whose: "people whom a reason in a plan names",
    why: "to see what a policy would change",
    howLong: "90 days",
    exported: "what stands about the person",
    erased: REPLACED,
  },
  {
    table: "audit",
    called: "Log",
    key: ["id"],
    columns: { ...none("id", "done_at", "act"), who: "name", subject: "log", detail: "log" },
    of: { column: "subject" },
    sealed: true,
    whose: "people of the office and who replied",
    why: "to tell who did what, and who was refused",
    howLong: `${FOR_GOOD}; what is about a visit ${WITH_VISIT}`,
    exported: ROWS,
    erased: REPLACED,
  },
];

/** Every table of the database: what it holds of people, whose, why, how long, and what becomes of it. A test holds it against the real columns. */
export const INVENTORY: readonly Kept[] = [
  ...accounts,
  ...visits,
  ...office,
  nothing("signature", "Facts that decisions rest on", ["mark"], ["mark", "facts"]),
  nothing("people_changes", "Count of changes of people", ["id"], ["id", "count"]),
  nothing("kysely_migration", "Forms of the tables", ["name"], ["name", "timestamp"]),
  nothing("kysely_migration_lock", "Forms of the tables, lock", ["id"], ["id", "is_locked"]),
];

const ABOUT_PEOPLE: ReadonlySet<Holds> = new Set([
  "account",
  "name",
  "address",
  "json",
  "words",
  "log",
  "network",
  "secret",
  "file",
  "paper",
]);

/** Tables that hold something about people. */
export const ofPeople: readonly Kept[] = INVENTORY.filter(({ columns }) => Object.values(columns).some((holds) => ABOUT_PEOPLE.has(holds)));

const cell = (text: string): string => text.replaceAll("|", "\\|");

/** The inventory as a table in Markdown. */
export const inventoryTable = (): string =>
  [
    "| what | whose | why | how long | on a copy of one's data | on erasure |",
    "|---|---|---|---|---|---|",
    ...ofPeople.map(
      ({ called, table, whose, why, howLong, exported, erased }) =>
        `| ${[`${called} (\`${table}\`)`, whose, why, howLong, exported, erased].map(cell).join(" | ")} |`,
    ),
  ].join("\n");
