import type { Given } from "../../../../../lib/flow/draft.ts";
import type { FieldFault } from "../../../../../lib/flow/fields.ts";
import { answerWords, setAsideIn } from "../../../../../lib/flow/questions.ts";
import { type Asked, candidatesOn, neighbours, stepsOf } from "../../../../../lib/flow/steps.ts";
import { type Field, type SavedStep, saveStep } from "../../../../../lib/usecases/visits/saveStep.ts";
import { openOn } from "../../../../../lib/usecases/visits/stepView.ts";
import { keepTyped } from "../../../../../lib/usecases/visits/typed.ts";
import { openVisit } from "../../../../../lib/usecases/visits/visitDraft.ts";
import { see, type Writing, type WritingVisit, writeOfVisit } from "../../../../_server/gate.ts";
import { fieldsIn, strangeIn } from "../../../../_server/stepForm.ts";
import { namesIn } from "../../../../_server/words.ts";

const pathIn = ({ params }: Writing): string => {
  const path = params["path"];
  return Array.isArray(path) ? path.join("/") : String(path);
};

const json = (writing: Writing): boolean => writing.request.headers.get("accept") === "application/json";

/** A hand-made post: what of it is no field of the page. It is logged and nothing of it is kept. */
const refused = async (writing: WritingVisit, faults: readonly string[]): Promise<Response> => {
  await writing.log("refused", `POST save ${pathIn(writing)}`.slice(0, 200), faults.join("; ").slice(0, 500));
  const words = `This was not taken: ${faults.slice(0, 5).join("; ")}`;
  return json(writing) ? Response.json({ problem: words }, { status: 400 }) : new Response(`${words}\n`, { status: 400 });
};

const said = (asked: readonly Asked[], at: string, value: unknown): string => {
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
        .map(({ theirs }) => ({ at, theirs: said(asked, at, theirs.value), who: nameOf(theirs.who), when: theirs.when })),
    ),
  });
};

/** Where a saved page goes on to: to itself where answers brought new questions with them, else to the next that has any. */
const onward = async ({ office, stored, form }: WritingVisit, path: string): Promise<string> => {
  const here = `/visits/${stored.id}`;
  if (form.getAll("then").at(-1) === "later") return here;
  const after = await office.store.visit(stored.id);
  if (after === null) return here;
  const { planner } = office;
  const asideBefore = setAsideIn(openVisit(stored).draft, planner.rulebook).length;
  const asideNow = setAsideIn(openVisit(after).draft, planner.rulebook).length;
  const query = asideNow > asideBefore ? `?aside=${asideNow - asideBefore}` : "";
  const shown = new Set([...openOn(stored, planner, path), ...fieldsIn(form).map(({ at }) => at)]);
  const brought = openOn(after, planner, path).filter((at) => !shown.has(at));
  if (brought.length > 0) return `${here}/ask/${path}?new=${brought.length}${query.replace("?", "&")}`;
  const next = neighbours(stepsOf(openVisit(after).draft, planner.rulebook), path).after;
  return next === null ? `${here}/check${query}` : `${here}/ask/${next}${query}`;
};

const strange = (faults: readonly FieldFault[]): boolean => faults.some(({ kind }) => kind === "strange");

export const POST = writeOfVisit(
  "POST /visits/[visit]/save/[...path]",
  async (writing) => {
    const { office, form, by, stored, log } = writing;
    const path = pathIn(writing);
    const unknown = strangeIn(form, ["token", "then"]);
    if (unknown.length > 0)
      return refused(
        writing,
        unknown.map((name) => `no such field: ${name.slice(0, 80)}`),
      );
    const fields = fieldsIn(form);
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
    return see(await onward(writing, path));
  },
  async (writing, person) => {
    const typed = Object.fromEntries(fieldsIn(writing.form).map(({ at, ...field }) => [at, field] as const));
    const by = { who: person, when: writing.office.world.now() };
    await keepTyped(writing.office.store, String(writing.params["visit"]), pathIn(writing), typed, by);
  },
);
