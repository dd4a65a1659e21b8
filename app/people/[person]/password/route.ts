import { linkIdOf, linkName } from "../../../../lib/access/invitation.ts";
import { putOnce } from "../../../../lib/usecases/toldOnce.ts";
import { see, writeOfPerson } from "../../../_server/gate.ts";
import { aboutPerson } from "../../../_server/personForm.ts";

export const POST = writeOfPerson(
  "POST /people/[person]/password",
  aboutPerson(async ({ office, person, log }, member) => {
    if (member.id === person.id) return { problem: "You change your own password on the page of your account" };
    if (member.ended !== undefined) return { problem: `${member.name} has no account now` };
    const code = await office.accounts.passwordLink(member, person.id, office.clock());
    await log("password link made", member.id, linkName(linkIdOf(code)));
    return see(`/people/${member.id}?link=${await putOnce(office, person.id, code)}`);
  }),
);
