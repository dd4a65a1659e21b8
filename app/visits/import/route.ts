import { messageOf } from "../../../lib/model/fault.ts";
import type { Office } from "../../../lib/usecases/office.ts";
import { importVisit } from "../../../lib/usecases/visits/importVisit.ts";
import { LARGEST_FILE, said, see, writeOfPerson } from "../../_server/gate.ts";

const MOST_TOLD = 12;

const backTo =
  (office: Office) =>
  (problems: readonly string[]): Response => {
    const told = problems.length > MOST_TOLD ? [...problems.slice(0, MOST_TOLD), `and ${problems.length - MOST_TOLD} more`] : problems;
    return see(`/visits?${said(office, { problem: told.join("\n") })}`);
  };

const textOf = async (file: File): Promise<string | null> => {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
  } catch {
    return null;
  }
};

export const POST = writeOfPerson("POST /visits/import", async ({ office, form, by, log }) => {
  const back = backTo(office);
  const file = form.get("file");
  if (!(file instanceof File) || file.size === 0) return back(["Visit file: given none, or an empty one; wanted a .json file"]);
  if (file.size > LARGEST_FILE) return back([`Visit file: given ${file.size} bytes; wanted at most ${LARGEST_FILE}`]);
  const text = await textOf(file);
  if (text === null) return back(["Visit file: given bytes that are not UTF-8 text; wanted JSON"]);
  const kept = await importVisit({ store: office.store, world: office.world, planner: office.planner }, text, by.who);
  if (!kept.ok) return back(kept.faults.map(messageOf));
  await log("visit loaded", kept.value, file.name.slice(0, 120));
  return see(`/visits/${kept.value}`);
});
