import * as z from "zod";
import type { Act, Store } from "../../store/store.ts";

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

const placeOf = (visit: string, path: string): string => `${visit} ${path}`;

/** What a person typed on a page of a visit and could not be kept as answers; empty where there is nothing. */
export const typedOn = async (store: Store, visit: string, path: string, who: string): Promise<TypedFields> => {
  const kept = await store.typed(placeOf(visit, path), who);
  if (kept === null) return {};
  const read = typedFields.safeParse(JSON.parse(kept.text));
  return read.success ? read.data : {};
};

/** Keeps what is typed on a page, in place of what was. */
export const keepTyped = (store: Store, visit: string, path: string, fields: TypedFields, by: Act): Promise<void> =>
  store.keepTyped(placeOf(visit, path), Object.keys(fields).length === 0 ? null : JSON.stringify(fields), by);

/** Keeps some fields as typed and forgets others; what was typed on the rest of the page stays. */
export const dropTyped = async (
  store: Store,
  visit: string,
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
