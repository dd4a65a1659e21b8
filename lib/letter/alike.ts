/** Something that is asked of one set: its text may begin with the set's name. */
interface OfSet {
  readonly ref: string;
  readonly set: string;
  readonly text: string;
}

/** What is asked of several sets in the same words: once, with all its references and sets. */
export interface Alike {
  readonly refs: readonly string[];
  /** The sets by name; empty where it is about the whole visit. */
  readonly sets: readonly string[];
  readonly text: string;
}

/** The words of something without the set that they begin with. */
export const withoutSet = ({ set, text }: Omit<OfSet, "ref">): string =>
  set !== "" && text.startsWith(`${set}: `) ? text.slice(set.length + 2) : text;

/** Things that read the same of several sets, together in the order in which each comes first; the sets stand before the text. */
export const alikeRows = (items: readonly OfSet[]): readonly Alike[] => {
  const rows = new Map<string, { readonly refs: string[]; readonly sets: string[] }>();
  for (const item of items) {
    const row = rows.get(withoutSet(item)) ?? { refs: [], sets: [] };
    row.refs.push(item.ref);
    if (item.set !== "" && !row.sets.includes(item.set)) row.sets.push(item.set);
    rows.set(withoutSet(item), row);
  }
  return [...rows].map(([text, { refs, sets }]) => ({ refs, sets, text: sets.length === 0 ? text : `${sets.join(", ")}: ${text}` }));
};
