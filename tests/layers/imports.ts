import { type Token, tokensOf } from "./tokens.ts";

/** What one source file imports, in any form: static, type, re-export, dynamic, require, worker address. */
export interface Import {
  /** Where from; null where it is worked out when the program runs and so cannot be read. */
  readonly from: string | null;
  readonly line: number;
}

const NOTHING: Token = { kind: "mark", text: "", line: 0 };

/** Names that stand for `require`: `const find = createRequire(…)` and `… .resolve`. */
const requirersIn = (tokens: readonly Token[]): ReadonlySet<string> =>
  new Set(
    tokens.flatMap(({ kind, text }, place) => {
      const [equals, name] = [tokens[place - 1], tokens[place - 2]];
      return kind === "name" && text === "createRequire" && equals?.text === "=" && name?.kind === "name" ? [name.text] : [];
    }),
  );

/** Where the bracket that opens at a place is closed. */
const closing = (tokens: readonly Token[], open: number): number => {
  let depth = 0;
  for (let at = open; at < tokens.length; at += 1) {
    const { kind, text } = tokens[at] ?? NOTHING;
    if (kind !== "mark") continue;
    if ("([{".includes(text)) depth += 1;
    if (")]}".includes(text)) depth -= 1;
    if (depth === 0) return at;
  }
  return tokens.length;
};

/** A package and a slash: whatever a template goes on with, it stays in that package. */
const IN_PACKAGE = /^(@[\w.-]+\/)?\w[\w.-]*\//;

/** The text given first to a call whose bracket opens at a place; null where it is none or goes on. */
const givenTo = (tokens: readonly Token[], open: number): string | null => {
  const [given, after] = [tokens[open + 1] ?? NOTHING, tokens[open + 2] ?? NOTHING];
  if (given.kind === "template" && IN_PACKAGE.test(given.text)) return given.text;
  return given.kind === "string" && after.kind === "mark" && [")", ","].includes(after.text) ? given.text : null;
};

export const importsIn = (source: string): readonly Import[] => {
  const tokens = tokensOf(source);
  const requirers = requirersIn(tokens);
  const at = (place: number): Token => tokens[place] ?? NOTHING;
  const is = (place: number, ...texts: readonly string[]): boolean =>
    texts.every((text, i) => at(place + i).text === text && at(place + i).kind !== "string");
  /** The text after the first `from` outside brackets, if the statement gets there. */
  const fromClause = (start: number): string | null => {
    for (let place = start; place < tokens.length; place += 1) {
      if (is(place, "{")) place = closing(tokens, place);
      else if (is(place, "from") && at(place + 1).kind === "string") return at(place + 1).text;
      else if (at(place).kind === "string" || is(place, ";") || is(place, "=") || is(place, "(")) return null;
    }
    return null;
  };
  const called = (open: number): readonly (string | null)[] => (is(open, "(") ? [givenTo(tokens, open)] : []);
  const found = (place: number): readonly (string | null)[] => {
    const { kind, text } = at(place);
    if (kind !== "name") return [];
    const member = is(place - 1, ".") && !is(place - 2, ".");
    if (text === "import" && !member) {
      if (is(place + 1, "(")) return called(place + 1);
      if (is(place + 1, ".", "meta", ".", "resolve")) return called(place + 5);
      if (is(place + 1, ".", "meta", ".", "dirname") || is(place + 1, ".", "meta", ".", "filename")) return [null];
      if (is(place + 1, ".")) return [];
      if (at(place + 1).kind === "string") return [at(place + 1).text];
      const from = fromClause(place + 1);
      return from === null ? [] : [from];
    }
    if (text === "export" && !member) {
      const what = is(place + 1, "type") ? place + 2 : place + 1;
      const from = is(what, "*") || is(what, "{") ? fromClause(what) : null;
      return from === null || (is(what, "{") && !is(closing(tokens, what) + 1, "from")) ? [] : [from];
    }
    if (text === "require" || (requirers.has(text) && !member)) return called(is(place + 1, ".", "resolve") ? place + 3 : place + 1);
    if (text === "URL" && is(place - 1, "new") && is(place + 1, "(")) {
      const end = closing(tokens, place + 1);
      const last = is(end - 1, ",") ? end - 1 : end;
      if (!is(last - 6, ",", "import", ".", "meta", ".", "url")) return [];
      const given = at(place + 2).kind === "template" ? null : givenTo(tokens, place + 1);
      // An address without a dot in front is relative too, unless it has a scheme.
      return [given === null || /^(\.|\/|[a-z]+:)/i.test(given) ? given : `./${given}`];
    }
    return text === "__dirname" || text === "__filename" ? [null] : [];
  };
  const references = [...source.matchAll(/^\s*\/\/\/\s*<reference\s+path\s*=\s*["'](.+?)["']/gm)].map((match) => ({
    from: match[1] ?? "",
    line: source.slice(0, match.index).split("\n").length,
  }));
  return [...references, ...tokens.flatMap(({ line }, place) => found(place).map((from) => ({ from, line })))];
};

/** The folders of lib in the order in which they may see each other: each only those before it. */
export const ORDER = [
  "kernel",
  "units",
  "figures",
  "logic",
  "model",
  "rulebook",
  "decide",
  "schedule",
  "plan",
  "flow",
  "compare",
  "drawing",
  "letter",
  "reply",
  "store",
  "access",
  "outside",
  "usecases",
  "cli",
] as const;

const layerOf = (path: string): number => {
  const [top, folder = ""] = path.split("/");
  if (top === "lib") return ORDER.indexOf(folder as (typeof ORDER)[number]);
  return top === "components" ? ORDER.length : top === "app" ? ORDER.length + 1 : -1;
};

/** The path that a relative one leads to from a file; null where it leads out of the project. */
const joined = (file: string, relative: string): string | null => {
  const steps = file.split("/").slice(0, -1);
  for (const step of relative.replace(/[?#].*$/, "").split("/")) {
    if (step === "..") {
      if (steps.pop() === undefined) return null;
    } else if (step !== "." && step !== "") steps.push(step);
  }
  return steps.join("/");
};

/** What is wrong with one import of a file; null where nothing is. Paths are relative to the top of the project. */
export const wrongWith = (file: string, from: string | null): string | null => {
  if (file.startsWith("tests/")) return null;
  if (from === null) return "imports from a place that is worked out when it runs, which cannot be checked";
  if (/^([/\\]|[a-z]:[\\/]|file:)/i.test(from)) return `imports the absolute path ${from}`;
  if (/^(#|@\/|~|(lib|components|app|tests|fixtures|forehail)(\/|$))/.test(from)) return `imports ${from} by a name, not a relative path`;
  if (!/^\.\.?(\/|$)/.test(from)) return null;
  const target = joined(file, from);
  if (target === null) return `imports ${from}, which lies outside the project`;
  if (target === "") return null; // the top folder itself, as an address
  if (/^(tests|fixtures|out)(\/|$)/.test(target)) return `imports ${target}, which is not part of the program`;
  const [own, other] = [layerOf(file), layerOf(target)];
  if (other < 0) return `imports ${target}, which is in no layer`;
  return other > own ? `imports ${target}, which stands below it in the order of layers` : null;
};
