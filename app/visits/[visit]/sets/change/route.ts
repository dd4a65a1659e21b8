import * as z from "zod";
import type { Result } from "../../../../../lib/kernel/result.ts";
import { valueAt } from "../../../../../lib/model/fault.ts";
import type { Json } from "../../../../../lib/store/store.ts";
import { addSet, copySet, removeSet, renameSet, restoreSet, type SetsChanged } from "../../../../../lib/usecases/visits/sets.ts";
import { see, textIn, type WritingVisit, writeOfVisit } from "../../../../_server/gate.ts";

const LONGEST = 60;

const takenOut = z.object({ id: z.number(), place: z.number(), frame: z.record(z.string(), z.json()) });

const nameOf = ({ stored }: WritingVisit, id: number): string =>
  String(valueAt(stored.frame, `/sets/${stored.sets.indexOf(id)}/name`) ?? "");

/** A name for a copy that no set bears yet. */
const copyName = (writing: WritingVisit, id: number): string => {
  const names = writing.stored.sets.map((one) => nameOf(writing, one));
  const base = nameOf(writing, id).slice(0, LONGEST - 12);
  const free = Array.from({ length: names.length + 1 }, (_, place) => `${base} copy${place === 0 ? "" : ` ${place + 1}`}`);
  return free.find((name) => !names.includes(name)) ?? base;
};

type Done = Result<SetsChanged>;

const remove = async ({ office, stored, by }: WritingVisit, id: number): Promise<Done> => {
  const gone = await removeSet(office.store, stored, id, by);
  if (gone.ok) await office.store.keepTyped(`${stored.id} removed`, JSON.stringify(gone.value.out), by);
  return gone;
};

const restore = async ({ office, stored, by }: WritingVisit): Promise<Done> => {
  const kept = await office.store.typed(`${stored.id} removed`, by.who);
  const out = takenOut.safeParse(JSON.parse(kept?.text ?? "null"));
  if (!out.success) return { ok: false, faults: ["nothing was taken out that could be put back"] };
  const { id, place, frame } = out.data;
  const back = await restoreSet(office.store, stored, { id, place, frame: frame as Readonly<Record<string, Json>> }, by);
  if (back.ok) await office.store.keepTyped(`${stored.id} removed`, null, by);
  return back;
};

const ACTS: Readonly<
  Record<string, { readonly done: string; readonly run: (writing: WritingVisit, id: number, name: string) => Promise<Done> }>
> = {
  add: { done: "Added.", run: ({ office, stored, by }, _, name) => addSet(office.store, stored, name, by) },
  copy: {
    done: "Copied with all its answers. Give it the name it has aboard.",
    run: (writing, id) => copySet(writing.office.store, writing.stored, id, copyName(writing, id), writing.by),
  },
  rename: {
    done: "Saved.",
    run: ({ office, stored, by, form }, id, name) =>
      renameSet(office.store, stored, id, { name, sisters: textIn(form, "sisters").trim() }, by),
  },
  remove: { done: "Taken out.", run: remove },
  restore: { done: "Put back as it was.", run: restore },
};

const problemWith = (act: string, name: string, sisters: string): string | null => {
  if (!["add", "rename"].includes(act)) return null;
  if (name === "" || name.length > LONGEST)
    return `Name: given ${name === "" ? "nothing" : `${name.length} characters`}; wanted 1 to ${LONGEST} characters`;
  return act === "rename" && !/^[A-Z]$/.test(sisters) ? `Sister sets: given “${sisters.slice(0, 20)}”; wanted one capital letter` : null;
};

export const POST = writeOfVisit("POST /visits/[visit]/sets/change", async (writing) => {
  const { form, stored, log } = writing;
  const [act, id, name] = [textIn(form, "act"), Number(textIn(form, "set")), textIn(form, "name").trim()];
  const page = `/visits/${stored.id}/sets`;
  const what = Object.hasOwn(ACTS, act) ? ACTS[act] : undefined;
  if (what === undefined) {
    await log("refused", stored.id, `sets: ${act.slice(0, 80)}`);
    return new Response("there is no such act\n", { status: 400 });
  }
  const problem = problemWith(act, name, textIn(form, "sisters").trim());
  if (problem !== null) return see(`${page}?${new URLSearchParams({ problem })}`);
  if (Number(textIn(form, "seen")) !== stored.frameVersion)
    return see(
      `${page}?${new URLSearchParams({ problem: "The visit was changed after you opened this page, and nothing was done. This is how it stands now; do it again" })}`,
    );
  const done = await what.run(writing, id, name);
  if (!done.ok) return see(`${page}?${new URLSearchParams({ problem: done.faults.join("; ") })}`);
  await log(`set: ${act}`, stored.id, String(id || name));
  return see(`${page}?${new URLSearchParams({ done: what.done })}`);
});
