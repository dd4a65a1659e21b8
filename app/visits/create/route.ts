import { particularId } from "../../../components/visits/ParticularsForm.tsx";
import { createVisit } from "../../../lib/usecases/visits/particulars.ts";
import { see, textIn, type Writing, wantsJson, writeOfPerson } from "../../_server/gate.ts";
import { type KeptParticulars, keptAnswer, textsIn } from "../../_server/particularsForm.ts";

const PAGE = "new visit";
const ID = /^[0-9a-f-]{36}$/;

const typedIn = (form: FormData): KeptParticulars => ({
  texts: textsIn(form),
  was: {},
  sets: textIn(form, particularId("/sets")),
  alike: textIn(form, particularId("/alike")),
  faults: [],
});

const keep = ({ office, form }: Writing, who: string, faults: KeptParticulars["faults"]): Promise<void> =>
  office.store.keepTyped(PAGE, JSON.stringify({ ...typedIn(form), faults }), { who, when: office.world.now() });

export const POST = writeOfPerson(
  "POST /visits/create",
  async (writing) => {
    const { office, form, by, log, request } = writing;
    if (wantsJson(request)) {
      await keep(writing, by.who, []);
      return keptAnswer(by.when);
    }
    const given = textIn(form, "id");
    const { texts, sets, alike } = typedIn(form);
    const made = await createVisit(
      { store: office.store, rulebook: office.planner.rulebook },
      { id: ID.test(given) ? given : office.world.newId(), texts, sets, alike: alike === "yes" },
      by,
    );
    if (!made.ok) {
      await keep(writing, by.who, [...made.faults]);
      return see("/visits/new#problems");
    }
    await office.store.keepTyped(PAGE, null, by);
    await log("visit made", made.value);
    return see(`/visits/${made.value}`);
  },
  (writing, person) => keep(writing, person, []),
);
