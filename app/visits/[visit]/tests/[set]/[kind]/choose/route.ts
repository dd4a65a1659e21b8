import { chooseMethod } from "../../../../../../../lib/usecases/visits/deviate.ts";
import { said, see, textIn, writeOfVisit } from "../../../../../../_server/gate.ts";

const LONGEST_KEPT = 12_000;
const BACK = "back to the order of preference";

export const POST = writeOfVisit("POST /visits/[visit]/tests/[set]/[kind]/choose", async ({ office, form, by, stored, params, log }) => {
  const [set, kind, method, reason] = [Number(params["set"]) - 1, String(params["kind"]), textIn(form, "method"), textIn(form, "reason")];
  const page = `/visits/${stored.id}/tests/${set + 1}/${kind}`;
  const chosen = await chooseMethod(
    { store: office.store, planner: office.planner },
    stored,
    { at: `/sets/${set}/${kind}`, method: method === BACK ? null : method, reason, seen: Number(textIn(form, "seen")) || 0 },
    by,
  );
  if (!chosen.ok) {
    const [fault] = chosen.faults;
    await log("refused", stored.id, `deviation ${page}: ${fault?.says ?? ""}`.slice(0, 500));
    await office.store.keepTyped(`${stored.id} choice`, JSON.stringify({ page, method, reason: reason.slice(0, LONGEST_KEPT) }), by);
    return see(`${page}?${said(office, { problem: fault?.says ?? "", field: fault?.field ?? "" })}#problems`);
  }
  await office.store.keepTyped(`${stored.id} choice`, null, by);
  await log(method === BACK ? "deviation taken back" : "deviation", stored.id, `${page}: ${method}`);
  return see(`${page}?${said(office, { done: "Kept. The plan is worked out with it." })}`);
});
