import type { Item } from "./types.ts";

const SOURCES = "tests/trust/sources.test.ts";
const KNOWN = "%s stands nowhere but where it is known";
const BAD = "tests/bad/parsers.test.ts";
const DOORS = "tests/browser/doors.test.ts";
const VISITS = "tests/usecases/visits.test.ts";
const EXCHANGE = "tests/usecases/exchange.test.ts";
const RUNNING = "tests/store/running.test.ts";

/** Chapters 1 and 2: what comes in, and the order in which things are done. */
export const INPUT: readonly Item[] = [
  {
    id: "1.2.1",
    level: 1,
    what: "what is written is encoded for where it stands",
    how: "pages and letters are made of React elements; the one sheet that is not escaped is a constant",
    tests: [
      ["tests/browser/wizard.test.ts", "text in foreign signs, scripts or turned direction is refused by name or shown as text"],
      [SOURCES, KNOWN],
    ],
  },
  {
    id: "1.2.4",
    level: 1,
    what: "no SQL out of texts",
    how: "Kysely, values as parameters; raw are only names out of own lists (`lib/store/dialects/seals.ts`)",
    tests: [[SOURCES, KNOWN]],
  },
  {
    id: "1.2.5",
    level: 1,
    what: "no commands out of texts",
    how: "the program starts no other program while it serves",
    tests: [[SOURCES, KNOWN]],
  },
  {
    id: "1.2.10",
    level: 3,
    what: "no formulas in sheets",
    how: "cells of CSV and XLSX are texts",
    tests: [["tests/outside/sheets.test.ts", "holds any words of a state, and no cell begins as a formula"]],
  },
  { id: "1.3.2", level: 1, what: "no text is run", how: "no `eval`, no template language", tests: [[SOURCES, KNOWN]] },
  {
    id: "1.3.6",
    level: 2,
    what: "no requests to addresses that somebody wrote (SSRF)",
    how: "the program asks nobody by http; mail server and database come from the settings",
    tests: [[SOURCES, KNOWN]],
  },
  {
    id: "1.3.11",
    level: 2,
    what: "nobody brings a header into a mail",
    how: "mails are checked and composed by `lib/outside`",
    tests: [["tests/outside/mail.test.ts", "a mail that was never checked cannot bring a header of its own either"]],
  },
  {
    id: "1.3.12",
    level: 3,
    what: "no expression that takes for ever",
    how: "every reader is tried with runs of growing length",
    tests: [[BAD, "long runs end"]],
  },
  {
    id: "1.5.2",
    level: 2,
    what: "only data is made of data",
    how: "JSON alone, measured before it is read, then a zod schema; no XML of anybody's is read",
    tests: [[BAD, "takes or refuses whatever comes, and never throws"]],
  },
  {
    id: "2.1.2",
    level: 2,
    what: "written down how data must fit together",
    how: "contradictions are data of the model, what does not look right of a record is `resultDoubts`",
    tests: [["tests/usecases/takingIn.test.ts", "is refused by reference where it contradicts what is known, and nothing is taken"]],
  },
  {
    id: "2.2.1",
    level: 1,
    what: "input is what is expected",
    how: "one schema a field, made from the facts",
    tests: [[VISITS, "with a fault keeps nothing of it, and tells every fault with field, given and wanted"]],
  },
  {
    id: "2.2.2",
    level: 1,
    what: "checked where it can be trusted",
    how: "the browser checks with the same schema, the server decides",
    tests: [
      [VISITS, "a hand-made post with another page's field, a choice that is none, another visit or another page is refused"],
      [DOORS, "%s is refused, changes nothing and is logged"],
    ],
  },
  {
    id: "2.2.3",
    level: 2,
    what: "data that belongs together fits together",
    how: "contradictions are refused, doubts asked once more",
    tests: [["tests/usecases/results.test.ts", "a day that is none of the visit's, whatever became of the test"]],
  },
  {
    id: "2.3.1",
    level: 1,
    what: "no step is left out",
    how: "which pages there are follows from the answers; what comes later asks for what comes before it",
    tests: [
      [EXCHANGE, "is taken in once, as decided, and not before it is confirmed; a way that is not fit is refused and changes nothing"],
      [
        "tests/usecases/review.test.ts",
        "where it wants deviations reviewed none goes out before each is approved, by mail or as a file, and all else does",
      ],
    ],
  },
  {
    id: "2.3.2",
    level: 2,
    what: "limits are kept",
    how: "files of a reply, links, days of a link have limits that are told",
    tests: [
      [
        "tests/usecases/files.test.ts",
        "is refused where all files would have more than 40 MB together; one that fits is taken, and room made is room again",
      ],
    ],
  },
  {
    id: "2.3.3",
    level: 2,
    what: "whole or not at all",
    how: "one transaction for a page, a letter, a reply taken in",
    tests: [
      ["tests/store/store.test.ts", "a frame that somebody else changed meanwhile is refused whole, and nothing is counted"],
      ["tests/store/exchanges.test.ts", "two who take a reply in at once take it in once"],
    ],
  },
  {
    id: "2.3.4",
    level: 2,
    what: "nothing is done twice at once",
    how: "an act under way is a lease in the database",
    tests: [[RUNNING, "many at once: of all who begin an act exactly one does"]],
  },
  {
    id: "2.3.5",
    level: 3,
    what: "weighty acts need two people",
    how: "deviations are approved by another person where the policy asks for it",
    tests: [
      ["tests/usecases/review.test.ts", "nobody approves his own visit, nobody sends back without a reason, and a refusal keeps nothing"],
    ],
  },
  {
    id: "2.4.1",
    level: 2,
    what: "programs that ask too much are stopped",
    how: "every address has a pace, counted in the database; wrong links are answered one after the other",
    tests: [
      [
        "tests/access/pace.test.ts",
        "every address has a pace: whatever writes is slower than what is looked at, whatever strangers try is counted by where they come from",
      ],
      [RUNNING, "a door lets through so many at once and then one in a while, whichever copy they come to"],
      ["tests/browser/copies.test.ts", "guessing at private links is slowed by both copies together, and sent away beyond what waits"],
    ],
  },
];
