import { type Frame, framesIn } from "./mailFrame.ts";

/** What is said of some references in a line: "Q3, Q4: dry". */
export interface Said {
  readonly refs: readonly string[];
  readonly text: string;
  /** "Q7 -5": a dash that may part or may be a minus. */
  readonly unclear?: true;
}

/** A line of a message that is not empty, and what it says; or why nothing is looked for in it. */
export interface Line {
  /** Counted from 1. */
  readonly number: number;
  readonly text: string;
  readonly says: readonly Said[] | "no reference at its beginning" | "too long" | Frame;
}

/** Longest line that is read, in characters. */
const LONGEST_LINE = 2000;
/** So many references are meant by one run at most. */
const LONGEST_RUN = 100;
/** So many answers are read in one message; no letter asks a tenth of it. */
const MOST_ANSWERS = 5000;

const REF = "[QRTK]\\s?\\d{1,4}";
const REFS = `${REF}(?:\\s*(?:,|;|/|&|\\+|-|–|—|\\band\\b|\\bto\\b)\\s*${REF}\\b)*`;
/** Bullets and numbers that people put before a line. */
const BULLET = /^\s*(?:[-*•–—·]\s+|\d{1,3}[.)]\s+)?/;
const HEAD = new RegExp(`^(${REFS})\\b\\s*(?:[:=]|[–—-](?!\\d)|\\.(?!\\d)|,)?\\s*(.*)$`, "i");
const ONLY_REFS = new RegExp(`^\\s*${REFS}\\s*$`, "i");
/** Where another answer begins in the same line: references with a colon behind a mark. */
const NEXT = new RegExp(`(?:[;,.|]\\s*|\\s{2,}|\\t|\\s+and\\s+)(?=${REFS}\\s*[:=])`, "gi");

const refsIn = (text: string): readonly string[] => {
  const found: string[] = [];
  for (const { 0: ref, 1: letter = "", 2: digits = "", index } of text.matchAll(/([QRTK])\s?(\d{1,4})/gi)) {
    const name = `${letter.toUpperCase()}${Number(digits)}`;
    const before = found.at(-1);
    const between = text.slice(0, index).replace(/^.*\d/s, "");
    const from = before?.[0] === name[0] && /^\s*(?:-|–|—|to)\s*$/i.test(between) ? Number(before?.slice(1)) : undefined;
    const to = Number(digits);
    if (from !== undefined && to > from && to - from <= LONGEST_RUN)
      for (let number = from + 1; number < to; number += 1) found.push(`${name[0]}${number}`);
    if (ref !== "") found.push(name);
  }
  return [...new Set(found)];
};

/** Without signs that nobody sees; two blanks stand for any run of them, so that reading takes no longer for many. */
const plain = (text: string): string =>
  text
    .normalize("NFC")
    .replace(/[\u200b-\u200f\u2060\ufeff]/g, "")
    .replace(/\u00a0/g, " ")
    .replace(/\s{2,}|\t/g, "  ");

/** What one line says, part by part; null where it does not begin with a reference. */
const saidIn = (text: string): readonly Said[] | null => {
  const parts: string[] = [];
  for (const part of text.replace(BULLET, "").trim().split(NEXT)) {
    const last = parts.at(-1);
    // "Q3, Q4: dry" is one answer: references with nothing behind them belong to the next.
    if (last !== undefined && ONLY_REFS.test(last)) parts[parts.length - 1] = `${last}, ${part}`;
    else parts.push(part);
  }
  const said = parts.map((part): Said | null => {
    const [, refs, rest = ""] = HEAD.exec(part.trim()) ?? [];
    if (refs === undefined) return null;
    const unclear = /^[–—-]\s*\d/.test(rest) && !/[:=]\s*$/.test(part.slice(0, part.length - rest.length));
    return { refs: refsIn(refs), text: rest.trim(), ...(unclear ? { unclear } : {}) };
  });
  return said.every((one) => one !== null) ? said : null;
};

/** The lines of a message of this writer that are not empty, with what each says. Never fails. */
export const linesOf = (message: string, writer: string): readonly Line[] => {
  const lines = message.split(/\r\n|[\n\r\u2028\u2029]/);
  const frames = framesIn(lines, writer);
  let answers = 0;
  return lines.flatMap((text, place): readonly Line[] => {
    if (text.trim() === "") return [];
    const line = { number: place + 1, text };
    const frame = frames[place];
    if (frame !== undefined) return [{ ...line, says: frame }];
    if (text.length > LONGEST_LINE) return [{ ...line, says: "too long" }];
    const said = saidIn(plain(text));
    answers += said?.reduce((sum, { refs }) => sum + refs.length, 0) ?? 0;
    return [{ ...line, says: answers > MOST_ANSWERS ? "too long" : (said ?? "no reference at its beginning") }];
  });
};
