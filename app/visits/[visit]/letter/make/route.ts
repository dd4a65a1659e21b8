import { makeLetter } from "../../../../../lib/usecases/visits/makeLetter.ts";
import { said, see, textIn, writeOfVisit } from "../../../../_server/gate.ts";
import { goesOnInTurn } from "../../../../_server/inTurn.ts";
import { lettersIn, unitsIn } from "../../../../_server/letters.ts";

export const POST = writeOfVisit("POST /visits/[visit]/letter/make", async ({ request, office, form, stored, person, log }) => {
  const { store, world, planner } = office;
  const units = unitsIn(textIn(form, "units"));
  const here = `/visits/${stored.id}/letter`;
  return goesOnInTurn(request, here, async (tell) => {
    const made = await makeLetter({ store, world, planner, letters: lettersIn(office, units, tell) }, stored.id, person.id);
    if (!made.ok) return see(`${here}?${said(office, { problem: made.faults.slice(0, 8).join("\n") })}`);
    await log("letter made", stored.id, made.value.id);
    return see(`${here}?${new URLSearchParams({ made: made.value.id, units })}`);
  });
});
