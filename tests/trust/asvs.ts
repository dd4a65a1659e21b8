import { BROWSER } from "./asvs/browser.ts";
import { INPUT } from "./asvs/input.ts";
import { PEOPLE } from "./asvs/people.ts";
import { RUNNING } from "./asvs/running.ts";
import type { Item } from "./asvs/types.ts";

/** Requirements of OWASP ASVS 5.0, levels 1 and 2 and some of 3, that bite this program, with what shows that they are met or that they are not. */
export const ITEMS: readonly Item[] = [...INPUT, ...BROWSER, ...PEOPLE, ...RUNNING];

const shownBy = ({ tests = [], accepted }: Item): string =>
  [...tests.map(([file, name]) => `\`${file}\` “${name}”`), ...(accepted === undefined ? [] : [`accepted: ${accepted}`])].join("; ");

const row = (cells: readonly string[]): string => `| ${cells.map((cell) => cell.replaceAll("|", "\\|")).join(" | ")} |`;

/** The table as it stands in DEVELOPERS.md. */
export const asvsTable = (): string =>
  [
    row(["id", "level", "what is wanted", "how", "shown by"]),
    row(["---", "---", "---", "---", "---"]),
    ...ITEMS.map((item) => row([item.id, String(item.level), item.what, item.how, shownBy(item)])),
  ].join("\n");

/** Prints the table: `npx tsx tests/trust/asvs.ts`. */
if (process.argv[1]?.endsWith("tests/trust/asvs.ts") === true) process.stdout.write(`${asvsTable()}\n`);
