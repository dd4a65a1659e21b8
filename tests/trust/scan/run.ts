import { spawn } from "node:child_process";

/** What a program printed, and how long it took. */
export interface Ran {
  readonly out: string;
  readonly code: number;
  readonly seconds: number;
  /** Whether it was ended since its time was up. */
  readonly cut: boolean;
}

/** Runs a program for at most so many seconds; what it has printed by then counts. */
export const run = (program: string, given: readonly string[], seconds: number): Promise<Ran> =>
  new Promise((done, fail) => {
    const start = performance.now();
    const child = spawn(program, [...given], { stdio: ["ignore", "pipe", "pipe"] });
    let [out, cut] = ["", false];
    for (const stream of [child.stdout, child.stderr])
      stream.on("data", (chunk: Buffer) => {
        out += chunk.toString("utf8");
      });
    const timer = setTimeout(() => {
      cut = true;
      child.kill("SIGINT");
      setTimeout(() => child.kill("SIGKILL"), 5_000).unref();
    }, seconds * 1000);
    child.on("error", fail);
    child.on("close", (code) => {
      clearTimeout(timer);
      done({ out, code: code ?? 1, seconds: (performance.now() - start) / 1000, cut });
    });
  });

export const cutNote = ({ cut }: Ran): readonly string[] => (cut ? ["ended by time"] : []);
