import type { Hit } from "./hits.ts";
import type { Holds } from "./inventory.ts";
import { isObject, namedBy, withoutOthers } from "./people.ts";
import { type Row, textOf } from "./rows.ts";
import { holdsAddress, holdsName, type Patterns, patternsOf, type Sought } from "./sought.ts";

/** What a place within JSON says of the person. */
interface Told {
  readonly at: string;
  readonly value: unknown;
}

export interface ExportedRow {
  /** The row, by its key. */
  readonly row: Row;
  readonly told: Row;
}

export interface ExportedPlace {
  readonly place: string;
  readonly table: string;
  readonly why: string;
  readonly howLong: string;
  readonly rows: readonly ExportedRow[];
}

const escapedKey = (key: string): string => key.replaceAll("~", "~0").replaceAll("/", "~1");

/** Within JSON: the person with all that stands beside his name, and every text that names him; nothing of the others. */
const toldIn = (value: unknown, patterns: Patterns, at = "", key = ""): readonly Told[] => {
  if (typeof value === "string")
    return holdsAddress(value, patterns) || holdsName(value, patterns) ? [{ at, value: withoutOthers(value, patterns.emails) }] : [];
  if (Array.isArray(value)) return value.flatMap((one, place) => toldIn(one, patterns, `${at}/${place}`));
  if (!isObject(value)) return [];
  const named = namedBy(value, key);
  if (named !== null && (holdsAddress(named.contact, patterns) || patterns.names.includes(named.name))) return [{ at, value }];
  return Object.entries(value).flatMap(([name, one]) => toldIn(one, patterns, `${at}/${escapedKey(name)}`, name));
};

const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return text;
  }
};

/** A key that opens a door is told to nobody: what was made of it is told in its place. */
const HIDDEN = "not given: it opens a door";

const keyOf = ({ kept, row }: Hit): Row =>
  Object.fromEntries(kept.key.map((column) => [column, kept.columns[column] === "secret" ? HIDDEN : row[column]]));

const plainOf = (value: unknown): unknown => (value instanceof Date ? value.toISOString() : value);

/** Whether the person wrote the row: then what he wrote is his. */
const isAuthor = ({ row }: Hit, { accounts }: Sought, patterns: Patterns): boolean =>
  ["who", "confirmed_by"].some((column) => accounts.includes(textOf(row, column)) || holdsName(textOf(row, column), patterns));

/** What of a column is given; undefined where nothing of it is his. */
const givenOf = (hit: Hit, column: string, holds: Holds, sought: Sought, patterns: Patterns): unknown => {
  const value = hit.row[column];
  const text = textOf(hit.row, column);
  if (value === null || value === undefined || value === "") return undefined;
  const names = holdsAddress(text, patterns) || holdsName(text, patterns);
  const author = isAuthor(hit, sought, patterns);
  switch (holds) {
    case "nothing":
      return plainOf(value);
    case "account":
      return sought.accounts.includes(text) ? text : undefined;
    case "name":
      return names || sought.accounts.includes(text) ? text : undefined;
    case "address":
      return names ? text : undefined;
    case "words":
    case "log":
      return names || author || sought.accounts.includes(text) || hit.byId ? withoutOthers(text, patterns.emails) : undefined;
    case "network":
      return text;
    case "json": {
      if (author && hit.kept.own?.includes(column) === true) return parsed(text);
      const told = toldIn(parsed(text), patterns);
      return told.length === 0 ? undefined : told;
    }
    default:
      return undefined;
  }
};

const rowOf = (hit: Hit, sought: Sought, patterns: Patterns): ExportedRow => ({
  row: keyOf(hit),
  told: Object.fromEntries(
    Object.entries(hit.kept.columns).flatMap(([column, holds]) => {
      const given = hit.kept.key.includes(column) ? undefined : givenOf(hit, column, holds, sought, patterns);
      return given === undefined ? [] : [[column, given]];
    }),
  ),
});

/** Everything that is kept about a person, place by place. */
export const placesOf = (all: readonly Hit[], sought: Sought): readonly ExportedPlace[] => {
  const patterns = patternsOf(sought);
  const byAddress = patternsOf({ ...sought, names: [] });
  // What could be another of the same name is told to nobody.
  const hits = all.filter(({ byId, certain, nameCounts }) => byId || certain.length > 0 || nameCounts);
  return [...new Set(hits.map(({ kept }) => kept))].map((kept) => ({
    place: kept.called,
    table: kept.table,
    why: kept.why,
    howLong: kept.howLong,
    rows: hits.filter((hit) => hit.kept === kept).map((hit) => rowOf(hit, sought, hit.nameCounts ? patterns : byAddress)),
  }));
};
