import { spawnSync } from "node:child_process";
import { ROOT } from "../cli/cli.ts";
import { ITEMS } from "./asvs.ts";

/** Counts the requirements of the table, and runs every test file that it names, but those of the browser that `copies` runs anyway. */
const named = new Set(ITEMS.flatMap(({ tests = [] }) => tests.map(([file]) => file)));
const unmet = ITEMS.filter(({ how }) => how.startsWith("not met"));
process.stdout.write(
  `requirements: ${ITEMS.length}; shown by tests of ${named.size} files; accepted with a reason ${ITEMS.filter(({ accepted }) => accepted !== undefined).length}; not met ${unmet.length}: ${unmet.map(({ id }) => id).join(", ")}\n`,
);
const files = [...named].filter((file) => !file.startsWith("tests/browser/") && file !== "tests/trust/failing.test.ts");
const { status } = spawnSync(
  "npx",
  [
    "vitest",
    "run",
    "--reporter=default",
    "tests/trust/asvs.test.ts",
    "tests/browser/fields.test.ts",
    "tests/browser/headers.test.ts",
    ...files,
  ],
  {
    cwd: ROOT,
    stdio: "inherit",
  },
);
process.exit(status ?? 1);
