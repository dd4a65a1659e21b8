import { startAgain } from "../../../../../lib/usecases/visits/again.ts";
import { see, textIn, writeOfVisit } from "../../../../_server/gate.ts";

const ID = /^[0-9a-f-]{36}$/;

export const POST = writeOfVisit("POST /visits/[visit]/again/create", async ({ office, form, stored, by, log }) => {
  const { store, world, planner } = office;
  const given = textIn(form, "id");
  const holds = new Set(form.getAll("holds").map(String));
  const id = await startAgain({ store, rulebook: planner.rulebook, world }, stored, holds, by, ID.test(given) ? given : world.newId());
  await log("visit made from a former one", id, stored.id);
  return see(`/visits/${id}/particulars`);
});
