import { linkIdOf, linkName } from "../../../lib/access/invitation.ts";
import { capital } from "../../../lib/plan/say.ts";
import { SHOWN_AGAIN } from "../../_server/accountForm.ts";
import { said, see, textIn, writeOfAnybody } from "../../_server/gate.ts";

const DONE = "Your password is set, and every sign-in of yours from before has ended. Sign in with the new one.";

export const POST = writeOfAnybody("POST /join/password", async ({ form, office, log, request }) => {
  const code = textIn(form, "code").trim();
  // As it was typed: it is never trimmed where he signs in.
  const set = await office.accounts.setPassword(code, textIn(form, "password"), office.clock());
  if (!set.ok) {
    const [problem = ""] = set.faults;
    await log("refused", "password", problem);
    return see(`/join?${new URLSearchParams({ code: code.slice(0, SHOWN_AGAIN) })}&${said(office, { problem: capital(problem) })}`);
  }
  await log("password set", set.value.id, `by ${linkName(linkIdOf(code))}`);
  // Whoever else is signed in with this browser: the next page must ask who comes.
  return see(`/sign-in?${said(office, { done: DONE })}`, await office.accounts.signOut(request.headers, false));
});
