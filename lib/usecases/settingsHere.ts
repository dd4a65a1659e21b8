import { existsSync } from "node:fs";
import { join, resolve } from "node:path";
import type { Result } from "../kernel/result.ts";
import { type Environment, type Settings, settingsOf } from "./settings.ts";

/** Whether a key lies in a data folder as earlier programs made it. */
const hasFormerSecret = (folder: string): boolean => existsSync(join(resolve(/* turbopackIgnore: true */ folder), "secret"));

/** The settings of an office on this machine; else all that is wrong with them. */
export const readSettings = (env: Environment): Result<Settings> => settingsOf(env, hasFormerSecret);
