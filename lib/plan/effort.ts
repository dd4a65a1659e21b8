import type { DecidedVisit } from "../decide/visit.ts";
import { resolve } from "../model/fact.ts";
import { ONE_OF_TWO, TWO_OF_THREE } from "../model/facts/channel.ts";
import type { ReadVisit } from "../model/read.ts";
import type { Method } from "../rulebook/types.ts";

/** What a method takes on one set: minutes, stops and starts, each as often as the method is done there. */
export interface Effort {
  readonly minutes: number;
  readonly stops: number;
  readonly starts: number;
}

/** How many more sensors than one there are, by the answer: each is proven. */
const MORE_SENSORS: Readonly<Record<string, number>> = { [ONE_OF_TWO]: 1, [TWO_OF_THREE]: 2 };

/** How often a method is done on one set: once, and once more for each of what `repeats` counts or names, where that is known. */
export const effortOf = (
  { minutes, stops, starts, repeats }: Method,
  answer: (template: string) => string | number | undefined,
): Effort => {
  const more = repeats === undefined ? 0 : answer(repeats);
  const times = 1 + (typeof more === "number" ? more : (MORE_SENSORS[more ?? ""] ?? 0));
  return { minutes: minutes * times, stops: stops * times, starts: starts * times };
};

/** What the planned methods take on one set: the minutes, and the stops and starts with the first start of the day. */
export const effortOnSet = (decided: DecidedVisit, read: ReadVisit, set: number): Effort => {
  const efforts = decided.protections
    .filter((protection) => protection.set === set)
    .flatMap(({ prepared, remaining, sisters }) =>
      prepared.compiled.methods
        .filter(({ method }) => remaining[0]?.methods.includes(method.id))
        .map(({ method }) => effortOf(method, (template) => read.answers.get(resolve(template, set, sisters)))),
    );
  const sum = (of: (effort: Effort) => number): number => efforts.reduce((total, effort) => total + of(effort), 0);
  const starts = sum((effort) => effort.starts);
  return { minutes: sum((effort) => effort.minutes), stops: sum((effort) => effort.stops), starts: starts === 0 ? 0 : starts + 1 };
};
