import { failedBy, failure, type Result, success } from "../kernel/result.ts";
import { duplicateKeys } from "../model/duplicateKeys.ts";
import { type Fault, pointer } from "../model/fault.ts";

/** No file of ours nests anywhere near this deep; what does is not one and could exhaust the reader. */
const DEEPEST = 40;
/** No list or object of a file of ours has more entries: references, the longest list, has as many at most. */
const MOST_ENTRIES = 5_000;
/** Nor are there more in a whole file: sixty sets with every fact in a unit of its own, all lists full, have fewer. */
const MOST_VALUES = 100_000;

const endOfText = (text: string, start: number): number => {
  let at = start + 1;
  while (at < text.length && text[at] !== '"') at += text[at] === "\\" ? 2 : 1;
  return at;
};

/** How a JSON text is larger than any file of ours, told before anything is made of it; null where it is not. Once through, whatever the text is. */
const sizeFault = (text: string, called: string): Fault | null => {
  const over = (given: string, most: string): Fault => ({ at: "", given, wanted: `${called}, which ${most}` });
  const entries: number[] = [];
  let values = 1;
  for (let at = 0; at < text.length; at += 1) {
    const sign = text[at];
    if (sign === '"') at = endOfText(text, at);
    else if (sign === "[" || sign === "{") entries.push(1);
    else if (sign === "]" || sign === "}") entries.pop();
    if (sign !== "," && sign !== "[" && sign !== "{") continue;
    values += 1;
    const level = entries.length - 1;
    if (sign === ",") entries[level] = (entries[level] ?? 0) + 1;
    if (entries.length > DEEPEST) return over("JSON nested too deep", `nests at most ${DEEPEST} deep`);
    if ((entries[level] ?? 0) > MOST_ENTRIES)
      return over(`a list or an object of more than ${MOST_ENTRIES} entries`, `has at most ${MOST_ENTRIES} in any`);
    if (values > MOST_VALUES) return over(`more than ${MOST_VALUES} values`, "has fewer");
  }
  return null;
};

const twiceIn = (text: string): readonly Fault[] =>
  [...new Set(duplicateKeys(text).map(pointer))].map((at) => ({
    at,
    given: "twice in the same object",
    wanted: "each field once, since only one of them could count",
  }));

/** Parses the JSON of a file of ours, called "a visit file" or the like; a fault tells where it breaks. Takes as long as the text is long. */
export const parseJson = (text: string, called: string): Result<unknown, Fault> => {
  const large = sizeFault(text, called);
  if (large !== null) return failure(large);
  try {
    const document: unknown = JSON.parse(text.replace(/^\ufeff/, ""));
    const twice = twiceIn(text);
    return twice.length === 0 ? success(document) : failedBy(twice);
  } catch (error) {
    const why = error instanceof Error ? error.message : "it cannot be read";
    return failure({ at: "", given: "text that is not JSON", wanted: `${called} in JSON: ${why.replace(/\s+/g, " ").slice(0, 160)}` });
  }
};
