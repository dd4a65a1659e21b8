import { tickOf } from "../../store/privacy/erase.ts";
import type { Hit } from "../../store/privacy/hits.ts";
import type { FileBeside, FoundPerson } from "../../store/privacy/privacy.ts";

/** A text in which only the name stands, for somebody to look at. */
export interface TextView {
  readonly tick: string;
  readonly text: string;
  /** What the places are called in which it stands, and of which visits they are. */
  readonly places: readonly string[];
  readonly visits: readonly string[];
  /** Whether it may speak of another of the same name. */
  readonly perhapsAnother: boolean;
}

/** Where a person stands, as the page of him tells it. */
export interface PersonView {
  readonly names: readonly string[];
  readonly emails: readonly string[];
  readonly accounts: readonly string[];
  readonly places: readonly { readonly place: string; readonly rows: number }[];
  readonly visits: readonly string[];
  readonly texts: readonly TextView[];
  readonly letters: number;
  readonly files: readonly FileBeside[];
  readonly namesakes: readonly { readonly name: string; readonly email: string }[];
}

const isHis = ({ byId, certain }: Hit): boolean => byId || certain.length > 0;

const unique = <Item>(all: readonly Item[]): readonly Item[] => [...new Set(all)];

const textsOf = (hits: readonly Hit[]): readonly TextView[] => {
  const of = new Map<string, { readonly text: string; readonly where: Hit[] }>();
  for (const hit of hits)
    for (const text of hit.texts) {
      const tick = tickOf(text, hit.nameCounts);
      of.set(tick, { text, where: [...(of.get(tick)?.where ?? []), hit] });
    }
  return [...of].map(([tick, { text, where }]) => ({
    tick,
    text,
    places: unique(where.map(({ kept }) => kept.called)),
    visits: unique(where.flatMap(({ visit }) => visit ?? [])),
    perhapsAnother: where.some(({ nameCounts }) => !nameCounts),
  }));
};

export const personView = ({ sought, hits, namesakes, letters, files }: FoundPerson): PersonView => {
  const own = hits.filter(isHis);
  return {
    ...sought,
    places: unique(own.map(({ kept }) => kept)).map((kept) => ({
      place: kept.called,
      rows: own.filter((hit) => hit.kept === kept).length,
    })),
    visits: unique(own.flatMap(({ visit, certain }) => (visit === null || certain.length === 0 ? [] : [visit]))),
    texts: textsOf(hits),
    letters: letters.length,
    files,
    namesakes: namesakes.map(({ name, email }) => ({ name, email })),
  };
};
