/** One thing wrong with a file: where (JSON pointer), what was given, what is wanted. */
export interface Fault {
  readonly at: string;
  readonly given: string;
  readonly wanted: string;
}

const LONGEST = 80;

/** How a value is quoted in a message: short, on one line, nothing hidden. */
export const quoted = (value: unknown): string => {
  if (value === undefined) return "nothing";
  const shown = typeof value === "string" ? JSON.stringify(value) : (JSON.stringify(value) ?? String(value));
  const plain = shown.replace(/[\p{Cc}\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]/gu, "?");
  return plain.length > LONGEST ? `${plain.slice(0, LONGEST)}…` : plain;
};

/** How what somebody wrote is quoted to people: in the marks of a printed text, short, on one line, nothing hidden. */
export const quotedWords = (text: string): string => {
  const plain = text.replace(/[\p{Cc}\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]/gu, "?");
  return `“${plain.length > LONGEST ? `${plain.slice(0, LONGEST)}…` : plain}”`;
};

/** "/sets/0/plate/ratedSpeed" as a reader says it: "sets[0].plate.ratedSpeed". */
export const dotted = (at: string): string =>
  at === ""
    ? "the file"
    : at
        .slice(1)
        .split("/")
        .map((step) => step.replaceAll("~1", "/").replaceAll("~0", "~"))
        .reduce((path, step) => (/^\d+$/.test(step) ? `${path}[${step}]` : path === "" ? step : `${path}.${step}`), "");

export const messageOf = ({ at, given, wanted }: Fault): string => `${dotted(at)}: given ${given}; wanted ${wanted}`;

export const pointer = (path: readonly PropertyKey[]): string =>
  path.map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");

/** The value that the steps of a JSON pointer lead to; undefined where there is none. */
export const valueAlong = (document: unknown, steps: readonly string[]): unknown => {
  let here: unknown = document;
  for (const step of steps) {
    if (typeof here !== "object" || here === null || !Object.hasOwn(here, step)) return undefined;
    here = (here as Readonly<Record<string, unknown>>)[step];
  }
  return here;
};

/** The value a JSON pointer leads to; undefined where there is none. */
export const valueAt = (document: unknown, at: string): unknown => valueAlong(document, at === "" ? [] : at.slice(1).split("/"));
