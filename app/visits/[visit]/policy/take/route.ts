import { policyNow } from "../../../../../lib/usecases/policy/inForce.ts";
import { effectOfPolicy, otherPolicy, takePolicy } from "../../../../../lib/usecases/visits/visitPolicy.ts";
import { said, see, textIn, writeOfVisit } from "../../../../_server/gate.ts";
import { numberIn } from "../../../../_server/policyForm.ts";

export const POST = writeOfVisit("POST /visits/[visit]/policy/take", async ({ office, form, stored, by, log }) => {
  const back = (problem: string): Response => see(`/visits/${stored.id}/policy?${said(office, { problem })}#problems`);
  const inForce = await policyNow(office);
  const changes = otherPolicy(stored, inForce, office.planner.rulebook);
  // Sent twice, or nothing differs any more.
  if (changes.length === 0) return see(`/visits/${stored.id}`);
  if ("waits" in effectOfPolicy(stored, inForce, office.planner))
    return back("Under the office’s policy the visit could not be planned as it stands; what is in the way is told below");
  const seen = { version: numberIn(textIn(form, "version")), policy: numberIn(textIn(form, "policy")) };
  const taken = await takePolicy(office.store, stored, inForce, seen, by);
  if (!taken.ok) return back(`Nothing was taken: ${taken.faults.join("; ")}`);
  await log("office policy taken", stored.id, `policy ${inForce.number}: ${changes.map(({ label }) => label).join("; ")}`.slice(0, 600));
  return see(`/visits/${stored.id}`);
});
