import { saveParticulars } from "../../../../../lib/usecases/visits/particulars.ts";
import { see, textIn, type Writing, writeOfVisit } from "../../../../_server/gate.ts";
import { type KeptParticulars, textsIn } from "../../../../_server/particularsForm.ts";

const pageOf = ({ params }: Writing): string => `${String(params["visit"])} particulars`;

const keep = (writing: Writing, who: string, faults: KeptParticulars["faults"]): Promise<void> => {
  const { office, form } = writing;
  const kept: KeptParticulars = { texts: textsIn(form), sets: "", faults, seen: Number(textIn(form, "seen")) || 0 };
  return office.store.keepTyped(pageOf(writing), JSON.stringify(kept), { who, when: office.world.now() });
};

export const POST = writeOfVisit(
  "POST /visits/[visit]/particulars/save",
  async (writing) => {
    const { office, form, by, stored, log } = writing;
    const seen = Number(textIn(form, "seen")) || 0;
    const rulebook = office.planner.rulebook;
    const saved = await saveParticulars({ store: office.store, rulebook }, stored, { texts: textsIn(form), seen }, by);
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
