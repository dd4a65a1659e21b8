import { keepDraft, seenIn } from "../../../lib/usecases/policy/draft.ts";
import { see, textIn, type Writing, writeOfPerson } from "../../_server/gate.ts";
import { CHANGE_PAGE, type KeptPolicy, numberIn, policyTextsIn } from "../../_server/policyForm.ts";

const LONGEST_NOTE = 4_000;

const keep = ({ office, form }: Writing, who: string, faults: KeptPolicy["faults"]): Promise<void> => {
  const kept: KeptPolicy = {
    texts: policyTextsIn(form),
    note: textIn(form, "note").slice(0, LONGEST_NOTE),
    base: Math.max(0, numberIn(textIn(form, "base"))),
    faults,
  };
  return office.store.keepTyped(CHANGE_PAGE, JSON.stringify(kept), { who, when: office.world.now() });
};

export const POST = writeOfPerson(
  "POST /policy/keep",
  async (writing) => {
    const { office, form, by, log } = writing;
    const written = { texts: policyTextsIn(form), note: textIn(form, "note"), seen: seenIn(textIn(form, "seen")) };
    const kept = await keepDraft({ store: office.store, rulebook: office.planner.rulebook }, written, by);
    if (!kept.ok) {
      await keep(writing, by.who, [...kept.faults]);
      return see("/policy/change#problems");
    }
    await office.store.keepTyped(CHANGE_PAGE, null, by);
    await log("policy drafted", `policy ${kept.value}`, written.note.trim());
    return see(`/policy/${kept.value}`);
  },
  (writing, person) => keep(writing, person, []),
);
