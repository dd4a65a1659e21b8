import type { Field } from "../../lib/usecases/visits/saveStep.ts";

const FIELD = /^(\/[^.]{1,200})\.(text|unit|notKnown|sure|seen)$/;
const LONGEST = 4_000;

/** The questions of a page as they were sent; one without a seen version is refused by giving none. */
export const fieldsIn = (form: FormData): readonly Field[] => {
  const fields = new Map<string, Record<string, string>>();
  for (const [name, value] of form) {
    const [, at, part] = FIELD.exec(name) ?? [];
    if (at === undefined || part === undefined || typeof value !== "string") continue;
    fields.set(at, { ...fields.get(at), [part]: value.slice(0, LONGEST) });
  }
  return [...fields].flatMap(([at, { text = "", unit, notKnown, sure, seen }]): readonly Field[] =>
    seen === undefined || !/^\d{1,9}$/.test(seen)
      ? []
      : [
          {
            at,
            text,
            ...(unit === undefined ? {} : { unit }),
            notKnown: notKnown !== undefined,
            sure: sure !== undefined,
            seen: Number(seen),
          },
        ],
  );
};

/** Names in a form that are no field of it, and fields sent without the version that was seen: a hand-made post. */
export const strangeIn = (form: FormData, known: readonly string[]): readonly string[] => {
  const seen = new Set([...form].flatMap(([name, value]) => (typeof value === "string" && /^\d{1,9}$/.test(value) ? [name] : [])));
  return [...form.keys()].filter((name) => {
    const [, at] = FIELD.exec(name) ?? [];
    return at === undefined ? !known.includes(name) : !seen.has(`${at}.seen`);
  });
};
