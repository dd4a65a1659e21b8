import { parentPort } from "node:worker_threads";
import type { Letter } from "./blocks.ts";
import { pdfOf } from "./pdf/document.tsx";

/** One letter to render, told apart by its number. */
export interface Job {
  readonly number: number;
  readonly letter: Letter;
}

export type Answer = { readonly number: number; readonly pdf: Uint8Array } | { readonly number: number; readonly why: string };

parentPort?.on("message", ({ number, letter }: Job) => {
  pdfOf(letter).then(
    (pdf) => parentPort?.postMessage({ number, pdf: new Uint8Array(pdf) } satisfies Answer),
    (error: unknown) =>
      parentPort?.postMessage({ number, why: error instanceof Error ? error.message : "it could not be laid out" } satisfies Answer),
  );
});
