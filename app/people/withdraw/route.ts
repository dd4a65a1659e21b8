import { said, see, textIn, writeOfPerson } from "../../_server/gate.ts";

const GONE = "This link was used or withdrawn already. What is shown now is as it stands";

export const POST = writeOfPerson("POST /people/withdraw", async ({ office, form, log }) => {
  const role = await office.accounts.withdrawInvitation(textIn(form, "id"));
  if (role === null) return see(`/people?${said(office, { problem: GONE })}#problems`);
  await log("withdrew", role);
  return see(`/people?${said(office, { done: `Withdrawn: the ${role}’s link opens nothing any more.` })}`);
});
