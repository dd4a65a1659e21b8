import { type FactSpec, said } from "../model/fact.ts";
import { specsBy } from "../model/places.ts";
import type { ReadVisit } from "../model/read.ts";
import type { Rulebook } from "../rulebook/types.ts";
import { formatNumber, formatQuantity, isUnit, type UnitSystem } from "../units/units.ts";
import { setIn } from "./places.ts";
import { sayTolerance } from "./readable.ts";
import type { Plan } from "./schema.ts";

/** A fact that decisions rest on, at its place. */
export interface KnownFact {
  readonly at: string;
  readonly spec: FactSpec;
  /** In the fact's own unit. */
  readonly answer: string | number;
  /** Nobody gave it: it follows from other answers or is the office's usual one. */
  readonly ours: boolean;
}

/** Whether a pointer or a template leads to what of a set's plate the figures lean on: power and speed. */
export const isPlate = (at: string): boolean => /^\/sets\/(\d+|\*)\/plate\/rated(Power|Speed)$/.test(at);

/** Whether the vessel can say otherwise: how the office works is its own to say. */
export const isVessels = (at: string): boolean => !at.startsWith("/policy/");

/** The known facts that decisions rest on and the plates of the sets: in the order of the rulebook, the same fact of several sets together. Pure. */
export const knownFacts = (
  { sets }: Pick<Plan, "sets">,
  { answers, given }: Pick<ReadVisit, "answers" | "given">,
  { facts, protections }: Rulebook,
): readonly KnownFact[] => {
  const specAt = specsBy(facts);
  const place = new Map(facts.map(({ at }, position) => [at, position]));
  // What only says that a protection does not apply stands with those that are not proven.
  const told = new Set(protections.flatMap(({ kind, besideAnother }) => (besideAnother === true ? [kind] : [])));
  const named = sets.flatMap((set) =>
    set.protections.flatMap(({ kind, applies, decision }) => (applies === "no" && !told.has(kind) ? [] : decision.because)),
  );
  // The plate decides little, but every figure of a test leans on it: it stands here for the ship to compare.
  const known = [...new Set([...named, ...[...given].filter(isPlate)])].flatMap((at): readonly KnownFact[] => {
    const [spec, answer] = [specAt(at), answers.get(at)];
    return spec === undefined || answer === undefined ? [] : [{ at, spec, answer, ours: !given.has(at) }];
  });
  return known.sort(
    (one, other) => (place.get(one.spec.at) ?? 0) - (place.get(other.spec.at) ?? 0) || (setIn(one.at) ?? -1) - (setIn(other.at) ?? -1),
  );
};

/** What a fact was taken to be, as it is told. */
export const knownWords = ({ spec, answer }: Pick<KnownFact, "spec" | "answer">, units: UnitSystem): string => {
  if (typeof answer === "string") return spec.at.endsWith("/approvedStep") && answer === "none" ? "none" : said(spec, answer);
  if (spec.unit === undefined || !isUnit(spec.unit)) return formatNumber(answer, 3);
  return spec.difference === true ? sayTolerance(answer, spec.unit, units) : formatQuantity(answer, spec.unit, units);
};
