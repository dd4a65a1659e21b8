import { existsSync } from "node:fs";
import { dirname } from "node:path";
import { type Result, success } from "../../kernel/result.ts";
import { isPostgres } from "../../store/copy/carry.ts";
import { isMoved, markAt } from "../../store/moved.ts";
import { bad, type CopyFault } from "./outcome.ts";

/** Whether there is an office to copy at an address, as far as a look at its folder tells; a server is asked when it is opened. */
export const officeIsAt = (address: string): Result<true, CopyFault> => {
  if (isPostgres(address)) return success(true);
  if (!existsSync(address)) return bad("FOREHAIL_DATA", `${dirname(address)}, where no office.db is`, "the data folder of an office");
  if (!isMoved(address)) return success(true);
  return bad(
    "the office",
    `${address}, which was moved`,
    `where it is now, and ${markAt(address)} says what leads there; to go on with the old one, delete that file`,
  );
};
