import { adoptPolicy } from "../../../../lib/usecases/policy/decide.ts";
import { see, textIn, writeOfPerson } from "../../../_server/gate.ts";
import { adoptPage, type KeptAdoption, numberIn } from "../../../_server/policyForm.ts";

const LONGEST = 4_000;

export const POST = writeOfPerson("POST /policy/[number]/adopt", async ({ office, form, params, by, log }) => {
  const number = numberIn(String(params["number"]));
  const [from, reason, replaces] = [textIn(form, "from"), textIn(form, "reason"), form.has("replaces")];
  const adopting = { number, from, reason, replaces, acts: numberIn(textIn(form, "acts")) };
  const adopted = await adoptPolicy({ store: office.store, rulebook: office.planner.rulebook }, adopting, by);
  if (!adopted.ok) {
    const kept: KeptAdoption = {
      from: from.slice(0, LONGEST),
      reason: reason.slice(0, LONGEST),
      replaces,
      dropReason: "",
      faults: [...adopted.faults],
    };
    await office.store.keepTyped(adoptPage(number), JSON.stringify(kept), by);
    return see(`/policy/${Math.max(0, number)}#problems`);
  }
  await office.store.keepTyped(adoptPage(number), null, by);
  await log("policy adopted", `policy ${number}`, `from ${adopted.value}: ${reason.trim()}`);
  return see(`/policy/${number}`);
});
