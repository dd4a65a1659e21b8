import { startWhatIf } from "../../../../lib/usecases/review/whatIf.ts";
import { see, turnedAway, writeOfPerson } from "../../../_server/gate.ts";

export const POST = writeOfPerson("POST /what-if/[tried]/go-on", async ({ office, params, request }) => {
  const whatIf = await office.store.whatIf(String(params["tried"]));
  if (whatIf === null) return turnedAway(request, 404, "nothing of that name was tried");
  startWhatIf(office, whatIf);
  return see(`/what-if/${whatIf.id}`);
});
