/** Widths of letters against their height, a little wider than our typeface has them. */
const NARROW = /[ijltfrI.,:;'’()\-\s]/;
const WIDE = /[mwMW%—]/;
const CAPITAL = /[\p{Lu}\d]/u;
const USUAL = 0.53;

const letter = (sign: string): number => (WIDE.test(sign) ? 0.85 : NARROW.test(sign) ? 0.34 : CAPITAL.test(sign) ? 0.6 : USUAL);

/** How much room words want. */
export const widthOf = (words: string, size: number): number => [...words].reduce((sum, sign) => sum + letter(sign), 0) * size;

/** A word in pieces that are no wider than a line. */
const pieces = (word: string, size: number, width: number): readonly string[] => {
  const cut: string[] = [];
  for (const sign of word) {
    const last = cut.at(-1);
    if (last !== undefined && widthOf(last + sign, size) <= width) cut[cut.length - 1] = last + sign;
    else cut.push(sign);
  }
  return cut;
};

/** Where words stand beside others or go up to an edge, room is left for a machine's own typeface that is wider still. */
export const ROOM = 1.15;

/** Words over as many lines as they want, in any typeface. A word that is too long for a line is cut. */
export const linesOf = (text: string, size: number, room: number): readonly string[] => {
  const width = room / ROOM;
  const lines: string[] = [];
  for (const piece of text.split(" ").flatMap((word) => pieces(word, size, width))) {
    const last = lines.at(-1);
    if (last !== undefined && widthOf(`${last} ${piece}`, size) <= width) lines[lines.length - 1] = `${last} ${piece}`;
    else lines.push(piece);
  }
  return lines;
};
