/**
 * The tokens of a TypeScript or JavaScript source, comments left out, just well enough to find imports and names. Strings,
 * templates, comments and regular expressions are told apart; text of JSX elements is read as if it were code, and a quote
 * that does not end on its line is taken for an apostrophe.
 */
export interface Token {
  /** A template without substitutions is a string; one with them is a template, its inner tokens following it. */
  readonly kind: "name" | "string" | "template" | "number" | "regex" | "mark";
  readonly text: string;
  readonly line: number;
}

interface Piece {
  readonly kind: Token["kind"];
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

const NAME_START = /[\p{ID_Start}$_]/u;
const NAME = /[\p{ID_Continue}$_\u200c\u200d]*/uy;
const NUMBER = /\d[\w.]*/y;
/** After these words a slash begins a regular expression, not a division. */
const BEFORE_REGEX = new Set(
  ["return", "typeof", "case", "in", "of", "delete", "void", "throw", "new", "else", "do", "instanceof", "yield", "await"].values(),
);

const matchAt = (pattern: RegExp, source: string, at: number): string => {
  pattern.lastIndex = at;
  return pattern.exec(source)?.[0] ?? "";
};

const unescaped = (text: string): string =>
  text.replace(/\\(?:u\{([\da-f]+)\}|u([\da-f]{4})|x([\da-f]{2})|([\s\S]))/gi, (_, long, four, two, one: string | undefined) => {
    const code: string | undefined = long ?? four ?? two;
    if (code !== undefined) return String.fromCodePoint(Number.parseInt(code, 16));
    return one === "\n" ? "" : (one ?? "");
  });

/** From a quote to the place after its partner; -1 where there is none on the line. */
const endOfString = (source: string, start: number): number => {
  const quote = source[start];
  for (let at = start + 1; at < source.length; at += 1) {
    if (source[at] === "\\") at += 1;
    else if (source[at] === "\n") return -1;
    else if (source[at] === quote) return at + 1;
  }
  return -1;
};

const endOfRegex = (source: string, start: number): number => {
  let inClass = false;
  for (let at = start + 1; at < source.length; at += 1) {
    const here = source[at];
    if (here === "\\") at += 1;
    else if (here === "\n") return -1;
    else if (here === "[") inClass = true;
    else if (here === "]") inClass = false;
    else if (here === "/" && !inClass) return at + 1 + matchAt(/[a-z]*/y, source, at + 1).length;
  }
  return -1;
};

const regexMayStart = (before: Piece | undefined): boolean => {
  if (before === undefined) return true;
  if (before.kind === "name") return BEFORE_REGEX.has(before.text);
  // After `<` it is the end tag of an element; after a closing bracket a division.
  return before.kind === "mark" && !["<", ")", "]", "}"].includes(before.text);
};

/** A template from its backtick on: its pieces, or null where it does not end. */
const template = (source: string, start: number): readonly Piece[] | null => {
  const inner: Piece[] = [];
  let first: string | null = null;
  let from = start + 1;
  for (let at = from; at < source.length; at += 1) {
    if (source[at] === "\\") at += 1;
    else if (source[at] === "`") {
      const text = unescaped(first ?? source.slice(from, at));
      return [{ kind: first === null ? "string" : "template", text, start, end: at + 1 }, ...inner];
    } else if (source[at] === "$" && source[at + 1] === "{") {
      first ??= source.slice(from, at);
      const read = piecesFrom(source, at + 2, true);
      if (!read.closed) return null;
      inner.push(...read.pieces);
      at = read.end - 1;
      from = read.end;
    }
  }
  return null;
};

/** Reads pieces to the end of the source, or to the brace that closes a substitution. */
const piecesFrom = (
  source: string,
  start: number,
  inTemplate: boolean,
): { readonly pieces: readonly Piece[]; readonly end: number; readonly closed: boolean } => {
  const pieces: Piece[] = [];
  let depth = 0;
  let at = start;
  const add = (kind: Piece["kind"], end: number, text = source.slice(at, end)): void => {
    pieces.push({ kind, text, start: at, end });
    at = end;
  };
  while (at < source.length) {
    const here = source[at] ?? "";
    if (/\s/.test(here)) at += 1;
    else if (source.startsWith("//", at)) at = source.indexOf("\n", at) < 0 ? source.length : source.indexOf("\n", at);
    else if (source.startsWith("/*", at)) at = source.indexOf("*/", at + 2) < 0 ? source.length : source.indexOf("*/", at + 2) + 2;
    else if (NAME_START.test(here)) add("name", at + matchAt(NAME, source, at).length);
    else if (/\d/.test(here)) add("number", at + matchAt(NUMBER, source, at).length);
    else if (here === '"' || here === "'") {
      const end = endOfString(source, at);
      if (end < 0) add("mark", at + 1);
      else add("string", end, unescaped(source.slice(at + 1, end - 1)));
    } else if (here === "`") {
      const read = template(source, at);
      if (read === null) add("mark", at + 1);
      else {
        pieces.push(...read);
        at = read[0]?.end ?? at + 1;
      }
    } else if (here === "/" && regexMayStart(pieces.at(-1)) && endOfRegex(source, at) > 0) add("regex", endOfRegex(source, at));
    else {
      if (here === "{") depth += 1;
      if (here === "}") {
        if (inTemplate && depth === 0) return { pieces, end: at + 1, closed: true };
        depth -= 1;
      }
      add("mark", at + 1);
    }
  }
  return { pieces, end: at, closed: false };
};

export const tokensOf = (source: string): readonly Token[] => {
  const starts = [0, ...[...source.matchAll(/\n/g)].map(({ index }) => index + 1)];
  const lineOf = (at: number): number => starts.findLastIndex((start) => start <= at) + 1;
  return piecesFrom(source, 0, false).pieces.map(({ kind, text, start }) => ({ kind, text, line: lineOf(start) }));
};
