// Starts the command line from its bundle.
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { bundle, root } from "./bundle.mjs";

// React builds the letter; its development checks cost a tenth of the time.
process.env.NODE_ENV ??= "production";
const made = await bundle();
process.chdir(process.argv[2] === "demo" ? root : (process.env.INIT_CWD ?? process.cwd()));
await import(pathToFileURL(join(made, "main.mjs")).href);
