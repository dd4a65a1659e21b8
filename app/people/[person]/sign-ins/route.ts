import { writeOfPerson } from "../../../_server/gate.ts";
import { aboutPerson } from "../../../_server/personForm.ts";

export const POST = writeOfPerson(
  "POST /people/[person]/sign-ins",
  aboutPerson(async ({ office, log }, { id, name }) => {
    const many = await office.accounts.endSignIns(id);
    await log("sign-ins ended", id, String(many));
    return { done: many === 0 ? `${name} was not signed in anywhere.` : `Every sign-in of ${name} has ended: ${many}.` };
  }),
);
