import { settleFinding } from "../../../lib/usecases/review/findings.ts";
import { said, see, textIn, writeOfPerson } from "../../_server/gate.ts";

const LONGEST_KEPT = 4_000;

/** Only what a query of ours can hold. */
const queryOf = (given: string): string => new URLSearchParams(given).toString().slice(0, 800);

export const POST = writeOfPerson("POST /consistency/settle", async ({ office, form, person, by, log }) => {
  const [finding, how, words] = [textIn(form, "finding"), textIn(form, "how"), textIn(form, "words")];
  const query = queryOf(textIn(form, "query"));
  const back = form.getAll("back").map(String);
  const seen = Number(textIn(form, "seen")) || 0;
  const settled = await settleFinding(office, await office.compare(), { finding, how, words, seen, back }, person.id);
  if (!settled.ok) {
    const faults = settled.faults.map(({ field, says }) => ({ id: field, says }));
    await office.store.keepTyped("settling", JSON.stringify({ finding, how, words: words.slice(0, LONGEST_KEPT), faults }), by);
    await log("refused", "consistency", `settling a finding: ${settled.faults[0]?.says ?? ""}`.slice(0, 500));
    return see(`/consistency?${query}${query === "" ? "" : "&"}again=1#problems`);
  }
  await office.store.keepTyped("settling", null, by);
  await log(`finding settled: ${settled.value.how}`, "consistency", `${settled.value.about} ${settled.value.words}`.slice(0, 500));
  return see(
    `/consistency?${query}${query === "" ? "" : "&"}${said(office, { done: `Settled (${settled.value.how}): ${settled.value.about.slice(0, 200)}` })}`,
  );
});
