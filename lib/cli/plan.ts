import { basename, dirname, join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { success } from "../kernel/result.ts";
import { messageOf } from "../model/fault.ts";
import type { Planner } from "../plan/plan.ts";
import { readable } from "../plan/readable.ts";
import type { UnitSystem } from "../units/units.ts";
import { notOfThisVisit, readFormerPlan } from "../usecases/formerPlan.ts";
import { type Letters, letterFor } from "../usecases/letterFor.ts";
import { type Planned, planFile } from "../usecases/planFile.ts";
import { ALL_DONE, BAD_INPUT, PROGRAM_FAILED } from "./exitCodes.ts";
import { readTextFile, writableFolder, writeWhole } from "./files.ts";

const USAGE = "use: npm run -s plan -- FILE… [--out DIR [--sheets] [--since PLAN.json]] [--units metric|us] | FILE… --json";

interface Asked {
  readonly files: readonly string[];
  readonly out: string | undefined;
  readonly units: UnitSystem;
  readonly json: boolean;
  /** Whether the letter as a page, the inspector's plan and the job sheet are written too. */
  readonly sheets: boolean;
  /** The plan of the letter before, whose differences the letter tells. */
  readonly since: string | undefined;
}

const complain = (text: string): void => {
  process.stderr.write(`${text}\n`);
};

/** Waits until standard output has taken the text, so that a pipe never loses its tail. */
const print = (text: string): Promise<void> => new Promise((done) => process.stdout.write(text, () => done()));

const asked = (args: readonly string[]): Asked | string => {
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        out: { type: "string" },
        units: { type: "string", default: "metric" },
        json: { type: "boolean", default: false },
        sheets: { type: "boolean", default: false },
        since: { type: "string" },
      },
    });
    if (positionals.length === 0) return "FILE: given nothing; wanted at least one visit file";
    if (values.units !== "metric" && values.units !== "us") return `--units: given "${values.units}"; wanted metric or us`;
    if (values.out === "") return "--out: given nothing; wanted a folder";
    if (values.sheets && values.out === undefined) return "--sheets: given without --out; wanted a folder to write them to";
    if (values.since !== undefined && (values.out === undefined || positionals.length > 1))
      return "--since: given without --out or with several files; wanted one visit file, a folder for its letter, and the plan of its last letter";
    return { files: positionals, out: values.out, units: values.units, json: values.json, sheets: values.sheets, since: values.since };
  } catch (error) {
    return error instanceof Error ? (error.message.split(". To specify")[0] ?? "") : "the arguments cannot be read";
  }
};

/** Output names by input file: the file's own, with its folder before it where two files are called the same. */
export const outputNames = (files: readonly string[]): ReadonlyMap<string, string> => {
  const whole = [...new Set(files.map((file) => resolve(file)))];
  const plain = (file: string): string => basename(file).replace(/\.json$/i, "");
  const taken = new Set<string>();
  return new Map(
    whole.map((file) => {
      const clashes = whole.filter((other) => plain(other) === plain(file)).length > 1;
      const base = clashes ? `${basename(dirname(file))}-${plain(file)}` : plain(file);
      let name = base;
      for (let copy = 2; taken.has(name); copy += 1) name = `${base}-${copy}`;
      taken.add(name);
      return [file, name] as const;
    }),
  );
};

const MANY = 5;

/** Writes plan and letter; a file that cannot be written is told, and the others go on. */
const written = async (...all: Parameters<typeof writeBoth>): Promise<number> => {
  const [, , folder, name] = all;
  try {
    return (await writeBoth(...all)) ? ALL_DONE : PROGRAM_FAILED;
  } catch {
    complain(`--out: given ${join(folder, name)}, where a file of that name cannot be written; wanted a folder in which it can`);
    return BAD_INPUT;
  }
};

const writeBoth = async (
  planned: Planned,
  planner: Planner,
  folder: string,
  name: string,
  letters: Letters,
  sheets: boolean,
): Promise<boolean> => {
  await writeWhole(join(folder, `${name}.plan.json`), `${JSON.stringify(planned.plan, null, 2)}\n`);
  const letter = await letters.render(planned, planner.rulebook);
  if (!letter.ok) {
    complain(`${name}.letter.pdf: not written: ${letter.faults.join("; ")}. The plan stands.`);
    return false;
  }
  await writeWhole(join(folder, `${name}.letter.pdf`), letter.value);
  if (!sheets) return true;
  const papers = await letters.sheets(planned, planner.rulebook);
  if (!papers.ok) {
    complain(`${name}: its sheets are not written: ${papers.faults.join("; ")}. Plan and letter stand.`);
    return false;
  }
  for (const { ending, content } of papers.value) await writeWhole(join(folder, `${name}.${ending}`), content);
  return true;
};

/** How a planned visit is shown on standard output. */
export type Show = (planned: Planned, file: string) => string;

const wholePlan =
  (planner: Planner, units: UnitSystem): Show =>
  ({ plan }) =>
    `${readable(plan, planner.rulebook, units)}\n`;

/** `plan`: plans every file, prints what came of it, and returns the exit code. */
export const planCommand = async (planner: Planner, args: readonly string[], show?: Show): Promise<number> => {
  const what = asked(args);
  if (typeof what === "string") {
    complain(`${what}\n${USAGE}`);
    return BAD_INPUT;
  }
  const writes = what.out !== undefined && !what.json ? what.out : undefined;
  if (writes !== undefined) {
    const folder = await writableFolder(writes);
    if (!folder.ok) {
      complain(folder.faults.map((fault) => `--out: given ${fault.given}; wanted ${fault.wanted}`).join("\n"));
      return BAD_INPUT;
    }
  }
  const former = what.since === undefined ? success(undefined) : await readFormerPlan({ read: readTextFile }, what.since);
  if (!former.ok) {
    for (const fault of former.faults) complain(`--since: ${what.since}: ${messageOf(fault)}`);
    return BAD_INPUT;
  }
  const names = outputNames(what.files);
  const letters = letterFor(what.units, former.value);
  if (writes !== undefined) letters.warm();
  let code = ALL_DONE;
  for (const [place, file] of what.files.entries()) {
    if (what.files.length >= MANY && !what.json) complain(`${place + 1} of ${what.files.length}: ${file}`);
    const planned = await planFile(planner, { read: readTextFile }, file);
    const strange = planned.ok && former.value !== undefined ? notOfThisVisit(former.value, planned.value.plan) : null;
    if (!planned.ok) {
      code = BAD_INPUT;
      for (const fault of planned.faults) complain(`${file}: ${messageOf(fault)}`);
      if (what.json) await print(`${JSON.stringify({ file, faults: planned.faults })}\n`);
    } else if (strange !== null) {
      code = BAD_INPUT;
      complain(`--since: ${what.since}: ${messageOf(strange)}`);
    } else if (what.json) await print(`${JSON.stringify(planned.value.plan)}\n`);
    else {
      await print((show ?? wholePlan(planner, what.units))(planned.value, file));
      const name = names.get(resolve(file)) ?? basename(file);
      const wrote = writes === undefined ? ALL_DONE : await written(planned.value, planner, writes, name, letters, what.sheets);
      if (wrote !== ALL_DONE && code !== BAD_INPUT) code = wrote;
    }
  }
  await letters.close();
  return code;
};
