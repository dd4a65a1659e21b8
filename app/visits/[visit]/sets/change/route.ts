import type { Result } from "../../../../../lib/kernel/result.ts";
import { quoted, valueAt } from "../../../../../lib/model/fault.ts";
import { text } from "../../../../../lib/model/text.ts";
import type { Json } from "../../../../../lib/store/store.ts";
import { addSet, copySet, removeSet, renameSet, restoreSet, type SetsChanged } from "../../../../../lib/usecases/visits/sets.ts";
import { said, see, textIn, turnedAway, type WritingVisit, writeOfVisit } from "../../../../_server/gate.ts";
import { type Removed, removedIn } from "../../../../_server/removed.ts";

const LONGEST = 60;
/** So much of a name that could not be taken is shown again. */
const MOST_TOLD = 300;

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

const removedBy = async ({ office, stored, by }: WritingVisit): Promise<readonly Removed[]> =>
  removedIn((await office.store.typed(`${stored.id} removed`, by.who))?.text);

const keepRemoved = ({ office, stored, by }: WritingVisit, removed: readonly unknown[]): Promise<void> =>
  office.store.keepTyped(`${stored.id} removed`, removed.length === 0 ? null : JSON.stringify(removed), by);

const remove = async (writing: WritingVisit, id: number): Promise<Done> => {
  const gone = await removeSet(writing.office.store, writing.stored, id, writing.by);
  if (gone.ok) await keepRemoved(writing, [gone.value.out, ...(await removedBy(writing))]);
  return gone;
};

const restore = async (writing: WritingVisit, id: number): Promise<Done> => {
  const removed = await removedBy(writing);
  const out = removed.find((one) => one.id === id);
  if (out === undefined) return { ok: false, faults: ["nothing was taken out that could be put back"] };
  const frame = out.frame as Readonly<Record<string, Json>>;
  const back = await restoreSet(writing.office.store, writing.stored, { ...out, frame }, writing.by);
  if (back.ok)
    await keepRemoved(
      writing,
      removed.filter((one) => one.id !== id),
    );
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

/** A name that another set bears: two sets of one name could not be told apart in a letter. */
const borne = (writing: WritingVisit, name: string, id: number): boolean =>
  writing.stored.sets.some((one) => one !== id && nameOf(writing, one).toLowerCase() === name.toLowerCase());

const problemWith = (writing: WritingVisit, act: string, name: string, id: number): string | null => {
  if (!["add", "rename"].includes(act)) return null;
  const sisters = textIn(writing.form, "sisters").trim();
  const unfit = text(LONGEST).safeParse(name);
  if (name !== "" && !unfit.success) return `Name: given ${quoted(name)}; ${unfit.error.issues[0]?.message ?? "wanted another"}`;
  if (borne(writing, name, act === "rename" ? id : 0)) return `Name: given “${name}”; wanted one that no other set of the visit bears`;
  if (name === "" || name.length > LONGEST)
    return `Name: given ${name === "" ? "nothing" : `${name.length} characters`}; wanted 1 to ${LONGEST} characters`;
  return act === "rename" && !/^[A-Z]$/.test(sisters) ? `Sister sets: given “${sisters.slice(0, 20)}”; wanted one capital letter` : null;
};

export const POST = writeOfVisit("POST /visits/[visit]/sets/change", async (writing) => {
  const { office, form, stored, log } = writing;
  const [act, id, name] = [textIn(form, "act"), Number(textIn(form, "set")), textIn(form, "name").trim()];
  const page = `/visits/${stored.id}/sets`;
  const what = Object.hasOwn(ACTS, act) ? ACTS[act] : undefined;
  if (what === undefined) {
    await log("refused", stored.id, `sets: ${act.slice(0, 80)}`);
    return turnedAway(writing.request, 400, "there is no such act");
  }
  const problem = problemWith(writing, act, name, id);
  if (problem !== null) return see(`${page}?${said(office, { problem, ...(act === "add" ? { typed: name.slice(0, MOST_TOLD) } : {}) })}`);
  if (Number(textIn(form, "seen")) !== stored.frameVersion)
    return see(
      `${page}?${said(office, { problem: "The visit was changed after you opened this page, and nothing was done. This is how it stands now; do it again" })}`,
    );
  const done = await what.run(writing, id, name);
  if (!done.ok) return see(`${page}?${said(office, { problem: done.faults.join("; ") })}`);
  await log(`set: ${act}`, stored.id, String(id || name));
  return see(`${page}?${said(office, { done: what.done })}`);
});
