import { messageOf } from "../model/fault.ts";
import { explain } from "../plan/explain.ts";
import { newPlanner } from "../plan/plan.ts";
import { rulebook } from "../rulebook/rulebook.ts";
import { planFile } from "../usecases/planFile.ts";
import { demoCommand } from "./demo.ts";
import { ALL_DONE, BAD_INPUT, PROGRAM_FAILED } from "./exitCodes.ts";
import { readTextFile } from "./files.ts";
import { planCommand } from "./plan.ts";
import { jsonSchemaOf } from "./schema.ts";

const print = (value: string): Promise<void> => new Promise((done) => process.stdout.write(value, () => done()));

const bad = (text: string): number => {
  process.stderr.write(`${text}\n`);
  return BAD_INPUT;
};

const schemaCommand = async ([what = ""]: readonly string[]): Promise<number> => {
  const schema = jsonSchemaOf(what, rulebook);
  if (schema === null) return bad(`given ${JSON.stringify(what)}; wanted visit or plan\nuse: npm run -s schema -- visit|plan`);
  await print(`${JSON.stringify(schema, null, 2)}\n`);
  return ALL_DONE;
};

const rulebookCommand = async (): Promise<number> => {
  await print(`${JSON.stringify({ digest: newPlanner(rulebook).digest, ...rulebook }, null, 2)}\n`);
  return ALL_DONE;
};

const explainCommand = async ([file, ref]: readonly string[]): Promise<number> => {
  if (file === undefined || ref === undefined) return bad("use: npm run -s explain -- FILE REF");
  const planned = await planFile(newPlanner(rulebook), { read: readTextFile }, file);
  if (!planned.ok) return bad(planned.faults.map((fault) => `${file}: ${messageOf(fault)}`).join("\n"));
  const { plan, read } = planned.value;
  const text = explain(plan, ref, read.answers, rulebook);
  const refs = plan.sets.flatMap(({ protections }) => protections.map((protection) => protection.ref));
  if (text === null)
    return bad(
      `REF: given ${JSON.stringify(ref)}; wanted one of ${[...refs].sort((a, b) => Number(a.slice(1)) - Number(b.slice(1))).join(", ")}`,
    );
  await print(text);
  return ALL_DONE;
};

const run = (command: string | undefined, args: readonly string[]): Promise<number> => {
  switch (command) {
    case "plan":
      return planCommand(newPlanner(rulebook), args);
    case "demo":
      return demoCommand(newPlanner(rulebook));
    case "schema":
      return schemaCommand(args);
    case "rulebook":
      return rulebookCommand();
    case "explain":
      return explainCommand(args);
    default:
      return Promise.resolve(
        bad(`given ${JSON.stringify(command ?? "")}; wanted plan, demo, schema, rulebook, explain, backup, restore, move or password`),
      );
  }
};

// A reader that closes the pipe early (head) is no failure of ours.
process.stdout.on("error", () => process.exit(ALL_DONE));

run(process.argv[2], process.argv.slice(3)).then(
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    process.stderr.write(`the program failed: ${error instanceof Error ? error.message : "unknown reason"}\n`);
    process.exitCode = PROGRAM_FAILED;
  },
);
