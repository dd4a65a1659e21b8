import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { expect, test } from "vitest";
import { ROOT } from "../cli/cli.ts";

const filesIn = (folder: string): readonly string[] =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? filesIn(path) : /\.(?:ts|tsx|mjs)$/.test(entry.name) ? [path] : [];
  });

const SOURCES = ["app", "components", "lib", "proxy.ts", "instrumentation.ts"]
  .flatMap((name) => (/\./.test(name) ? [join(ROOT, name)] : filesIn(join(ROOT, name))))
  .map((path) => ({ path: relative(ROOT, path), text: readFileSync(path, "utf8") }));

/** What may be dangerous, and the files in which it stands for a reason. */
const DANGEROUS: readonly (readonly [string, RegExp, readonly string[]])[] = [
  ["text that is run", /\beval\(|new Function\(|node:vm|setTimeout\(\s*["'`]/, []],
  // Starting and building the program from the command line.
  ["other programs", /child_process/, ["lib/cli/serve.mjs"]],
  // The one sheet of the reply's pages, which holds nothing of anybody's.
  [
    "markup that is not escaped",
    /dangerouslySetInnerHTML|\.innerHTML|outerHTML|insertAdjacentHTML|document\.write/,
    ["components/reply/Document.tsx"],
  ],
  // Names of tables and acts out of the program's own lists.
  ["SQL out of texts", /sql\.raw\(|sql\.lit\(|sql\.literal\(/, ["lib/store/dialects/seals.ts"]],
  ["asking other machines by http", /node:https?"|axios|undici|\bhttps?\.(?:get|request)\(/, ["lib/cli/front"]],
  // In the browser, of the page's own office.
  ["asking other addresses", /(?<![\w.])fetch\(/, ["components/live"]],
  ["chance that can be foreseen", /Math\.random\(/, []],
  ["digests that are broken", /createHash\(\s*["'](?:md5|sha1)["']/i, []],
];

test.each(DANGEROUS)("%s stands nowhere but where it is known", (_, pattern, known) => {
  const found = SOURCES.filter(({ text }) => pattern.test(text)).map(({ path }) => path);
  expect(found.filter((path) => !known.some((one) => path.startsWith(one)))).toEqual([]);
});

test("what is said to be known is there", () => {
  for (const [what, pattern, known] of DANGEROUS)
    for (const one of known)
      expect(
        SOURCES.some(({ path, text }) => path.startsWith(one) && pattern.test(text)),
        `${what}: ${one}`,
      ).toBe(true);
});
