import { longDate } from "../../../../lib/plan/longDate.ts";
import { adoptPolicy } from "../../../../lib/usecases/policy/decide.ts";
import { policyVersion } from "../../../../lib/usecases/policy/inForce.ts";
import { said, see, textIn, type Writing, writeOfPerson } from "../../../_server/gate.ts";
import { adoptPage, type KeptAdoption, numberIn } from "../../../_server/policyForm.ts";

const LONGEST = 4_000;

const keep = ({ office, form, params }: Writing, who: string, faults: KeptAdoption["faults"]): Promise<void> => {
  const kept: KeptAdoption = {
    from: textIn(form, "from").slice(0, LONGEST),
    reason: textIn(form, "reason").slice(0, LONGEST),
    replaces: form.has("replaces"),
    dropReason: "",
    faults,
  };
  const page = adoptPage(numberIn(String(params["number"])));
  return office.store.keepTyped(page, JSON.stringify(kept), { who, when: office.world.now() });
};

export const POST = writeOfPerson(
  "POST /policy/[number]/adopt",
  async (writing) => {
    const { office, form, params, by, log } = writing;
    const number = numberIn(String(params["number"]));
    const [from, reason, replaces] = [textIn(form, "from"), textIn(form, "reason"), form.has("replaces")];
    const adopting = { number, from, reason, replaces, acts: numberIn(textIn(form, "acts")) };
    const adopted = await adoptPolicy({ store: office.store, rulebook: office.planner.rulebook }, adopting, by);
    if (!adopted.ok) {
      await keep(writing, by.who, [...adopted.faults]);
      const here = `/policy/${Math.max(0, number)}`;
      // Where somebody else decided meanwhile there is no form left to show it at.
      if ((await policyVersion(office.store, number))?.decided !== null)
        return see(`${here}?${said(office, { problem: adopted.faults.map(({ says }) => says).join("; ") })}#problems`);
      return see(`${here}#problems`);
    }
    await office.store.keepTyped(adoptPage(number), null, by);
    await log("policy adopted", `policy ${number}`, `from ${adopted.value}: ${reason.trim()}`);
    return see(`/policy/${number}?${said(office, { done: `Adopted: it takes effect on ${longDate(adopted.value)}.` })}`);
  },
  (writing, person) => keep(writing, person, []),
);
