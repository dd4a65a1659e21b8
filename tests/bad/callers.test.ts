import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { PARSERS } from "./parsers.ts";

/** What reads text or bytes that may come from outside. */
const READS = /JSON\.parse\(|\.formData\(\)|\.json\(\)|\.text\(\)|\.arrayBuffer\(\)|getDocument\(|request\.body\b|decodeURIComponent\(/;

/** Files that read only what the program itself has written and kept, or that are tried elsewhere; with what that is. */
const OWN: Readonly<Record<string, string>> = {
  "app/_server/policyForm.ts": "kept forms",
  "app/_server/reviewForm.ts": "kept forms",
  "app/_server/sendForm.ts": "kept forms",
  "app/_server/inTurn.ts": "an answer of its own, as kept",
  "lib/cli/front/noAddress.ts": "addresses, by bad posts (tests/browser/bad.test.ts)",
  "lib/cli/front/health.ts": "the program's own description",
  "lib/usecases/toldOnce.ts": "what is told once, sealed by the office",
  "app/_server/removed.ts": "sets taken out, as kept",
  "app/consistency/page.tsx": "kept forms",
  "app/visits/[visit]/exchange/send/route.ts": "a copy of data of its own",
  "app/visits/[visit]/exchange/[sent]/load/route.ts": "bytes handed on to the reader of forms (tests/bad/pdfs.test.ts)",
  "app/visits/[visit]/tests/[set]/[kind]/page.tsx": "kept forms",
  "lib/reply/formReader.ts": "filled forms (tests/bad/pdfs.test.ts, tests/reply/fromPdf.test.ts)",
  "lib/usecases/review/runAgain.ts": "decisions, as kept",
  "lib/usecases/review/whatIf.ts": "visits, as kept",
  "lib/usecases/review/comparer.ts": "decisions, as kept",
  "lib/usecases/review/keepPlan.ts": "letters, as kept",
  "lib/usecases/exchange/takeIn.ts": "a copy of data of its own",
  "lib/usecases/exchange/receiptFor.ts": "letters, as kept",
  "lib/usecases/exchange/record.ts": "letters, as kept",
  "lib/usecases/exchange/askedStored.ts": "a copy of data of its own",
  "lib/usecases/exchange/former.ts": "letters, as kept",
  "lib/usecases/exchange/loadReply.ts": "what was read, as kept",
  "lib/usecases/exchange/mailed.ts": "letters, as kept",
  "lib/usecases/exchange/choice.ts": "choices, as kept",
  "lib/usecases/exchange/send.ts": "letters, as kept",
  "lib/usecases/visits/results.ts": "kept forms",
  "lib/usecases/visits/typed.ts": "kept forms",
  "lib/plan/sayFact.ts": "conditions of the rulebook",
  "lib/cli/demoDates.ts": "the demo visits",
  "lib/cli/demoOffice.ts": "the demo visits",
};

const filesIn = (folder: string): readonly string[] =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return filesIn(path);
    return /\.tsx?$/.test(entry.name) ? [path] : [];
  });

const readers = [...filesIn("app"), ...filesIn("lib")]
  .filter((path) => !path.startsWith("lib/store/"))
  .filter((path) => READS.test(readFileSync(path, "utf8")));

const tried = new Set(PARSERS.flatMap(({ covers }) => covers));

test("whatever reads what comes from outside is tried with bad input, or says why it need not be", () => {
  expect(readers.filter((path) => !tried.has(path) && OWN[path] === undefined)).toEqual([]);
});

test("what is said to be tried or not is there", () => {
  const all = new Set([...filesIn("app"), ...filesIn("lib")]);
  expect([...tried].filter((path) => !all.has(path))).toEqual([]);
  expect(Object.keys(OWN).filter((path) => !readers.includes(path))).toEqual([]);
});

test("the sources of forms are all tried", () => {
  const forms = filesIn("app/_server").filter((path) => /(?:Form|Query|query)\.ts$/.test(path));
  const elsewhere = ["app/_server/absenceForm.ts", "app/_server/personForm.ts", "app/_server/choiceForm.ts", "app/_server/erasureForm.ts"];
  expect(forms.filter((path) => !tried.has(path) && !elsewhere.includes(path))).toEqual([]);
});
