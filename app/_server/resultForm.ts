import { NOTHING_TYPED, RESULT_FIELDS, type TypedResult } from "../../lib/usecases/visits/resultFields.ts";
import type { EnteredResult } from "../../lib/usecases/visits/results.ts";

const FIELD = new RegExp(`^(/[^.]{1,200})\\.(${[...RESULT_FIELDS, "seen", "asked", "sure"].join("|")})$`);
const LONGEST = 1_000;

/** The records of tests as they were sent; one without the version that was seen is none. */
export const resultsIn = (form: FormData): readonly EnteredResult[] => {
  const tests = new Map<string, Record<string, string>>();
  for (const [name, value] of form) {
    const [, at, part] = FIELD.exec(name) ?? [];
    if (at !== undefined && part !== undefined && typeof value === "string")
      tests.set(at, { ...tests.get(at), [part]: value.slice(0, LONGEST) });
  }
  return [...tests].flatMap(([at, { seen = "", asked = "", sure = "", ...typed }]): readonly EnteredResult[] =>
    /^\d{1,9}$/.test(seen)
      ? [{ at, typed: { ...NOTHING_TYPED, ...typed } as TypedResult, seen: Number(seen), asked, sure: sure !== "" }]
      : [],
  );
};

/** Names in a form that belong to no record: a hand-made post. */
export const strangeResults = (form: FormData): readonly string[] =>
  [...form.keys()].filter((name) => !FIELD.test(name) && name !== "token" && name !== "then" && name !== "drop");
