import { dropPolicy } from "../../../../lib/usecases/policy/decide.ts";
import { see, textIn, writeOfPerson } from "../../../_server/gate.ts";
import { adoptPage, type KeptAdoption, numberIn } from "../../../_server/policyForm.ts";

const LONGEST = 4_000;

export const POST = writeOfPerson("POST /policy/[number]/drop", async ({ office, form, params, by, log }) => {
  const number = numberIn(String(params["number"]));
  const reason = textIn(form, "reason");
  const dropped = await dropPolicy(office, { number, reason, acts: numberIn(textIn(form, "acts")) }, by);
  if (!dropped.ok) {
    const kept: KeptAdoption = { from: "", reason: "", replaces: false, dropReason: reason.slice(0, LONGEST), faults: [...dropped.faults] };
    await office.store.keepTyped(adoptPage(number), JSON.stringify(kept), by);
    return see(`/policy/${Math.max(0, number)}#problems`);
  }
  await office.store.keepTyped(adoptPage(number), null, by);
  await log("policy dropped", `policy ${number}`, reason.trim());
  return see("/policy");
});
