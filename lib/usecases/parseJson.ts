import { failure, type Result, success } from "../kernel/result.ts";
import { duplicateKeys } from "../model/duplicateKeys.ts";
import { type Fault, pointer } from "../model/fault.ts";

/** No file of ours nests anywhere near this deep; what does is not one and could exhaust the reader. */
const DEEPEST = 40;

const depthOf = (text: string): number => {
  let depth = 0;
  let deepest = 0;
  for (const [token] of text.matchAll(/"(?:[^"\\]|\\.)*"|[[\]{}]/gs)) {
    if (token === "[" || token === "{") depth += 1;
    else if (token === "]" || token === "}") depth -= 1;
    deepest = Math.max(deepest, depth);
  }
  return deepest;
};

/** Parses the JSON of a file of ours, called "a visit file" or the like; a fault tells where it breaks. */
export const parseJson = (text: string, called: string): Result<unknown, Fault> => {
  if (depthOf(text) > DEEPEST)
    return failure({ at: "", given: "JSON nested too deep", wanted: `${called}, which nests at most ${DEEPEST} deep` });
  try {
    const document: unknown = JSON.parse(text.replace(/^\ufeff/, ""));
    const twice = [...new Set(duplicateKeys(text).map(pointer))];
    return twice.length === 0
      ? success(document)
      : failure(
          ...twice.map(
            (at): Fault => ({ at, given: "twice in the same object", wanted: "each field once, since only one of them could count" }),
          ),
        );
  } catch (error) {
    const why = error instanceof Error ? error.message : "it cannot be read";
    return failure({ at: "", given: "text that is not JSON", wanted: `${called} in JSON: ${why.replace(/\s+/g, " ").slice(0, 160)}` });
  }
};
