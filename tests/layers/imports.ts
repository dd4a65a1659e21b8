/** What one source file imports, in any form: static, type, re-export, dynamic, require, worker address. */
export interface Import {
  readonly from: string;
  readonly line: number;
}

/** Blanks comments, keeping strings and line numbers, so that words in prose are no imports. */
const withoutComments = (source: string): string =>
  source.replace(
    /("(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`)|\/\*[\s\S]*?\*\/|\/\/[^\n]*/g,
    (whole, text: string | undefined) => (text === undefined ? whole.replace(/[^\n]/g, " ") : whole),
  );

const FORMS: readonly RegExp[] = [
  /\b(?:import|export)\b[^"'`;]*?\bfrom\s*(["'])(.+?)\1/g,
  /\bimport\s*(["'])(.+?)\1/g,
  /\bimport\s*\(\s*(["'`])(.+?)\1/g,
  /\brequire(?:\.resolve)?\s*\(\s*(["'`])(.+?)\1/g,
  /\bnew\s+URL\s*\(\s*(["'`])(.+?)\1\s*,\s*import\.meta\.url/g,
];

export const importsIn = (source: string): readonly Import[] => {
  const plain = withoutComments(source);
  return FORMS.flatMap((form) =>
    [...plain.matchAll(form)].map((match) => ({ from: match[2] ?? "", line: plain.slice(0, match.index).split("\n").length })),
  );
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

const joined = (file: string, relative: string): string => {
  const steps = file.split("/").slice(0, -1);
  for (const step of relative.split("/")) {
    if (step === "..") steps.pop();
    else if (step !== ".") steps.push(step);
  }
  return steps.join("/");
};

/** What is wrong with one import of a file; null where nothing is. Paths are relative to the top of the project. */
export const wrongWith = (file: string, from: string): string | null => {
  if (from.startsWith("/")) return `imports the absolute path ${from}`;
  if (!from.startsWith(".")) return null;
  const target = joined(file, from);
  if (target === "") return null; // the top folder itself, as an address
  if (/^(tests|fixtures|out)\//.test(target)) return `imports ${target}, which is not part of the program`;
  const [own, other] = [layerOf(file), layerOf(target)];
  if (other < 0) return `imports ${target}, which is in no layer`;
  return other > own ? `imports ${target}, which stands below it in the order of layers` : null;
};
