import { saveParticulars, textsOf } from "../../../../../lib/usecases/visits/particulars.ts";
import { said, see, writeOfVisit } from "../../../../_server/gate.ts";

const AT = "/preparedOn";

/** Counts the lead times and the day to reply by from today. */
export const POST = writeOfVisit("POST /visits/[visit]/letter/today", async ({ office, stored, by, log }) => {
  const [today, was] = [by.when.slice(0, 10), textsOf(stored.frame as object)[AT] ?? ""];
  const typed = { texts: { [AT]: today }, was: { [AT]: was } };
  const saved = await saveParticulars({ store: office.store, rulebook: office.planner.rulebook }, stored, typed, by);
  const back = (message: Parameters<typeof said>[1]): Response => see(`/visits/${stored.id}/letter?${said(office, message)}#send`);
  if (!saved.ok) return back({ problem: saved.faults.map(({ says }) => says).join("\n") });
  if (saved.value.outcome === "meanwhile") return back({ problem: "Somebody else changed the visit meanwhile; look at it again" });
  await log("planned from today", stored.id, `before: ${was}`);
  return back({ done: `The letter counts from today now. Before it was ${was}; “Planned from” in the particulars sets it back.` });
});
