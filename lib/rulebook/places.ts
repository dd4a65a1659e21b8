/** The kinds of things that have a page of their own, as its address names them. */
export const BOOK_KINDS = [
  "protections",
  "methods",
  "bases",
  "techniques",
  "hazards",
  "needs",
  "cautions",
  "questions",
  "photographs",
  "figures",
] as const;
export type BookKind = (typeof BOOK_KINDS)[number];

/** An id or a fact's template as the end of an address: letters and digits as they are, everything between them one stroke. */
export const slugOf = (id: string): string =>
  id
    .split(/[^A-Za-z0-9]+/)
    .filter((piece) => piece !== "")
    .join("-");

/** Where a thing of the rulebook is read up, for good: an address may be written into papers. */
export const bookAt = (kind: BookKind, id: string | number): string => `/rulebook/${kind}/${slugOf(String(id))}`;
