type Answers = ReadonlyMap<string, string | number>;

export const numberIn = (answers: Answers, at: string): number | undefined => {
  const value = answers.get(at);
  return typeof value === "number" ? value : undefined;
};

/**
 * Rated powers in kW of the ship-service sets that carry the ship beside one, those with an open defect left out; undefined where
 * there is none or a power is not known.
 */
export const othersThatCarry = (answers: Answers, sets: number, beside: number): readonly number[] | undefined => {
  const all = Array.from({ length: sets }, (_, other) => other)
    .filter(
      (other) =>
        other !== beside && answers.get(`/sets/${other}/role`) === "ship service" && answers.get(`/sets/${other}/openDefects`) !== "some",
    )
    .map((other) => numberIn(answers, `/sets/${other}/plate/ratedPower`));
  const known = all.filter((power) => power !== undefined);
  return known.length === 0 || known.length < all.length ? undefined : known;
};
