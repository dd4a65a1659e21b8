import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { ROOT } from "../cli/cli.ts";
import { advisoriesIn, type Printed, signaturesIn, type Told } from "./audit/answers.ts";
import { type Lock, lockFindings, type Manifest, SCRIPTS } from "./audit/lock.ts";

// Looks at the packages that the program is made of: `npm run audit`. Exit code 1 where something is wrong; 0 where nothing is, or where the registry
// does not tell, which is then said.

/** So long the registry is waited for, in milliseconds. */
const PATIENCE = 60_000;

const npm = (...given: readonly string[]): Printed => {
  const { status, stdout, stderr } = spawnSync("npm", [...given, "--fetch-retries=0", `--fetch-timeout=${PATIENCE / 2}`], {
    cwd: ROOT,
    encoding: "utf8",
    timeout: PATIENCE,
  });
  return { code: status ?? 1, out: stdout ?? "", err: stderr ?? "" };
};

const print = (words: string): void => {
  process.stdout.write(`${words}\n`);
};

const json = <Shape>(name: string): Shape => JSON.parse(readFileSync(join(ROOT, name), "utf8")) as Shape;

/** Prints what was found; how much that was. */
const tell = (what: string, findings: readonly string[], well: string): number => {
  print(`${what}: ${findings.length === 0 ? well : `${findings.length} findings`}`);
  for (const finding of findings) print(`  ${finding}`);
  return findings.length;
};

const tellTold = (what: string, told: Told, well: string): number => {
  if (told.said !== "nothing") return tell(what, told.said === "well" ? [] : told.findings, well);
  print(`${what}: could not be read: the registry in use answers “${told.why}”; whether there are any is not known from here`);
  return 0;
};

const [manifest, lock] = [json<Manifest>("package.json"), json<Lock>("package-lock.json")];
const many = Object.keys(lock.packages).length - 1;
const dry = npm("ci", "--dry-run", "--ignore-scripts", "--no-audit", "--no-fund");
const found = [
  tell(
    "packages as written down",
    lockFindings(manifest, lock),
    `all ${many} of one version each with a hash, direct ones as package.json has them`,
  ),
  tell(
    "scripts at installation",
    [],
    Object.entries(SCRIPTS)
      .map(([name, { may, why }]) => `${name} ${may ? "may" : "may not"}: ${why}`)
      .join("; "),
  ),
  tell(
    "npm ci",
    dry.code === 0 ? [] : [dry.err.split("\n").find((line) => line.includes("error")) ?? "it fails"],
    "lock and package.json are in step (dry run)",
  ),
  tellTold("advisories", advisoriesIn(npm("audit", "--json")), "the registry knows of none for these versions"),
  tellTold("signatures", signaturesIn(npm("audit", "signatures", "--json")), "all are the registry's"),
].reduce((sum, one) => sum + one, 0);
process.exitCode = found === 0 ? 0 : 1;
