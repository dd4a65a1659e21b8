import { INVENTORY, type Kept } from "./inventory.ts";
import { type Rewriting, textsLeft, valueWithout } from "./rewrite.ts";
import { columnsOf, type Loose, type Row, rowsWith, textOf, toldIn } from "./rows.ts";
import { holdsAddress, insteadOf, patternsOf } from "./sought.ts";
import { type Visits, visitOf } from "./visitOf.ts";
import type { Meant } from "./who.ts";

/** A row in which the person stands. */
export interface Hit {
  readonly kept: Kept;
  readonly row: Row;
  readonly visit: string | null;
  /** The name by itself counts here. */
  readonly nameCounts: boolean;
  /** It bears the id of his account. */
  readonly byId: boolean;
  /** Columns in which he is named for certain, and so goes by himself. */
  readonly certain: readonly string[];
  /** Texts in which only the name stands, for somebody to look at. */
  readonly texts: readonly string[];
}

/** Visits in which the address stands: there a name that others bear too is his, unless one of them stands there as well. */
const ownVisits = (rows: readonly Candidate[], meant: Meant): ReadonlySet<string> => {
  const patterns = patternsOf(meant.sought);
  return new Set(
    rows.flatMap(({ kept, row, visit }) =>
      visit !== null && toldIn(kept).some(([column]) => holdsAddress(textOf(row, column), patterns)) ? [visit] : [],
    ),
  );
};

interface Candidate {
  readonly kept: Kept;
  readonly row: Row;
  readonly visit: string | null;
}

const countsIn = (visit: string | null, { namesakes }: Meant, own: ReadonlySet<string>): boolean =>
  namesakes.length === 0 || (visit !== null && own.has(visit) && !namesakes.some(({ visits }) => visits.includes(visit)));

const hitOf = (candidate: Candidate, meant: Meant, own: ReadonlySet<string>): Hit | null => {
  const { kept, row, visit } = candidate;
  // His own account is his, whoever else bears the name.
  const nameCounts = (kept.table === "user" && meant.sought.accounts.includes(textOf(row, "id"))) || countsIn(visit, meant, own);
  const rewriting: Rewriting = { patterns: patternsOf(meant.sought), instead: insteadOf("-"), nameCounts, textToo: () => false };
  const told = toldIn(kept).map(([column, holds]) => [column, holds, textOf(row, column)] as const);
  const certain = told.flatMap(([column, holds, text]) => (valueWithout(holds, text, rewriting) === text ? [] : [column]));
  const texts = [...new Set(told.flatMap(([, holds, text]) => textsLeft(holds, text, rewriting)))];
  const byId = columnsOf(kept, (holds) => ["account", "name", "log"].includes(holds)).some(([column]) =>
    meant.sought.accounts.includes(textOf(row, column)),
  );
  return byId || certain.length > 0 || texts.length > 0 ? { ...candidate, nameCounts, byId, certain, texts } : null;
};

/** Every row of the database in which the person stands, table by table. */
export const hitsOf = async (db: Loose, kind: "sqlite" | "postgres", visits: Visits, meant: Meant): Promise<readonly Hit[]> => {
  const rows: Candidate[] = [];
  for (const kept of INVENTORY)
    for (const row of await rowsWith(db, kind, kept, meant.sought)) rows.push({ kept, row, visit: visitOf(kept, row, visits) });
  const own = ownVisits(rows, meant);
  return rows.flatMap((candidate) => {
    const hit = hitOf(candidate, meant, own);
    return hit === null ? [] : [hit];
  });
};
