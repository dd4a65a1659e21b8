import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { bundleAt } from "../../lib/usecases/office.ts";

/** A file that the browser may keep for good: its name holds what is in it. */
export interface Lasting {
  readonly name: string;
  readonly type: string;
  readonly body: string;
}

const lasting = (stem: string, end: string, type: string, body: string): Lasting => ({
  name: `${stem}.${createHash("sha256").update(body).digest("hex").slice(0, 16)}.${end}`,
  type,
  body,
});

/** The rulebook as a page needs it: without the examples, which are for tests. */
const rules = lasting(
  "rulebook",
  "json",
  "application/json; charset=utf-8",
  JSON.stringify(rulebook, (key, value: unknown) => (key === "examples" ? undefined : value)),
);

let core: Promise<Lasting> | undefined;

/** The core and its rulebook for the browser. */
export const coreFiles = async (): Promise<{ readonly script: Lasting; readonly rulebook: Lasting }> => {
  core ??= readFile(bundleAt(process.env, "core.mjs"), "utf8").then((body) =>
    lasting("core", "js", "text/javascript; charset=utf-8", body),
  );
  return { script: await core, rulebook: rules };
};
