import { warningsOf } from "../usecases/settings.ts";
import { readSettings } from "../usecases/settingsHere.ts";
import { servePages } from "./front/serve.ts";

/** Exit code where some setting is wrong: it must be put right, starting anew does not help. */
const WRONG_SETTINGS = 2;

const settings = readSettings(process.env);
if (!settings.ok) {
  process.stderr.write(
    `\nThe office cannot be opened with these settings:\n\n${settings.faults.map((fault) => `  ${fault}\n`).join("")}\n`,
  );
  process.exit(WRONG_SETTINGS);
}
// With "check" it only says whether the settings are right.
if (process.argv[2] !== "check") {
  for (const warning of warningsOf(process.env, settings.value)) process.stderr.write(`Warning: ${warning}.\n`);
  await servePages(settings.value);
}
