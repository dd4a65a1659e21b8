// One letter, read from standard input, through the worker given: what a new process needs for its first.
import { Worker } from "node:worker_threads";

let text = "";
for await (const chunk of process.stdin) text += chunk;
const worker = new Worker(new URL(process.argv[2]));
worker.postMessage({ number: 1, letter: JSON.parse(text) });
worker.on("message", ({ pdf }) => process.exit(pdf === undefined ? 1 : 0));
