import { linkName } from "../../../lib/access/invitation.ts";
import { said, see, textIn, writeOfPerson } from "../../_server/gate.ts";

const GONE = "This link was used or withdrawn already. What is shown now is as it stands";

export const POST = writeOfPerson("POST /people/withdraw", async ({ office, form, log }) => {
  const id = textIn(form, "id");
  const gone = await office.accounts.withdrawInvitation(id);
  if (gone === null) return see(`/people?${said(office, { problem: GONE })}#problems`);
  await log("withdrew", linkName(id), gone.forPerson === null ? gone.role : `password of ${gone.forPerson}`);
  return see(`/people?${said(office, { done: `Withdrawn: ${linkName(id)} opens nothing any more.` })}`);
});
