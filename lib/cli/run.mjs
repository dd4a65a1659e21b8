// Starts the command line from its bundle.
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { bundle, root } from "./bundle.mjs";

// React builds the letter; its development checks cost a tenth of the time.
process.env.NODE_ENV ??= "production";
const made = await bundle();
// The office is looked for where the server has it, whatever folder the command is given in.
const ofOffice = { backup: "copy", restore: "copy", move: "copy", password: "password" }[process.argv[2] ?? ""];
if (ofOffice !== undefined) process.env.FOREHAIL_DATA = resolve(root, process.env.FOREHAIL_DATA ?? "data");
process.chdir(process.argv[2] === "demo" ? root : (process.env.INIT_CWD ?? process.cwd()));
await import(pathToFileURL(join(made, `${ofOffice ?? "main"}.mjs`)).href);
