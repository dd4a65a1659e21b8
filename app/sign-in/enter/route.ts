import { capital } from "../../../lib/plan/say.ts";
import { addressOf } from "../../_server/accountForm.ts";
import { ownPath, said, see, textIn, writeOfAnybody } from "../../_server/gate.ts";

export const POST = writeOfAnybody("POST /sign-in/enter", async ({ form, office, request, log }) => {
  const [email, back] = [textIn(form, "email"), ownPath(textIn(form, "back"))];
  const outcome = await office.accounts.signIn(email, textIn(form, "password"), addressOf(request), office.clock());
  if (outcome.ok) {
    const { id } = outcome.value.person;
    await office.store.audit({ who: id, when: office.world.now(), act: "signed in", subject: id, detail: "" });
    return see(back, outcome.value.cookies);
  }
  await log("refused", "sign-in", `${email.slice(0, 120)}: ${outcome.faults.join("; ")}`);
  const problem = outcome.faults.map(capital).join("; ");
  return see(`/sign-in?${new URLSearchParams({ email, back })}&${said(office, { problem })}`);
});
