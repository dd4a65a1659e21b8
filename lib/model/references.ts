/** References handed out once stay for good: tests T, questions Q, requests R, facts that are taken as known K, each with a number. */
export interface Reference {
  readonly ref: string;
  readonly for: string;
}

export type ReferenceKind = "T" | "Q" | "R" | "K";

const numberOf = (ref: string): number => Number(ref.slice(1));

/**
 * The list of references with one for each key of a kind: those that were handed out keep theirs, new keys get the next
 * numbers in the order given. Append-only.
 */
export const withReferences = (existing: readonly Reference[], kind: ReferenceKind, keys: readonly string[]): readonly Reference[] => {
  const ofKind = existing.filter(({ ref }) => ref.startsWith(kind));
  const known = new Set(ofKind.map((reference) => reference.for));
  const first = Math.max(0, ...ofKind.map(({ ref }) => numberOf(ref))) + 1;
  const fresh = [...new Set(keys)].filter((key) => !known.has(key));
  return [...existing, ...fresh.map((key, place) => ({ ref: `${kind}${first + place}`, for: key }))];
};

export const referenceOf = (references: readonly Reference[], kind: ReferenceKind, key: string): string =>
  references.find((reference) => reference.ref.startsWith(kind) && reference.for === key)?.ref ?? "";
