/** What stands behind the question mark of an address; what stands there twice comes as a list. */
export type Query = Readonly<Record<string, string | readonly string[] | undefined>>;

/** The one text of a name; the first where it stands there twice, nothing where it does not. */
export const oneOf = (given: string | readonly string[] | undefined): string => {
  if (given === undefined) return "";
  return typeof given === "string" ? given : (given[0] ?? "");
};
