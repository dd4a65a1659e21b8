import { removePast, yearsOf } from "../../../../lib/usecases/privacy/pastVisits.ts";
import { said, see, textIn, writeOfPerson } from "../../../_server/gate.ts";

export const POST = writeOfPerson("POST /privacy/visits/remove", async ({ office, form, by }) => {
  const years = yearsOf(textIn(form, "years"));
  const visits = form.getAll("visit").flatMap((one) => (typeof one === "string" ? [one] : []));
  const removed = await removePast(office, { visits, years, confirmed: textIn(form, "sure") === "yes" }, by);
  const { field = "", says: problem = "" } = removed.ok ? {} : (removed.faults[0] ?? {});
  const words = removed.ok
    ? { done: removed.value === 1 ? "One visit was removed." : `${removed.value} visits were removed.` }
    : { problem, field, typed: visits.join("\n") };
  return see(`/privacy/visits?years=${years}&${said(office, words)}`);
});
