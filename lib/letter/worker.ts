import { parentPort } from "node:worker_threads";
import type { Letter } from "./blocks.ts";
import { pdfOf } from "./pdf/document.tsx";

/** One letter to render, told apart by its number. */
export interface Job {
  readonly number: number;
  readonly letter: Letter;
}

export type Answer = { readonly number: number; readonly pdf: Uint8Array } | { readonly number: number; readonly why: string };

/** Rendered once at the start: typeface, layout and compiler are then warm when the first letter comes. */
const WARMING: Letter = {
  title: "",
  subject: "",
  date: "",
  isoDate: "2026-01-01",
  paper: "A4",
  reference: "",
  office: { name: "Office", address: [], contact: "" },
  to: [],
  statement: "",
  blocks: [
    { kind: "heading", text: "Heading" },
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
