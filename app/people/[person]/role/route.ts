import { isRole } from "../../../../lib/access/roles.ts";
import { textIn, writeOfPerson } from "../../../_server/gate.ts";
import { aboutPerson, seenIn } from "../../../_server/personForm.ts";

export const POST = writeOfPerson(
  "POST /people/[person]/role",
  aboutPerson(async (writing, { id, name }) => {
    const role = textIn(writing.form, "role");
    if (!isRole(role)) return { problem: `Role: given “${role.slice(0, 40)}”; wanted inspector or supervisor`, field: "role" };
    const changed = await writing.office.accounts.changeRole({ person: id, seen: seenIn(writing) }, role, writing.by);
    if (!changed.ok) {
      const { says = "", field = "" } = changed.faults[0] ?? {};
      await writing.log("refused", id, `role: ${says}`);
      return { problem: says, field };
    }
    await writing.log("role changed", id, `to ${role}`);
    return { done: `${name} is ${role} from now on.` };
  }),
);
