import { type FactSpec, resolve } from "./fact.ts";

/** One fact at one place of a visit. */
export interface Place {
  readonly spec: FactSpec;
  /** Its pointer, and the steps that it is made of. */
  readonly at: string;
  readonly steps: readonly string[];
  /** The first set it belongs to; -1 where there are no sets. */
  readonly set: number;
}

/** What stands at a pointer of a visit, by its template; undefined where that is no fact. */
export const specsBy = (facts: readonly FactSpec[]): ((at: string) => FactSpec | undefined) => {
  const specs = new Map(facts.map((spec) => [spec.at, spec]));
  return (at) => specs.get(at.replace(/^\/sets\/\d+\//, "/sets/*/").replace(/^\/support\/sisters\/[A-Z]\//, "/support/sisters/*/"));
};

/** The sets of a visit, each by the letter of its group of sister sets. */
export type Sisters = readonly { readonly sisters: string }[];

/** So many different groupings of sets are kept in mind; more than one office meets in a day. */
const MOST_KEPT = 200;

/** A rulebook's facts are the same list for as long as it lives, and many visits have their sets grouped alike. */
const kept = new WeakMap<readonly FactSpec[], Map<string, readonly Place[]>>();

const placesOver = (facts: readonly FactSpec[], sets: Sisters): readonly Place[] => {
  const places = new Map<string, Place>();
  for (const spec of facts) {
    for (const [set, { sisters }] of sets.entries()) {
      const at = resolve(spec.at, set, sisters);
      if (!places.has(at)) places.set(at, { spec, at, steps: at.slice(1).split("/"), set });
    }
  }
  return [...places.values()];
};

/** Every fact at every place of a visit with these sets, in the facts' order, each pointer once. */
export const placesIn = (facts: readonly FactSpec[], sets: Sisters): readonly Place[] => {
  const grouped = kept.get(facts) ?? new Map<string, readonly Place[]>();
  kept.set(facts, grouped);
  const key = sets.map(({ sisters }) => sisters).join("|");
  const known = grouped.get(key);
  if (known !== undefined) return known;
  if (grouped.size >= MOST_KEPT) grouped.clear();
  const places = placesOver(facts, sets);
  grouped.set(key, places);
  return places;
};
