import { longDate } from "../../lib/plan/longDate.ts";
import { adoptedIn, type PolicyVersion } from "../../lib/usecases/policy/inForce.ts";

/** What became of a policy, in a few words: of the history, and of its own page. */
export const standingWords = (
  { number, decided }: PolicyVersion,
  versions: readonly PolicyVersion[],
  inForce: number,
  today: string,
): string => {
  if (decided === null) return "a draft that is being weighed";
  if (decided.act === "dropped") return "dropped";
  if (number === inForce) return `in force since ${longDate(decided.takesEffect)}`;
  const replaced = adoptedIn(versions).find(
    (other) =>
      other.decided.number > decided.number &&
      other.decided.takesEffect <= decided.takesEffect &&
      other.decided.when.slice(0, 10) < decided.takesEffect,
  );
  if (replaced !== undefined) return `never in force: policy ${replaced.number} took its place before ${longDate(decided.takesEffect)}`;
  return decided.takesEffect > today
    ? `takes effect on ${longDate(decided.takesEffect)}`
    : `was in force from ${longDate(decided.takesEffect)}`;
};
