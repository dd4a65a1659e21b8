import { parentPort } from "node:worker_threads";
import type { Letter } from "./blocks.ts";
import { pdfOf } from "./pdf/document.tsx";
import { meet } from "./pdf/style.ts";

/** One letter to render, as print copy or as page, told apart by its number. */
export interface Job {
  readonly number: number;
  readonly letter: Letter;
  readonly as: "pdf" | "page";
}

export type Answer =
  | { readonly number: number; readonly pdf: Uint8Array }
  | { readonly number: number; readonly page: string }
  | { readonly number: number; readonly why: string };

/**
 * Every sign that a letter may hold. A sign that the layout first meets as part of another (the dotless i in the i, the point in the
 * colon) it loses in every later document, with the sign before it. Met here as themselves, before anything is drawn, all stay whole.
 */
const SIGNS = [
  [0x21, 0x7e],
  [0xa1, 0x17f],
  [0x2c6, 0x2dd],
  [0x384, 0x3ce],
  [0x400, 0x45f],
  [0x2010, 0x2044],
  [0x20ac, 0x20ac],
  [0x2116, 0x2126],
  [0x2190, 0x2193],
  [0x2202, 0x2265],
]
  .map(([from = 0, to = 0]) => String.fromCodePoint(...Array.from({ length: to - from + 1 }, (_, place) => from + place)))
  .join("")
  .replace(/[\p{C}\p{Z}]/gu, "");

/** Rendered once at the start: layout and compiler are then warm when the first letter comes. */
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
const warm = meet(SIGNS)
  .then(() => pdfOf(WARMING))
  .catch(() => undefined);

const made = async ({ number, letter, as }: Job): Promise<Answer> => {
  // Only here, so that a letter in print does not wait for it to load.
  if (as === "page") return { number, page: (await import("./html/document.tsx")).htmlOf(letter) };
  await warm;
  return { number, pdf: new Uint8Array(await pdfOf(letter)) };
};

parentPort?.on("message", (job: Job) => {
  const { number } = job;
  made(job).then(
    (answer) => parentPort?.postMessage(answer),
    (error: unknown) =>
      parentPort?.postMessage({ number, why: error instanceof Error ? error.message : "it could not be laid out" } satisfies Answer),
  );
});
