/** Who is looked for in the database. */
export interface Sought {
  /** Ids of accounts. */
  readonly accounts: readonly string[];
  /** E-mail addresses in small letters. */
  readonly emails: readonly string[];
  /** Names, exactly as they stand beside an address or in an account. */
  readonly names: readonly string[];
}

/** What stands in place of a person who was erased. */
export interface Instead {
  readonly name: string;
  readonly email: string;
}

/** What is put in place of a person, by a mark that says nothing of him. */
export const insteadOf = (mark: string): Instead => ({ name: `Erased person ${mark}`, email: `erased-${mark}@erased.invalid` });

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");

const SIGN = "[\\p{L}\\p{N}]";

/** A name as a word of its own, so that “Ann Lee” is not found in “Joann Leeds”. */
const wordOf = (name: string): RegExp => new RegExp(`(?<!${SIGN})${escaped(name)}(?!${SIGN})`, "gu");
/** An address that is no part of a longer one. */
const addressOf = (email: string): RegExp =>
  new RegExp(`(?<![\\p{L}\\p{N}._%+-])${escaped(email)}(?![\\p{L}\\p{N}-]|\\.[\\p{L}\\p{N}])`, "giu");

/** The same person as patterns, made once for many texts. */
export interface Patterns extends Sought {
  readonly words: readonly RegExp[];
  readonly addresses: readonly RegExp[];
}

export const patternsOf = (sought: Sought): Patterns => ({
  ...sought,
  // The longest first, so that of two names of one person the shorter leaves no rest of the longer.
  words: [...sought.names].sort((a, b) => b.length - a.length).map(wordOf),
  addresses: sought.emails.map(addressOf),
});

const holds = (text: string, patterns: readonly RegExp[]): boolean => patterns.some((one) => text.search(one) >= 0);
const replaced = (text: string, patterns: readonly RegExp[], by: string): string =>
  patterns.reduce((done, one) => done.replace(one, () => by), text);

export const holdsAddress = (text: string, { addresses }: Patterns): boolean => holds(text, addresses);
export const holdsName = (text: string, { words }: Patterns): boolean => holds(text, words);
export const withoutAddress = (text: string, { addresses }: Patterns, { email }: Instead): string => replaced(text, addresses, email);
export const withoutName = (text: string, { words }: Patterns, { name }: Instead): string => replaced(text, words, name);
