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

const script = async (stem: string): Promise<Lasting> =>
  lasting(stem, "js", "text/javascript; charset=utf-8", await readFile(bundleAt(process.env, `${stem}.mjs`), "utf8"));

interface CoreFiles {
  readonly script: Lasting;
  readonly rulebook: Lasting;
  /** What waits for the first sign of life on a page. */
  readonly wake: Lasting;
  /** What keeps a form while it is filled in. */
  readonly keep: Lasting;
  /** What saves a page of the vessel's reply while it is filled in. */
  readonly reply: Lasting;
  /** What keeps results aboard on the device until the office has them. */
  readonly results: Lasting;
}

let files: Promise<CoreFiles> | undefined;

/** The core and its rulebook for the browser. */
export const coreFiles = (): Promise<CoreFiles> => {
  files ??= Promise.all([script("core"), script("wake"), script("keep"), script("reply"), script("results")]).then(
    ([core, wake, keep, reply, results]) => ({
      script: core,
      rulebook: rules,
      wake,
      keep,
      reply,
      results,
    }),
  );
  return files;
};
