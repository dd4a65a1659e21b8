import { spawn } from "node:child_process";

/** What a program printed, and how long it took. */
export interface Ran {
  readonly out: string;
  readonly code: number;
  readonly seconds: number;
  /** Whether it was ended since its time was up. */
  readonly cut: boolean;
}

/** What was interrupted may take so many milliseconds to tell what it has. */
const LAST_WORDS = 15_000;

/** Runs a program for at most so many seconds; what it has printed by then counts. `input` answers what it asks, when it is interrupted say. */
export const run = (program: string, given: readonly string[], seconds: number, input = ""): Promise<Ran> =>
  new Promise((done, fail) => {
    const start = performance.now();
    const child = spawn(program, [...given], { stdio: ["pipe", "pipe", "pipe"] });
    child.stdin.on("error", () => undefined);
    child.stdin.end(input);
    let [out, cut] = ["", false];
    for (const stream of [child.stdout, child.stderr])
      stream.on("data", (chunk: Buffer) => {
        out += chunk.toString("utf8");
      });
    const timer = setTimeout(() => {
      cut = true;
      child.kill("SIGINT");
      setTimeout(() => child.kill("SIGKILL"), LAST_WORDS).unref();
    }, seconds * 1000);
    child.on("error", fail);
    child.on("close", (code) => {
      clearTimeout(timer);
      done({ out, code: code ?? 1, seconds: (performance.now() - start) / 1000, cut });
    });
  });

export const cutNote = ({ cut }: Ran): readonly string[] => (cut ? ["ended by time"] : []);
