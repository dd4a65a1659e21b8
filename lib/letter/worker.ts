import { parentPort } from "node:worker_threads";
import type { Letter } from "./blocks.ts";
import { pdfOf } from "./pdf/document.tsx";

/** One letter to render, told apart by its number. */
export interface Job {
  readonly number: number;
  readonly letter: Letter;
}

export type Answer = { readonly number: number; readonly pdf: Uint8Array } | { readonly number: number; readonly why: string };

/**
 * Every letter that a letter may hold. The layout loses the dotless i, and the sign before it, in every document but the first in which
 * a typeface meets it; met here, it stays whole.
 */
const ALPHABETS = [
  [0x41, 0x17e],
  [0x391, 0x3c9],
  [0x400, 0x45f],
]
  .map(([from = 0, to = 0]) => String.fromCodePoint(...Array.from({ length: to - from + 1 }, (_, place) => from + place)))
  .flatMap((run) => run.match(/\p{L}{1,24}/gu) ?? []);

/** Rendered once at the start: typeface, layout and compiler are then warm when the first letter comes. */
const WARMING: Letter = {
  title: "",
  subject: "",
  date: "",
  isoDate: "2026-01-01",
  paper: "A4",
  reference: "",
  office: { name: "Office", address: [], contact: "" },
  to: ALPHABETS,
  statement: "",
  blocks: [
    { kind: "heading", text: ALPHABETS.join(" ") },
    { kind: "bullets", items: ["Item"] },
    { kind: "table", columns: [{ title: "Title", share: 100 }], rows: [["Cell"]] },
  ],
};
const warm = pdfOf(WARMING).catch(() => undefined);

parentPort?.on("message", ({ number, letter }: Job) => {
  warm
    .then(() => pdfOf(letter))
    .then(
      (pdf) => parentPort?.postMessage({ number, pdf: new Uint8Array(pdf) } satisfies Answer),
      (error: unknown) =>
        parentPort?.postMessage({ number, why: error instanceof Error ? error.message : "it could not be laid out" } satisfies Answer),
    );
});
