import { ONE_OF_TWO, TWO_OF_THREE } from "../model/facts/channel.ts";
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
