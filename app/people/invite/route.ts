import { linkIdOf, linkName } from "../../../lib/access/invitation.ts";
import { isRole } from "../../../lib/access/roles.ts";
import { putOnce } from "../../../lib/usecases/toldOnce.ts";
import { see, textIn, writeOfPerson } from "../../_server/gate.ts";

export const POST = writeOfPerson("POST /people/invite", async ({ office, form, person, log }) => {
  const role = textIn(form, "role");
  if (!isRole(role)) return new Response(`role: given "${role.slice(0, 40)}"; wanted inspector or supervisor\n`, { status: 400 });
  const code = await office.accounts.invite(role, person.id, office.clock());
  await log("invited", linkName(linkIdOf(code)), role);
  return see(`/people?link=${await putOnce(office, person.id, code)}`);
});
