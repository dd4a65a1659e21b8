import { formerAnswers, startAgain } from "../../../../../lib/usecases/visits/again.ts";
import { said, see, textIn, writeOfVisit } from "../../../../_server/gate.ts";

const ID = /^[0-9a-f-]{36}$/;

export const POST = writeOfVisit("POST /visits/[visit]/again/create", async ({ office, form, stored, by, log }) => {
  const { store, world, planner } = office;
  const given = textIn(form, "id");
  if (!form.has("looked") && formerAnswers(stored, planner.rulebook).length > 0)
    return see(
      `/visits/${stored.id}/again?${said(office, { problem: "Look through the list and say that what is ticked still holds; nothing was made yet" })}`,
    );
  const holds = new Set(form.getAll("holds").map(String));
  const id = await startAgain({ store, rulebook: planner.rulebook, world }, stored, holds, by, ID.test(given) ? given : world.newId());
  await log("visit made from a former one", id, stored.id);
  return see(`/visits/${id}/particulars`);
});
