import { absenceBy } from "../../../_server/absenceForm.ts";
import { see, turnedAway, writeOfPerson } from "../../../_server/gate.ts";

export const POST = writeOfPerson("POST /people/[person]/absence", async (writing) => {
  const id = String(writing.params["person"] ?? "");
  const member = (await writing.office.accounts.people()).find((one) => one.id === id);
  if (member === undefined) return turnedAway(writing.request, 404, "there is no such person");
  return see(await absenceBy(writing, member, `/people/${id}`));
});
