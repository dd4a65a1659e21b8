import type { Given } from "../../../../../lib/flow/draft.ts";
import type { FieldFault } from "../../../../../lib/flow/fields.ts";
import { answerWords, setAsideIn } from "../../../../../lib/flow/questions.ts";
import { type Asked, candidatesOn, neighbours, stepsOf } from "../../../../../lib/flow/steps.ts";
import { isRemoved, pathNow, pointerNow } from "../../../../../lib/usecases/visits/places.ts";
import { type Field, type SavedStep, saveStep } from "../../../../../lib/usecases/visits/saveStep.ts";
import { openOn } from "../../../../../lib/usecases/visits/stepView.ts";
import { keepTyped } from "../../../../../lib/usecases/visits/typed.ts";
import { openVisit } from "../../../../../lib/usecases/visits/visitDraft.ts";
import { said, see, textIn, turnedAway, type Writing, type WritingVisit, writeOfVisit } from "../../../../_server/gate.ts";
import { fieldsIn, strangeIn } from "../../../../_server/stepForm.ts";
import { namesIn } from "../../../../_server/words.ts";

const pathIn = ({ params }: Writing): string => {
  const path = params["path"];
  return Array.isArray(path) ? path.join("/") : String(path);
};

/** Ids of the sets as they stood on the page that the form comes from. */
const setsShown = ({ form }: Writing): readonly number[] => {
  const given = textIn(form, "sets");
  return given === "" ? [] : given.split(",").map(Number);
};

const json = (writing: Writing): boolean => writing.request.headers.get("accept") === "application/json";

/** A hand-made post: what of it is no field of the page. It is logged and nothing of it is kept. */
const refused = async (writing: WritingVisit, faults: readonly string[]): Promise<Response> => {
  await writing.log("refused", `POST save ${pathIn(writing)}`.slice(0, 200), faults.join("; ").slice(0, 500));
  const words = `This was not taken: ${faults.slice(0, 5).join("; ")}`;
  return json(writing) ? Response.json({ problem: words }, { status: 400 }) : turnedAway(writing.request, 400, words);
};

const answered = (asked: readonly Asked[], at: string, value: unknown): string => {
  const spec = asked.find((one) => one.at === at)?.spec;
  return spec === undefined || value === undefined || value === null ? "no answer" : answerWords({ spec }, value as Given);
};

/** What an autosave is told: what was kept under which version, what not and why. */
const quietly = async (
  { office, stored, by }: WritingVisit,
  path: string,
  fields: readonly Field[],
  saved: SavedStep,
): Promise<Response> => {
  const nameOf = await namesIn(office);
  const after = await office.store.visit(stored.id);
  const versions = after === null ? new Map<string, number>() : openVisit(after).seen;
  const conflicting = new Set(saved.conflicts.map(({ at }) => at));
  const asked = candidatesOn(openVisit(stored).draft, office.planner.rulebook, path);
  return Response.json({
    savedAt: by.when,
    seen: Object.fromEntries(fields.map(({ at }) => [at, versions.get(at) ?? 0] as const)),
    faults: saved.faults,
    conflicts: [...conflicting].flatMap((at) =>
      saved.conflicts
        .filter((one) => one.at === at)
        .map(({ theirs }) => ({ at, theirs: answered(asked, at, theirs.value), who: nameOf(theirs.who), when: theirs.when })),
    ),
  });
};

/** Where a saved page goes on to: to itself where answers brought new questions with them, else to the next that has any. */
const onward = async ({ office, stored, form }: WritingVisit, path: string, fields: readonly Field[]): Promise<string> => {
  const here = `/visits/${stored.id}`;
  if (form.getAll("then").at(-1) === "later") return here;
  const after = await office.store.visit(stored.id);
  if (after === null) return here;
  const { planner } = office;
  const asideBefore = setAsideIn(openVisit(stored).draft, planner.rulebook).length;
  const asideNow = setAsideIn(openVisit(after).draft, planner.rulebook).length;
  const query = asideNow > asideBefore ? `?aside=${asideNow - asideBefore}` : "";
  // What the page has shown is what it sent; a script may have kept an answer before, whose questions were not shown yet.
  const shown = new Set(fields.map(({ at }) => at));
  const brought = openOn(after, planner, path).filter((at) => !shown.has(at));
  if (brought.length > 0) return `${here}/ask/${path}?new=${brought.length}${query.replace("?", "&")}`;
  const next = neighbours(stepsOf(openVisit(after).draft, planner.rulebook), path).after;
  return next === null ? `${here}/check${query}` : `${here}/ask/${next}${query}`;
};

/** The set of the page was taken out meanwhile: what was typed stays with the set, and is there again when it is put back. */
const setTakenOut = async (writing: WritingVisit, shown: readonly number[]): Promise<Response> => {
  const { office, stored, form, by } = writing;
  const typed = Object.fromEntries(fieldsIn(form).map(({ at, ...field }) => [at, field] as const));
  await keepTyped(office.store, { id: stored.id, sets: shown }, pathIn(writing), typed, by);
  const words =
    "This set was taken out of the visit meanwhile. What you typed is kept with it, and is there again when the set is put back";
  return json(writing)
    ? Response.json({ problem: words }, { status: 409 })
    : see(`/visits/${stored.id}/sets?${said(office, { problem: words })}`);
};

const strange = (faults: readonly FieldFault[]): boolean => faults.some(({ kind }) => kind === "strange");

export const POST = writeOfVisit(
  "POST /visits/[visit]/save/[...path]",
  async (writing) => {
    const { office, form, by, stored, log } = writing;
    const shown = setsShown(writing);
    const path = pathNow(pathIn(writing), shown, stored.sets);
    const unknown = strangeIn(form, ["token", "then", "sets"]);
    if (unknown.length > 0)
      return refused(
        writing,
        unknown.map((name) => `no such field: ${name.slice(0, 80)}`),
      );
    if (path === undefined) return refused(writing, ["there is no such page"]);
    if (path === null) return setTakenOut(writing, shown);
    const elsewhere = fieldsIn(form).filter(({ at }) => isRemoved(pointerNow(at, shown, stored.sets)));
    if (elsewhere.length > 0)
      return refused(
        writing,
        elsewhere.map(({ at }) => `no such field: ${at.slice(0, 80)}`),
      );
    // Addresses name sets by their places; the form knows which sets it was about.
    const fields = fieldsIn(form).map((field) => ({ ...field, at: pointerNow(field.at, shown, stored.sets) }));
    const mode = json(writing) ? "each" : "page";
    const saved = await saveStep({ store: office.store, rulebook: office.planner.rulebook }, { visit: stored.id, path, fields, mode }, by);
    if (!saved.ok && strange(saved.faults))
      return refused(
        writing,
        saved.faults.map(({ says }) => says),
      );
    if (!saved.ok) return see(`/visits/${stored.id}/ask/${path}#problems`);
    await log("answers saved", stored.id, `${path}, version ${saved.value.version}`);
    if (mode === "each") return quietly(writing, path, fields, saved.value);
    if (saved.value.conflicts.length > 0) return see(`/visits/${stored.id}/ask/${path}#problems`);
    return see(await onward(writing, path, fields));
  },
  async (writing, person) => {
    const typed = Object.fromEntries(fieldsIn(writing.form).map(({ at, ...field }) => [at, field] as const));
    const by = { who: person, when: writing.office.world.now() };
    await keepTyped(writing.office.store, { id: String(writing.params["visit"]), sets: setsShown(writing) }, pathIn(writing), typed, by);
  },
);
