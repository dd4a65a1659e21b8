import { BOOK_KINDS, type BookKind } from "../../rulebook/places.ts";
import type { Book } from "./book.ts";
import { type Thing, things } from "./entries.ts";

/** Words around what was found, cut into what is and is not the hit. */
export interface Excerpt {
  readonly before: string;
  readonly hit: string;
  readonly after: string;
}

export interface Hit {
  readonly thing: Thing;
  /** Null where its name says it all. */
  readonly excerpt: Excerpt | null;
}

export interface Found {
  readonly kind: BookKind;
  readonly hits: readonly Hit[];
}

/** Longer than anybody searches for. */
const LONGEST = 100;
const AROUND = 70;

/** Letters as they are compared: small, and every sign that joins words a blank. One letter for one, so that places stay. */
const folded = (text: string): string => {
  const plain = text.replace(/[-–—/’'.,:;()]/g, " ");
  const small = plain.toLowerCase();
  return small.length === plain.length ? small : plain;
};

interface Folded {
  readonly name: string;
  readonly nameOf: string;
  readonly texts: readonly string[];
  readonly all: string;
}

const kept = new WeakMap<Thing, Folded>();

/** A thing's words as they are compared; they are folded once. */
const foldedOf = (thing: Thing): Folded => {
  const known = kept.get(thing);
  if (known !== undefined) return known;
  const [name, nameOf] = [folded(thing.name), folded(`${thing.name} ${thing.of ?? ""}`)];
  const texts = thing.texts.map(folded);
  const made = { name, nameOf, texts, all: [nameOf, ...texts].join("\n") };
  kept.set(thing, made);
  return made;
};

/** What is searched for, in words. */
export const wordsIn = (query: string): readonly string[] => [
  ...new Set(
    folded(query.slice(0, LONGEST))
      .split(/\s+/)
      .filter((word) => word !== ""),
  ),
];

const holds = (text: string, words: readonly string[]): boolean => words.every((word) => text.includes(word));

/** The text cut at blanks, so many letters before and after a hit. */
const excerptOf = (text: string, words: readonly string[]): Excerpt | null => {
  const plain = folded(text);
  const word = words.find((one) => plain.includes(one));
  if (word === undefined) return null;
  const at = plain.indexOf(word);
  const end = at + word.length;
  const from = at <= AROUND ? 0 : text.lastIndexOf(" ", at - AROUND + 10) + 1;
  const blank = text.indexOf(" ", end + AROUND - 10);
  const to = blank < 0 ? text.length : blank;
  return {
    before: `${from > 0 ? "… " : ""}${text.slice(from, at)}`,
    hit: text.slice(at, end),
    after: `${text.slice(end, to)}${to < text.length ? " …" : ""}`,
  };
};

/** How near a thing comes: its name, one of its texts, all of them together; null where it does not hold the words. */
const hitOf = (thing: Thing, words: readonly string[]): (Hit & { readonly rank: number }) | null => {
  const { name, nameOf, texts, all } = foldedOf(thing);
  if (holds(name, words)) return { thing, excerpt: null, rank: 0 };
  if (!holds(all, words)) return null;
  const whole = texts.findIndex((text) => holds(text, words));
  const rest = words.filter((word) => !nameOf.includes(word));
  const text = thing.texts[whole >= 0 ? whole : texts.findIndex((one) => rest.some((word) => one.includes(word)))];
  return { thing, excerpt: text === undefined ? null : excerptOf(text, whole >= 0 ? words : rest), rank: whole >= 0 ? 1 : 2 };
};

/** What holds all of the words, by kind, the nearest first. */
export const search = (book: Book, query: string): readonly Found[] => {
  const words = wordsIn(query);
  if (words.length === 0) return [];
  const hits = things(book).flatMap((thing) => hitOf(thing, words) ?? []);
  return BOOK_KINDS.flatMap((kind) => {
    const own = hits.filter(({ thing }) => thing.kind === kind).toSorted((a, b) => a.rank - b.rank);
    return own.length === 0 ? [] : [{ kind, hits: own }];
  });
};
