import { dayOfVisit, saveDay } from "../../../../../lib/usecases/visits/day.ts";
import { dayTextsIn, dayWasIn, type KeptDay } from "../../../../_server/dayForm.ts";
import { see, textIn, type Writing, writeOfVisit } from "../../../../_server/gate.ts";

const pageOf = ({ params }: Writing): string => `${String(params["visit"])} day`;

const keep = ({ office, form, ...writing }: Writing, who: string, faults: KeptDay["faults"]): Promise<void> => {
  const kept: KeptDay = { texts: dayTextsIn(form), faults };
  return office.store.keepTyped(pageOf({ office, form, ...writing }), JSON.stringify(kept), { who, when: office.world.now() });
};

export const POST = writeOfVisit(
  "POST /visits/[visit]/day/save",
  async (writing) => {
    const { office, form, by, stored, log } = writing;
    const day = dayOfVisit(stored, office.planner);
    if (!day.ok) return see(`/visits/${stored.id}/day`);
    const texts = textIn(form, "act") === "usual" ? null : dayTextsIn(form);
    const saved = await saveDay(office.store, stored, { texts, was: dayWasIn(form), now: day.value.texts }, by);
    if (!saved.ok) {
      await keep(writing, by.who, [...saved.faults]);
      return see(`/visits/${stored.id}/day#problems`);
    }
    await office.store.keepTyped(pageOf(writing), null, by);
    await log("day arranged", stored.id);
    return see(`/visits/${stored.id}/day`);
  },
  (writing, person) => keep(writing, person, []),
);
