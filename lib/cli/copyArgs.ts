import { type ParseArgsConfig, parseArgs } from "node:util";
import { failure, type Result, success } from "../kernel/result.ts";

export interface Given {
  readonly positionals: readonly string[];
  readonly options: Readonly<Record<string, string | undefined>>;
}

/** Whether somebody asks how a command is used. */
export const asksHelp = (args: readonly string[]): boolean => args.some((word) => word === "--help" || word === "-h");

/** The arguments of a command: at most so many in a row, and options that each take a text. Fails naming what is wrong. */
export const given = (args: readonly string[], most: number, ...names: readonly string[]): Result<Given> => {
  const options: ParseArgsConfig["options"] = Object.fromEntries(names.map((name) => [name, { type: "string" as const }]));
  try {
    const { values, positionals } = parseArgs({ args: [...args], allowPositionals: true, options });
    const over = positionals[most];
    if (over !== undefined) return failure(`given ${JSON.stringify(over)} besides; wanted at most ${most}`);
    const empty = names.find((name) => values[name] === "");
    if (empty !== undefined) return failure(`--${empty}: given nothing`);
    return success({ positionals, options: values as Readonly<Record<string, string | undefined>> });
  } catch (error) {
    return failure(error instanceof Error ? (error.message.split(". To specify")[0] ?? "") : "the arguments cannot be read");
  }
};

/** How many backups shall stay: a whole number from 1; undefined where nothing was given. */
export const keepOf = (text: string | undefined): Result<number | undefined> => {
  if (text === undefined) return success(undefined);
  return /^[1-9]\d{0,5}$/.test(text)
    ? success(Number(text))
    : failure(`--keep: given ${JSON.stringify(text)}; wanted how many backups shall stay, a whole number from 1`);
};
