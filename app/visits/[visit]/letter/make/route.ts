import { makeLetter } from "../../../../../lib/usecases/visits/makeLetter.ts";
import { said, see, textIn, writeOfVisit } from "../../../../_server/gate.ts";
import { lettersIn, unitsIn } from "../../../../_server/letters.ts";

export const POST = writeOfVisit("POST /visits/[visit]/letter/make", async ({ office, form, stored, person, log }) => {
  const { store, world, planner } = office;
  const units = unitsIn(textIn(form, "units"));
  const made = await makeLetter({ store, world, planner, letters: lettersIn(office, units) }, stored.id, person.id);
  if (!made.ok) return see(`/visits/${stored.id}/letter?${said(office, { problem: made.faults.slice(0, 8).join("\n") })}`);
  await log("letter made", stored.id, made.value.id);
  return see(`/visits/${stored.id}/letter?${new URLSearchParams({ made: made.value.id, units })}`);
});
