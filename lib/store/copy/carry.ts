import { type Counted, countAll, counting, differing } from "./digest.ts";
import { CopyStopped, type End, type WritableEnd } from "./end.ts";
import { postgresEnd } from "./postgresEnd.ts";
import { sqliteEnd } from "./sqliteEnd.ts";
import { type Table, unlike } from "./table.ts";

export const isPostgres = (address: string): boolean => /^postgres(ql)?:\/\//.test(address);

/** Opens the database at an address at one moment. Throws where it cannot be read. */
export const endAt = async (address: string, use: "read" | "write"): Promise<WritableEnd> =>
  isPostgres(address) ? postgresEnd(address, use) : sqliteEnd(address, use);

const carryTable = async (from: End, to: WritableEnd, table: Table, target: Table): Promise<Counted> => {
  const counted = counting(table);
  // What the migrations put there themselves stands in the source too, as it is now.
  for await (const there of to.rows(target))
    if (there.length > 0) {
      await to.empty(target);
      break;
    }
  for await (const rows of from.rows(table)) {
    counted.add(rows);
    await to.write(target, rows);
  }
  await to.countOn(target);
  return counted.end();
};

/**
 * Carries every row from one end to the other, whose tables must be there and alike, and proves it by reading the target again: count and digest of
 * each table. Nothing is committed. Throws where the ends do not fit, or a row cannot be carried.
 */
export const carry = async (from: End, to: WritableEnd): Promise<readonly Counted[]> => {
  const other = unlike(from.tables, to.tables);
  if (other.length > 0) throw new CopyStopped(`the tables ${other.join(", ")} are not the same at both ends`);
  const targets = new Map(to.tables.map((table) => [table.name, table]));
  const carried: Counted[] = [];
  for (const table of from.tables) {
    try {
      carried.push(await carryTable(from, to, table, targets.get(table.name) ?? table));
    } catch (error) {
      throw new CopyStopped(`${table.name}: ${error instanceof Error ? error.message : "its rows cannot be carried"}`);
    }
  }
  const wrong = differing(carried, await countAll(to));
  if (wrong.length > 0) throw new CopyStopped(`${wrong.join(", ")}: what arrived is not what was sent`);
  return carried;
};
