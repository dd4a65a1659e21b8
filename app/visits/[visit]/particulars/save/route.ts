import { saveParticulars } from "../../../../../lib/usecases/visits/particulars.ts";
import { see, type Writing, wantsJson, writeOfVisit } from "../../../../_server/gate.ts";
import { type KeptParticulars, keptAnswer, textsIn, wasIn } from "../../../../_server/particularsForm.ts";

const pageOf = ({ params }: Writing): string => `${String(params["visit"])} particulars`;

const keep = (writing: Writing, who: string, faults: KeptParticulars["faults"]): Promise<void> => {
  const { office, form } = writing;
  const kept: KeptParticulars = { texts: textsIn(form), was: wasIn(form), sets: "", alike: "no", faults };
  return office.store.keepTyped(pageOf(writing), JSON.stringify(kept), { who, when: office.world.now() });
};

export const POST = writeOfVisit(
  "POST /visits/[visit]/particulars/save",
  async (writing) => {
    const { office, form, by, stored, log, request } = writing;
    if (wantsJson(request)) {
      await keep(writing, by.who, []);
      return keptAnswer(by.when);
    }
    const rulebook = office.planner.rulebook;
    const saved = await saveParticulars({ store: office.store, rulebook }, stored, { texts: textsIn(form), was: wasIn(form) }, by);
    if (!saved.ok || saved.value.outcome === "meanwhile") {
      await keep(writing, by.who, saved.ok ? [] : [...saved.faults]);
      return see(`/visits/${stored.id}/particulars#problems`);
    }
    await office.store.keepTyped(pageOf(writing), null, by);
    await log("particulars saved", stored.id);
    return see(`/visits/${stored.id}/ask/rules`);
  },
  (writing, person) => keep(writing, person, []),
);
