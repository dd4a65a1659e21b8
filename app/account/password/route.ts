import { capital } from "../../../lib/plan/say.ts";
import { said, see, textIn, writeOfPerson } from "../../_server/gate.ts";

export const POST = writeOfPerson("POST /account/password", async ({ form, office, request, log, person }) => {
  const [present, next, again] = ["present", "next", "again"].map((name) => textIn(form, name)) as [string, string, string];
  const back = (problem: string, field: string): Response => see(`/account?${said(office, { problem, field })}`);
  if (next !== again) return back("The two new passwords are not the same", "again");
  const changed = await office.accounts.changePassword(request.headers, present, next, office.clock());
  if (!changed.ok) {
    await log("refused", "password", changed.faults.join("; "));
    const [problem = ""] = changed.faults;
    return back(capital(problem), problem.startsWith("the new") ? "next" : "present");
  }
  await log("password changed", person.id);
  return see(
    `/sign-in?${said(office, { done: "Your password is changed, and every sign-in of yours has ended. Sign in with the new one." })}`,
  );
});
