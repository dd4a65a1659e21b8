import { spawn, spawnSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { cpus, totalmem } from "node:os";
import { join } from "node:path";
import { ROOT } from "../cli/cli.ts";
import { PARTS, type Part } from "./parts.ts";

/** `npm run trust [-- PART…]`: runs every part, or those that are named, and prints their figures as a table, which is kept in out/trust.md too. */

interface Ran {
  readonly part: Part;
  readonly code: number | null;
  readonly minutes: number;
  readonly rows: readonly (readonly string[])[];
}

const ran = (part: Part): Promise<{ readonly code: number | null; readonly text: string }> =>
  new Promise((done, fail) => {
    const [program = "", ...args] = part.command;
    const env = { ...process.env, NO_COLOR: "1", ...part.env };
    const child = spawn(program, args, { cwd: ROOT, env, stdio: ["ignore", "pipe", "inherit"] });
    let text = "";
    child.stdout.on("data", (chunk: Buffer) => {
      text += chunk.toString("utf8");
      process.stdout.write(chunk);
    });
    child.on("error", fail);
    child.on("close", (code) => done({ code, text }));
  });

const measured = async (part: Part): Promise<Ran> => {
  process.stdout.write(`\n== ${part.name}: ${part.about}\n`);
  const start = Date.now();
  const { code, text } = await ran(part);
  const rows = part.figures.map(({ what, told, wanted }) => [
    part.name,
    what,
    told.exec(text)?.[1]?.replace(/ {2,}/g, "  ").trim() ?? "not told",
    wanted,
  ]);
  return { part, code, minutes: (Date.now() - start) / 60_000, rows };
};

const wentWell = ({ code, rows }: Ran): boolean => code === 0 && rows.every(([, , is]) => is !== "not told");

const git = (...args: readonly string[]): string => spawnSync("git", args, { cwd: ROOT, encoding: "utf8" }).stdout.trim();

const where = (): string => {
  const changed = git("status", "--porcelain");
  return [
    new Date().toISOString().slice(0, 10),
    `commit ${git("rev-parse", "--short", "HEAD")} ${changed === "" ? "on a clean clone" : "with changes that are not committed"}`,
    `Node.js ${process.version}`,
    `${cpus().length} processors, ${Math.round(totalmem() / 2 ** 30)} GiB`,
  ].join(", ");
};

const line = (cells: readonly string[]): string => `| ${cells.map((cell) => cell.replaceAll("|", "/")).join(" | ")} |`;

const table = (all: readonly Ran[]): string =>
  [
    where(),
    "",
    line(["part", "figure", "is", "wanted"]),
    "|---|---|---|---|",
    ...all.flatMap((one) => [
      ...one.rows.map(line),
      line([one.part.name, "took", `${one.minutes.toFixed(1)} min`, ""]),
      ...(wentWell(one) ? [] : [line([one.part.name, "NOT AS WANTED", `ended with ${one.code}`, "0"])]),
    ]),
    "",
  ].join("\n");

const named = process.argv.slice(2);
const unknown = named.filter((name) => !PARTS.some((part) => part.name === name));
if (unknown.length > 0) {
  process.stderr.write(
    `PART: given "${unknown.join('", "')}"; wanted some of ${PARTS.map(({ name }) => name).join(", ")}, or none for all\n`,
  );
  process.exit(2);
}
const all: Ran[] = [];
for (const part of PARTS) if (named.length === 0 || named.includes(part.name)) all.push(await measured(part));
const text = table(all);
mkdirSync(join(ROOT, "out"), { recursive: true });
writeFileSync(join(ROOT, "out/trust.md"), text);
process.stdout.write(`\n${text}`);
process.exit(all.every(wentWell) ? 0 : 1);
