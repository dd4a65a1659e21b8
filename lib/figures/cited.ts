/**
 * Where a number comes from and how sure we are of it: the same shape as the rulebook's basis, which figures may not see.
 * "read": the text was read, if need be in a secondary copy that `edition` names; "memory": remembered and not verified;
 * "practice": common practice without a source; "interpretation": our reading, to be agreed with the authority.
 */
export interface Cited {
  readonly cite: string;
  readonly paragraph?: string | undefined;
  readonly mark: "read" | "memory" | "practice" | "interpretation";
  readonly edition?: string | undefined;
}

/** A number that somebody set, in the unit its name gives, with where it comes from. */
export interface Limit {
  readonly value: number;
  readonly basis: Cited;
}
