import { execFileSync } from "node:child_process";
import { createRequire } from "node:module";
import { join } from "node:path";

/** The Nu checker's findings that are about Next's own markup, not about ours. */
const NOT_OURS = [/Trailing slash on void elements/];

/** What the Nu HTML checker calls an error in the pages of a folder. */
export const nuErrors = (folder: string): readonly string[] => {
  const jar = join(createRequire(import.meta.url).resolve("vnu-jar/package.json"), "../build/dist/vnu.jar");
  let report = "";
  try {
    execFileSync("java", ["-jar", jar, "--format", "gnu", "--skip-non-html", folder], {
      stdio: ["ignore", "ignore", "pipe"],
      maxBuffer: 64e6,
    });
  } catch (error) {
    report = String((error as { stderr?: Buffer }).stderr ?? error);
  }
  const errors = report.split("\n").filter((line) => / error: /.test(line) && !NOT_OURS.some((known) => known.test(line)));
  return errors.map((line) => line.replace(/^.*\/html\//, ""));
};
