import * as z from "zod";
import type { Act, Store, StoredVisit } from "../../store/store.ts";
import { placedPath, placedPointer, storedPath, storedPointer } from "./places.ts";

const typedField = z.object({
  text: z.string(),
  unit: z.string().optional(),
  notKnown: z.boolean().optional(),
  sure: z.boolean().optional(),
  seen: z.number(),
});

const typedFields = z.record(z.string(), typedField);

/** What stands typed on a page, by pointer, with the versions that were seen. */
export type TypedFields = Readonly<Record<string, z.infer<typeof typedField>>>;

type Sets = Pick<StoredVisit, "id" | "sets">;

/** What is typed is kept for a page of a set by the set's id, so that it never comes to stand on another. */
const placeOf = ({ id, sets }: Sets, path: string): string => `${id} ${storedPath(path, sets)}`;

const turned = (fields: TypedFields, turn: (at: string) => string): TypedFields =>
  Object.fromEntries(Object.entries(fields).map(([at, field]) => [turn(at), field] as const));

/** What a person typed on a page of a visit and could not be kept as answers; empty where there is nothing. */
export const typedOn = async (store: Store, visit: Sets, path: string, who: string): Promise<TypedFields> => {
  const kept = await store.typed(placeOf(visit, path), who);
  if (kept === null) return {};
  const read = typedFields.safeParse(JSON.parse(kept.text));
  return read.success ? turned(read.data, (at) => placedPointer(at, visit.sets)) : {};
};

/** Keeps what is typed on a page, in place of what was. */
export const keepTyped = (store: Store, visit: Sets, path: string, fields: TypedFields, by: Act): Promise<void> => {
  const kept = turned(fields, (at) => storedPointer(at, visit.sets));
  return store.keepTyped(placeOf(visit, path), Object.keys(kept).length === 0 ? null : JSON.stringify(kept), by);
};

/** Keeps some fields as typed and forgets others; what was typed on the rest of the page stays. */
export const dropTyped = async (
  store: Store,
  visit: Sets,
  path: string,
  { gone, kept }: { readonly gone: readonly string[]; readonly kept: TypedFields },
  by: Act,
): Promise<void> => {
  const before = await typedOn(store, visit, path, by.who);
  const rest = Object.fromEntries(Object.entries(before).filter(([at]) => !gone.includes(at)));
  const after = { ...rest, ...kept };
  if (Object.keys(before).length === 0 && Object.keys(after).length === 0) return;
  await keepTyped(store, visit, path, after, by);
};

/** Pages of a visit on which something stands typed that is no answer yet, with how many fields, by their paths. */
export const typedPages = async (store: Store, { id, sets }: Sets, who: string): Promise<ReadonlyMap<string, number>> => {
  const pages = new Map<string, number>();
  for (const { page, text } of await store.typedOf(id, who)) {
    const path = placedPath(page.slice(id.length + 1), sets);
    const read = path === null ? null : typedFields.safeParse(JSON.parse(text));
    const count = read?.success === true ? Object.keys(read.data).length : 0;
    if (path !== null && count > 0) pages.set(path, count);
  }
  return pages;
};
