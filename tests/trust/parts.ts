/** A figure of a part: what it is of, and where the part's output tells it. */
export interface Wanted {
  readonly what: string;
  readonly told: RegExp;
  readonly wanted: string;
}

/** One part of what `npm run trust` looks at: a command of its own that ends with 0 where all is as wanted. */
export interface Part {
  readonly name: string;
  readonly about: string;
  readonly command: readonly string[];
  readonly env?: Readonly<Record<string, string>>;
  readonly figures: readonly Wanted[];
}

const tsx = (file: string, ...args: readonly string[]): readonly string[] => ["npx", "tsx", `tests/trust/${file}.ts`, ...args];
const vitest = (...paths: readonly string[]): readonly string[] => ["npx", "vitest", "run", "--reporter=default", ...paths];

/** What every run of tests tells at its end. */
const TESTS: readonly Wanted[] = [{ what: "tests", told: /^\s*Tests\s+(.*)$/m, wanted: "all passed" }];

const killed = (engine: string, wanted: number): readonly Wanted[] => [
  { what: `${engine}: killed`, told: new RegExp(`^${engine}: .*\\n {2}killed: (.*)$`, "m"), wanted: `at least ${wanted}` },
  {
    what: `${engine}: acknowledged writes looked for`,
    told: new RegExp(`^${engine}: (?:.*\\n){2} {2}acknowledged: (.*)$`, "m"),
    wanted: "",
  },
  { what: `${engine}: wrong`, told: new RegExp(`^${engine}: (?:.*\\n){3} {2}(lost .*)$`, "m"), wanted: "0 of each" },
  {
    what: `${engine}: from a start to the first answer`,
    told: new RegExp(`^${engine}: (?:.*\\n){4} {2}from start to first answer: (.*)$`, "m"),
    wanted: "",
  },
];

export const PARTS: readonly Part[] = [
  {
    name: "load",
    about: "50 inspectors and 200 vessel offices at one copy on the embedded database",
    command: tsx("load", "--minutes", "10", "--bend"),
    figures: [
      { what: "pages, all but letters", told: /^ {2}all but letters +(.*)$/m, wanted: "p95 under 300 ms" },
      { what: "letters, with their turn", told: /^ {2}letter made +(.*)$/m, wanted: "" },
      { what: "processor time of the program", told: /^ {2}processor (.*)$/m, wanted: "" },
      { what: "errors", told: /^ {2}errors (.*)$/m, wanted: "0" },
      { what: "memory", told: /^ {2}memory (.*)$/m, wanted: "last third over middle third at most 1.1" },
      { what: "where it bends", told: /^ {2}bends: (.*)$/m, wanted: "" },
    ],
  },
  {
    name: "copies",
    about: "every browser test against two copies of the program on one PostgreSQL",
    command: vitest("tests/browser"),
    env: { FOREHAIL_TEST_COPIES: "2" },
    figures: TESTS,
  },
  {
    name: "carry",
    about: "an office is backed up, restored, and moved to PostgreSQL and back",
    command: tsx("carry"),
    figures: [
      { what: "rows, tables", told: /^office: (.*)$/m, wanted: "" },
      { what: "backup", told: /^backup: (.*)$/m, wanted: "digests alike" },
      { what: "restored", told: /^restored: (.*)$/m, wanted: "digests alike" },
      { what: "moved to PostgreSQL", told: /^moved: (.*)$/m, wanted: "digests alike" },
      { what: "moved back", told: /^moved back: (.*)$/m, wanted: "digests alike" },
    ],
  },
  {
    name: "copying",
    about: "tests of backup, restore and move, while others write and where a disk is full",
    command: vitest("tests/store/copy", "tests/cli/copy.test.ts"),
    figures: TESTS,
  },
  {
    name: "failing",
    about: "a full disk, a disk that cannot be written to, a database that is held or gone",
    command: vitest("tests/trust/failing.test.ts"),
    figures: TESTS,
  },
  {
    name: "operation",
    about: "health, log lines, metrics, clean stop; the service recipe with nginx in front of two copies",
    command: vitest("tests/browser/operation.test.ts", "tests/service"),
    figures: TESTS,
  },
  {
    name: "defence",
    about: "the table of OWASP ASVS against its tests, and the tests that it names",
    command: tsx("defence"),
    figures: [
      { what: "requirements", told: /^requirements: (.*)$/m, wanted: "" },
      { what: "tests that show them", told: /^\s*Tests\s+(.*)$/m, wanted: "all passed" },
    ],
  },
  {
    name: "audit",
    about: "dependencies",
    command: tsx("audit"),
    figures: [
      { what: "packages", told: /^packages as written down: (.*)$/m, wanted: "no finding" },
      { what: "lock", told: /^npm ci: (.*)$/m, wanted: "no finding" },
      { what: "advisories", told: /^advisories: (.*)$/m, wanted: "none, where the registry tells" },
      { what: "signatures", told: /^signatures: (.*)$/m, wanted: "all, where the registry tells" },
    ],
  },
  {
    name: "scan",
    about: "scanners of Debian's packages against the program on loopback",
    command: ["npm", "run", "-s", "scan"],
    figures: [{ what: "all of them", told: /^(\d+ scans in .*)$/m, wanted: "0 open" }],
  },
  {
    name: "bad",
    about: "generated bad input to whatever reads what comes from outside",
    command: ["npm", "run", "-s", "bench", "--", "bad"],
    figures: [
      { what: "inputs to readers", told: /^(\d+ inputs, .*?) {2}wanted/m, wanted: "at least 100,000, 0 wrong" },
      { what: "filled forms", told: /^Bad filled forms, seed \d+: (.*)$/m, wanted: "no crash" },
      { what: "posts over HTTP", told: /^Bad posts, seed \d+: (.*)$/m, wanted: "at least 5,000" },
      { what: "what became of them", told: /^(refused \d+, taken .*)$/m, wanted: "none half-saved" },
      { what: "forms and posts", told: /^(\d+ forms and posts, .*?) {2}wanted/m, wanted: "0 wrong" },
    ],
  },
  {
    name: "crash",
    about: "the program, or its database, killed at random moments while people write",
    command: tsx("crash", "--sqlite", "200", "--postgres", "50"),
    figures: [...killed("sqlite", 200), ...killed("postgres", 50)],
  },
];
