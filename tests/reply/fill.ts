import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { PDFDocument, PDFDropdown, PDFTextField } from "pdf-lib";
import { scratch } from "../cli/cli.ts";

type Values = ReadonlyMap<string, string>;

/** A form that is open to be changed in any way, and saved. Appearances are left to the reader: its own typeface knows no Polish. */
export const changed = async (pdf: Uint8Array, change: (document: PDFDocument) => void): Promise<Uint8Array> => {
  const document = await PDFDocument.load(pdf);
  change(document);
  return document.save({ updateFieldAppearances: false });
};

/** Filled in by pdf-lib. */
export const byPdfLib = (pdf: Uint8Array, values: Values): Promise<Uint8Array> =>
  changed(pdf, (document) => {
    const form = document.getForm();
    for (const [name, value] of values) {
      const field = form.getField(name);
      if (field instanceof PDFDropdown) field.select(value);
      else if (field instanceof PDFTextField) field.setText(value);
      else throw new Error(`${name} is no field to fill in`);
    }
  });

const xml = (text: string): string => text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");

/** "q.Q3.answer" as fields within fields. */
const nested = (values: Values): string => {
  interface Node {
    readonly kids: Map<string, Node>;
    value?: string;
  }
  const top: Node = { kids: new Map() };
  for (const [name, value] of values) {
    let here = top;
    for (const step of name.split(".")) {
      const next: Node = here.kids.get(step) ?? { kids: new Map() };
      here.kids.set(step, next);
      here = next;
    }
    here.value = value;
  }
  const told = ({ kids }: Node): string =>
    [...kids]
      .map(
        ([step, node]) =>
          `<field name="${xml(step)}">${node.value === undefined ? "" : `<value>${xml(node.value)}</value>`}${told(node)}</field>`,
      )
      .join("");
  return told(top);
};

/** Filled in by pdftk, from data as XFDF. */
export const byPdftk = (pdf: Uint8Array, values: Values, ...more: readonly string[]): Uint8Array => {
  const folder = scratch();
  const [empty, data, filled] = ["empty.pdf", "data.xfdf", "filled.pdf"].map((name) => join(folder, name)) as [string, string, string];
  writeFileSync(empty, pdf);
  writeFileSync(
    data,
    `<?xml version="1.0" encoding="UTF-8"?><xfdf xmlns="http://ns.adobe.com/xfdf/"><fields>${nested(values)}</fields></xfdf>`,
  );
  execFileSync("pdftk", [empty, "fill_form", data, "output", filled, ...more]);
  return readFileSync(filled);
};

interface QpdfObject {
  readonly value?: Record<string, unknown>;
}

/** Filled in by qpdf, object by object through its JSON. */
export const byQpdf = (pdf: Uint8Array, values: Values): Uint8Array => {
  const folder = scratch();
  const [empty, data, filled] = ["empty.pdf", "data.json", "filled.pdf"].map((name) => join(folder, name)) as [string, string, string];
  // Each object by itself: of objects packed in one stream qpdf (11.3) reads all anew once it meets one that was not changed, and loses the changes.
  writeFileSync(empty, throughQpdf(pdf, "--object-streams=disable"));
  const told = JSON.parse(
    execFileSync("qpdf", ["--json=2", "--json-key=qpdf", "--json-key=acroform", empty], { encoding: "utf8", maxBuffer: 256 * 1024 * 1024 }),
  ) as {
    readonly acroform: { readonly fields: readonly { readonly fullname: string; readonly object: string }[] };
    readonly qpdf: readonly [Record<string, unknown>, Record<string, QpdfObject>];
  };
  const [head, objects] = told.qpdf;
  const filledIn = Object.fromEntries(
    told.acroform.fields.flatMap(({ fullname, object }) => {
      const value = values.get(fullname);
      const own = objects[`obj:${object}`]?.value;
      return value === undefined || own === undefined ? [] : [[`obj:${object}`, { value: { ...own, "/V": `u:${value}` } }] as const];
    }),
  );
  writeFileSync(data, JSON.stringify({ qpdf: [head, filledIn] }));
  execFileSync("qpdf", [empty, filled, `--update-from-json=${data}`]);
  return readFileSync(filled);
};

/** What qpdf makes of a file. */
export const throughQpdf = (pdf: Uint8Array, ...args: readonly string[]): Uint8Array => {
  const folder = scratch();
  const [from, to] = [join(folder, "from.pdf"), join(folder, "to.pdf")];
  writeFileSync(from, pdf);
  execFileSync("qpdf", [...args, "--", from, to]);
  return readFileSync(to);
};
