import { absenceBy } from "../../_server/absenceForm.ts";
import { see, turnedAway, writeOfPerson } from "../../_server/gate.ts";

/** A person tells his own absence. */
export const POST = writeOfPerson("POST /account/absence", async (writing) => {
  const member = (await writing.office.accounts.people()).find(({ id }) => id === writing.person.id);
  if (member === undefined) return turnedAway(writing.request, 404, "there is no such person");
  return see(await absenceBy(writing, member, "/account"));
});
