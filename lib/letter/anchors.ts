import type { Block } from "./blocks.ts";

const RUN = /\b([TQR])(\d+)(?: to \1(\d+))?/g;
/** References as they stand in running text, runs as written. */
const SINGLE = /\b[TQR]\d+\b/g;

/** Every reference that a text names, those inside a run too: "Q2 to Q4" names Q2, Q3, Q4. */
export const refsIn = (text: string): readonly string[] =>
  [...text.matchAll(RUN)].flatMap(([, letter = "", from = "", to = from]) =>
    Array.from({ length: Math.max(0, Number(to) - Number(from) + 1) }, (_, place) => `${letter}${Number(from) + place}`),
  );

/** What of a block bears which references as its own: a protection, a row of a table by its first cell. */
const placesIn = (block: Block): readonly (readonly string[])[] => {
  if (block.kind === "protection") return [refsIn(block.refs)];
  if (block.kind === "table") return block.rows.map(([first = ""]) => refsIn(first));
  return [];
};

/** What is told within a row of another, such as the questions that a photograph answers. */
const withinIn = (block: Block): readonly (readonly [place: string, refs: readonly string[]])[] =>
  block.kind !== "table"
    ? []
    : block.rows.flatMap(([first = "", ...rest]) => {
        const [place] = refsIn(first);
        return place === undefined ? [] : [[place, refsIn(rest.join(" "))] as const];
      });

/** For each reference the place that tells of it, by the first reference of that place. */
export type Anchors = ReadonlyMap<string, string>;

/** Where in a paper each reference is told in full; one that stands nowhere in its own right is found where it is told within another. */
export const anchorsIn = (blocks: readonly Block[]): Anchors => {
  const anchors = new Map<string, string>();
  const add = (ref: string, place: string): void => {
    if (!anchors.has(ref)) anchors.set(ref, place);
  };
  for (const block of blocks) for (const refs of placesIn(block)) for (const ref of refs) add(ref, refs[0] ?? ref);
  for (const block of blocks) for (const [place, refs] of withinIn(block)) for (const ref of refs) if (ref.startsWith("Q")) add(ref, place);
  return anchors;
};

/** The place that a row or protection is reached at: its first reference, where it is the first to bear it. */
export const placeOf = (text: string, anchors: Anchors): string | undefined => {
  const [first] = refsIn(text);
  return first !== undefined && anchors.get(first) === first ? first : undefined;
};

/** Whether a row or protection bears one of the references that changed. */
export const bearsAny = (text: string, changed: ReadonlySet<string>): boolean => refsIn(text).some((ref) => changed.has(ref));

/** A piece of a text: plain, or what leads to a place. */
export type Followed = string | { readonly ref: string; readonly to: string };

/**
 * The same pieces with what stands joined to a reference, a comma or a bracket, within its piece. A layout that takes every piece for words
 * of its own would break a line between the two.
 */
export const wholeWords = (pieces: readonly Followed[]): readonly Followed[] => {
  const whole: Followed[] = [];
  for (const piece of pieces) {
    const last = whole.at(-1);
    if (typeof piece === "string") {
      const joined = typeof last === "object" ? (/^\S+/.exec(piece)?.[0] ?? "") : "";
      if (typeof last === "object" && joined !== "") whole.splice(-1, 1, { ...last, ref: `${last.ref}${joined}` });
      if (piece.length > joined.length) whole.push(piece.slice(joined.length));
      continue;
    }
    if (typeof last === "object") whole.splice(-1, 1, { ...last, ref: `${last.ref}${piece.ref}` });
    else {
      const joined = last === undefined ? "" : (/\S+$/.exec(last)?.[0] ?? "");
      if (last !== undefined && joined !== "") whole.splice(-1, 1, ...(last.length > joined.length ? [last.slice(0, -joined.length)] : []));
      whole.push({ ...piece, ref: `${joined}${piece.ref}` });
    }
  }
  return whole;
};

/** A text cut at the references that can be followed. */
export const followed = (text: string, anchors: Anchors): readonly Followed[] => {
  const pieces: Followed[] = [];
  let from = 0;
  for (const { 0: ref, index } of text.matchAll(SINGLE)) {
    const to = anchors.get(ref);
    if (to === undefined) continue;
    if (index > from) pieces.push(text.slice(from, index));
    pieces.push({ ref, to });
    from = index + ref.length;
  }
  if (from < text.length) pieces.push(text.slice(from));
  return pieces;
};
