import type { Holds } from "./inventory.ts";
import { isContactKey, isNameKey, isObject, namedBy } from "./people.ts";
import { holdsAddress, holdsName, type Instead, type Patterns, withoutAddress, withoutName } from "./sought.ts";

/** How a value is rewritten. */
export interface Rewriting {
  readonly patterns: Patterns;
  readonly instead: Instead;
  /** Whether the name by itself is that person, or could be another of the same name. */
  readonly nameCounts: boolean;
  /** Whether a text that somebody wrote loses the name too. */
  readonly textToo: (text: string) => boolean;
}

const isHis = (name: string, { patterns, nameCounts }: Rewriting): boolean => nameCounts && patterns.names.includes(name.trim());

/** A name by itself, or before a comma: “Jon Berg, from the filled form”. */
const nameIn = (text: string, rewriting: Rewriting): string => {
  const { patterns, instead, nameCounts } = rewriting;
  const own = nameCounts ? patterns.names.find((name) => text === name || text.startsWith(`${name}, `)) : undefined;
  return own === undefined ? text : `${instead.name}${text.slice(own.length)}`;
};

const wordsIn = (text: string, { patterns, instead, textToo }: Rewriting): string => {
  const without = withoutAddress(text, patterns, instead);
  return holdsName(without, patterns) && textToo(text) ? withoutName(without, patterns, instead) : without;
};

/** A text within JSON, by the key it stands under. */
const leafIn = (text: string, key: string, rewriting: Rewriting): string => {
  const { patterns, instead, nameCounts } = rewriting;
  // How somebody is reached goes as a whole: a telephone beside the address is his too.
  if (isContactKey(key) && holdsAddress(text, patterns)) return instead.email;
  if (isContactKey(key) && nameCounts && holdsName(text, patterns)) return instead.name;
  if (isNameKey(key)) return wordsIn(nameIn(text, rewriting), rewriting);
  return isHis(text, rewriting) && text.includes(" ") && key !== "role" ? instead.name : wordsIn(text, rewriting);
};

/** Somebody named by an object who is that person: how he is reached goes with his name. */
const personIn = (value: Readonly<Record<string, unknown>>, { patterns, instead }: Rewriting): unknown =>
  Object.fromEntries(
    Object.entries(value).flatMap(([key, one]) => {
      if (typeof one !== "string") return [[key, one]];
      if (/(^|\.)name$/.test(key)) return [[key, instead.name]];
      if (/(^|\.)contact$/.test(key)) return [];
      if (isContactKey(key)) return [[key, instead.email]];
      return [[key, withoutName(withoutAddress(one, patterns, instead), patterns, instead)]];
    }),
  );

/** A JSON value without the person. */
export const jsonWithout = (value: unknown, rewriting: Rewriting, key = ""): unknown => {
  if (typeof value === "string") return leafIn(value, key, rewriting);
  if (Array.isArray(value)) return value.map((one) => jsonWithout(one, rewriting, key));
  if (!isObject(value)) return value;
  const named = namedBy(value, key);
  // An address that is not his makes him another of the same name.
  const his =
    named !== null && (holdsAddress(named.contact, rewriting.patterns) || (isHis(named.name, rewriting) && !named.contact.includes("@")));
  if (his) return personIn(value, rewriting);
  const other = named?.contact.includes("@") === true && rewriting.patterns.names.includes(named.name);
  const inner = other ? { ...rewriting, nameCounts: false, textToo: () => false } : rewriting;
  return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, jsonWithout(one, inner, name)]));
};

const parsed = (text: string): { readonly value: unknown } | null => {
  try {
    return { value: JSON.parse(text) };
  } catch {
    return null;
  }
};

/** The value of a column without the person; the same text where it does not name him. */
export const valueWithout = (holds: Holds, text: string, rewriting: Rewriting): string => {
  const { patterns, instead, nameCounts } = rewriting;
  if (holds === "json") {
    const json = parsed(text);
    if (json === null) return wordsIn(text, rewriting);
    const before = JSON.stringify(json.value);
    const after = JSON.stringify(jsonWithout(json.value, rewriting));
    return before === after ? text : after;
  }
  if (holds === "name") return wordsIn(nameIn(text, rewriting), rewriting);
  if (holds === "address") return withoutAddress(text, patterns, instead);
  if (holds === "words") return wordsIn(text, rewriting);
  if (holds !== "log") return text;
  const without = withoutAddress(text, patterns, instead);
  return nameCounts ? withoutName(without, patterns, instead) : wordsIn(without, rewriting);
};

/** The texts within a column that still hold the name once it was rewritten. */
export const textsLeft = (holds: Holds, text: string, rewriting: Rewriting): readonly string[] => {
  const left: string[] = [];
  valueWithout(holds, text, {
    ...rewriting,
    textToo: (one) => {
      left.push(one);
      return false;
    },
  });
  return left;
};
