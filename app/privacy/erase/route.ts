import { erasePerson } from "../../../lib/usecases/privacy/erase.ts";
import { erasedWords, erasureIn, erasureTyped } from "../../_server/erasureForm.ts";
import { said, see, writeOfPerson } from "../../_server/gate.ts";

export const POST = writeOfPerson("POST /privacy/erase", async ({ office, form, by, log }) => {
  const asked = erasureIn(form);
  const erased = await erasePerson(office, asked, by);
  if (!erased.ok) {
    const { field = "", says: problem = "" } = erased.faults[0] ?? {};
    return see(
      `/privacy/person?${new URLSearchParams({ who: asked.who })}&${said(office, { problem, field, typed: erasureTyped(asked) })}`,
    );
  }
  for (const visit of erased.value.ended?.visits ?? []) await log("handed over", visit, "from an account that was erased");
  for (const one of erased.value.ended?.stoodInFor ?? []) await log("absence ended", one, "who was to stand in has no account any more");
  return see(`/privacy?${said(office, { done: erasedWords(erased.value) })}`);
});
