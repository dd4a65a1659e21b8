import type { PDFArray, PDFContext, PDFDict, PDFRef } from "pdf-lib";
import type { Block, FormField } from "../blocks.ts";

/** Loaded only where there is a form: a letter without one does not wait for it, nor does the start of the worker. */
type Library = typeof import("pdf-lib");

/** Text in a field is set in the one typeface that every PDF program has: the letter's own holds only the signs that the letter prints. */
const TYPEFACE = "Helv";
const SIZE = 9;
const SMALLEST = 5.5;
/** Width of a sign by its size, on the average of a line of words, with something to spare for the arrow that some programs draw. */
const SIGN = 0.52;

const appearance = (size: number): string => `/${TYPEFACE} ${size} Tf 0 g`;

/** A choice is set so small that the longest of its field can be read whole. */
const sizeFor = (field: FormField, width: number): number => {
  if (field.kind !== "choice") return SIZE;
  const longest = Math.max(...field.choices.map((choice) => choice.length));
  return Math.max(SMALLEST, Math.min(SIZE, Math.floor((width / (longest * SIGN)) * 2) / 2));
};

const widthOf = (widget: PDFDict, { PDFArray, PDFName }: Library): number =>
  widget.lookup(PDFName.of("Rect"), PDFArray).asRectangle().width;

/** Flags of a field and of the place where it is shown (ISO 32000-1, tables 165 and 221). */
const PRINTED = 4;
const HIDDEN = 2;
const READ_ONLY = 1;

type Known = { readonly field: FormField } | { readonly value: string };

const knownIn = (blocks: readonly Block[]): ReadonlyMap<string, Known> =>
  new Map<string, Known>(
    blocks.flatMap((block): readonly (readonly [string, Known])[] => {
      if (block.kind === "formMark") return block.kept.map(({ name, value }) => [name, { value }] as const);
      if (block.kind !== "form") return [];
      const fields = block.rows.flatMap(({ lines }) => lines.flat());
      return fields.flatMap((field) => (field === null ? [] : [[field.name, { field }] as const]));
    }),
  );

const textOf = (dict: PDFDict, key: string, { PDFHexString, PDFName, PDFString }: Library): string =>
  dict.lookup(PDFName.of(key), PDFString, PDFHexString).decodeText();

/** What the layout cannot say of a field: what it is for, in which type it is written, what it carries unseen. */
const complete = (widget: PDFDict, known: Known, blank: PDFRef, library: Library): void => {
  const { PDFHexString, PDFName, PDFString } = library;
  const set = (key: string, value: Parameters<PDFDict["set"]>[1]): void => widget.set(PDFName.of(key), value);
  widget.delete(PDFName.of("DR"));
  set("DA", PDFString.of(appearance("field" in known ? sizeFor(known.field, widthOf(widget, library)) : SIZE)));
  // Programs that draw no field anew still find something to draw.
  set("AP", widget.context.obj({ N: blank }));
  if ("field" in known) {
    set("TU", PDFHexString.fromText(known.field.title));
    set("F", widget.context.obj(PRINTED));
    return;
  }
  set("V", PDFHexString.fromText(known.value));
  set("DV", PDFHexString.fromText(known.value));
  set("F", widget.context.obj(HIDDEN));
  set("Ff", widget.context.obj(READ_ONLY));
};

/** A field that only holds others: "q" and "Q3" of "q.Q3.answer", since a field's own name may have no point in it. */
interface Branch {
  readonly ref: PDFRef;
  readonly kids: PDFArray;
}

const newBranch = (context: PDFContext, name: string, parent: PDFRef | undefined, library: Library): Branch => {
  const { PDFArray, PDFHexString, PDFName } = library;
  const kids = PDFArray.withContext(context);
  const dict = context.obj({ T: PDFHexString.fromText(name), Kids: kids });
  if (parent !== undefined) dict.set(PDFName.of("Parent"), parent);
  return { ref: context.register(dict), kids };
};

/**
 * The fields of a letter that is laid out, as a form: named in steps, each with its title, all in one typeface that can show what is typed. Those
 * that are kept carry their value and are hidden.
 */
export const withFields = async (pdf: Uint8Array, blocks: readonly Block[]): Promise<Uint8Array> => {
  const library = await import("pdf-lib");
  const { PDFArray, PDFDict, PDFDocument, PDFHexString, PDFName, PDFString, StandardFonts } = library;
  const document = await PDFDocument.load(pdf, { updateMetadata: false });
  const { context, catalog } = document;
  const form = catalog.lookup(PDFName.of("AcroForm"), PDFDict);
  const known = knownIn(blocks);
  const blank = context.register(context.formXObject([], { BBox: context.obj([0, 0, 1, 1]) }));
  const top = PDFArray.withContext(context);
  const branches = new Map<string, Branch>();
  const branchAt = (steps: readonly string[]): Branch | undefined => {
    const name = steps.at(-1);
    if (name === undefined) return undefined;
    const path = steps.join(".");
    const made = branches.get(path);
    if (made !== undefined) return made;
    const parent = branchAt(steps.slice(0, -1));
    const branch = newBranch(context, name, parent?.ref, library);
    (parent?.kids ?? top).push(branch.ref);
    branches.set(path, branch);
    return branch;
  };
  const flat = form.lookup(PDFName.of("Fields"), PDFArray);
  for (const ref of flat.asArray()) {
    const widget = context.lookup(ref, PDFDict);
    const path = textOf(widget, "T", library);
    const own = known.get(path);
    if (own !== undefined) complete(widget, own, blank, library);
    const steps = path.split(".");
    const branch = branchAt(steps.slice(0, -1));
    widget.set(PDFName.of("T"), PDFHexString.fromText(steps.at(-1) ?? path));
    if (branch !== undefined) widget.set(PDFName.of("Parent"), branch.ref);
    (branch?.kids ?? top).push(ref);
  }
  const typeface = context.register(
    context.obj({ Type: "Font", Subtype: "Type1", BaseFont: StandardFonts.Helvetica, Encoding: "WinAnsiEncoding" }),
  );
  form.set(PDFName.of("Fields"), top);
  form.set(PDFName.of("DR"), context.obj({ Font: { [TYPEFACE]: typeface } }));
  form.set(PDFName.of("DA"), PDFString.of(appearance(SIZE)));
  // Fields are gone through as they are read: row by row.
  for (const page of document.getPages()) page.node.set(PDFName.of("Tabs"), PDFName.of("R"));
  return document.save({ updateFieldAppearances: false });
};
