import { dirname } from "node:path";
import { type Result, success } from "../../kernel/result.ts";
import { carry, endAt, isPostgres } from "../../store/copy/carry.ts";
import { type Counted, countAll, differing } from "../../store/copy/digest.ts";
import { isOpenElsewhere } from "../../store/copy/sqliteEnd.ts";
import { markMoved } from "../../store/moved.ts";
import { bad, type CopyFault, failed, shown, stopping, wordsOf } from "./outcome.ts";
import { filled, seenAt } from "./restore.ts";
import { officeIsAt } from "./source.ts";
import { known } from "./tables.ts";
import { openTarget } from "./target.ts";

export interface MoveAsked {
  readonly from: string;
  readonly to: string;
}

export interface MoveDone {
  readonly from: readonly Counted[];
  readonly to: readonly Counted[];
  /** Why the old office could not be marked as moved; null where it was, or where a server holds it, which has no such mark. */
  readonly unmarked: string | null;
}

const countedAt = async (address: string): Promise<readonly Counted[]> => {
  const end = await endAt(address, "read");
  try {
    return await countAll(end);
  } finally {
    await end.close();
  }
};

const moved = async ({ from, to }: MoveAsked): Promise<Result<Omit<MoveDone, "unmarked">, CopyFault>> => {
  const source = await endAt(from, "read");
  try {
    if (source.migrations.join() !== (await known()).join())
      return bad(
        "the office",
        `${shown(from)}, whose tables are not those of this program`,
        "an office that this program has started once, or its backup restored",
      );
    const target = await openTarget(to);
    if (!target.ok) return target;
    const carried = await filled(target.value, async () => {
      const counts = await carry(source, target.value.end);
      // Looked at anew: what was written after the first look would be left behind.
      const late = differing(counts, await countedAt(from));
      if (late.length === 0) return success(counts);
      return failed(`nothing was moved: the office was written to meanwhile (${late.join(", ")}); stop its server and move again`);
    });
    if (!carried.ok) return carried;
    const seen = await seenAt(to, carried.value);
    return seen.ok ? success({ from: carried.value, to: seen.value }) : seen;
  } finally {
    await source.close();
  }
};

const unmarkedBecause = async ({ from, to }: MoveAsked): Promise<string | null> => {
  if (isPostgres(from)) return null;
  try {
    const how = isPostgres(to)
      ? "Give that address, with its password, as DATABASE_URL."
      : `Give its folder as FOREHAIL_DATA: ${dirname(to)}`;
    await markMoved(from, shown(to), how);
    return null;
  } catch (error) {
    return wordsOf(error);
  }
};

/**
 * Carries an office to an empty database, whole or not at all, and proves that nothing was left behind. The office itself stays as it is; a file beside an
 * embedded one says that it was moved.
 */
export const move = (asked: MoveAsked): Promise<Result<MoveDone, CopyFault>> =>
  stopping("nothing was moved", async () => {
    const there = officeIsAt(asked.from);
    if (!there.ok) return there;
    if (!isPostgres(asked.from) && isOpenElsewhere(asked.from))
      return bad("the office", `${asked.from}, which another program has open`, "one whose server is stopped");
    const done = await moved(asked);
    return done.ok ? success({ ...done.value, unmarked: await unmarkedBecause(asked) }) : done;
  });
