import { existsSync } from "node:fs";
import { dirname } from "node:path";
import { type Result, success } from "../../kernel/result.ts";
import { carry, endAt, isPostgres } from "../../store/copy/carry.ts";
import { type Counted, countAll, differing } from "../../store/copy/digest.ts";
import { bad, type CopyFault, failed, shown, stopping } from "./outcome.ts";
import { filled, seenAt } from "./restore.ts";
import { known } from "./tables.ts";
import { openTarget } from "./target.ts";

export interface MoveAsked {
  readonly from: string;
  readonly to: string;
}

export interface MoveDone {
  readonly from: readonly Counted[];
  readonly to: readonly Counted[];
}

const countedAt = async (address: string): Promise<readonly Counted[]> => {
  const end = await endAt(address, "read");
  try {
    return await countAll(end);
  } finally {
    await end.close();
  }
};

const moved = async ({ from, to }: MoveAsked): Promise<Result<MoveDone, CopyFault>> => {
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
    return carried.ok ? success({ from: carried.value, to: await seenAt(to, carried.value) }) : carried;
  } finally {
    await source.close();
  }
};

/** Carries an office to an empty database, whole or not at all, and proves that nothing was left behind. The office itself stays as it is. */
export const move = (asked: MoveAsked): Promise<Result<MoveDone, CopyFault>> =>
  stopping("nothing was moved", async () => {
    if (!isPostgres(asked.from) && !existsSync(asked.from))
      return bad("FOREHAIL_DATA", `${dirname(asked.from)}, where no office.db is`, "the data folder of an office");
    return moved(asked);
  });
