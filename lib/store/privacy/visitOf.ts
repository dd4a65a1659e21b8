import type { Kept } from "./inventory.ts";
import { type Loose, type Row, textOf } from "./rows.ts";

/** Which visits there are, and of which each letter is. */
export interface Visits {
  readonly ids: ReadonlySet<string>;
  readonly bySent: ReadonlyMap<string, { readonly visit: string; readonly at: string; readonly made: string }>;
}

export const visitsIn = async (db: Loose): Promise<Visits> => {
  const [visits, letters] = await Promise.all([
    db.selectFrom("visit").select("id").execute(),
    db.selectFrom("sent").select(["id", "visit", "sent_at", "made"]).execute(),
  ]);
  return {
    ids: new Set(visits.map((row) => textOf(row, "id"))),
    bySent: new Map(
      letters.map((row) => [textOf(row, "id"), { visit: textOf(row, "visit"), at: textOf(row, "sent_at"), made: textOf(row, "made") }]),
    ),
  };
};

/** The visit that a row is of; null where it is of none, or of one that is no more. */
export const visitOf = ({ of }: Kept, row: Row, { ids, bySent }: Visits): string | null => {
  if (of === undefined) return null;
  const value = textOf(row, of.column);
  // Pages of a visit are called by its id and a space.
  const visit = of.over === "sent" ? bySent.get(value)?.visit : of.over === "page" ? value.split(" ", 1)[0] : value;
  return visit !== undefined && ids.has(visit) ? visit : null;
};
