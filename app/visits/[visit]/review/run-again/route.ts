import { runAgain } from "../../../../../lib/usecases/review/runAgain.ts";
import { said, see, writeOfVisit } from "../../../../_server/gate.ts";

export const POST = writeOfVisit("POST /visits/[visit]/review/run-again", async ({ office, stored, by, log }) => {
  const again = await runAgain(office, stored, by);
  const here = `/visits/${stored.id}/review`;
  if (!again.ok) return see(`${here}?${said(office, { problem: again.faults.join("; ") })}`);
  await log("plan run again", stored.id, office.planner.rulebook.version);
  return see(`${here}?${said(office, { done: `The plan is kept as rulebook ${office.planner.rulebook.version} makes it.` })}`);
});
