import type { Weighed } from "../../lib/reply/weigh.ts";
import type { Choice } from "../../lib/usecases/exchange/choice.ts";
import { textIn } from "./gate.ts";

const LONGEST_REASON = 2_000;

/** What a form chooses of a weighed reply; what it names besides is passed over. */
export const choiceIn = (form: FormData, weighed: readonly Weighed[]): Choice => {
  const ticked = new Set(form.getAll("plain").map(String));
  const others = weighed.filter(({ plain }) => !plain);
  return {
    plain: weighed.filter(({ ref, plain }) => plain && ticked.has(ref)).map(({ ref }) => ref),
    others: Object.fromEntries(
      others.flatMap(({ ref }) => {
        const chosen = textIn(form, `other.${ref}`);
        return chosen === "take" || chosen === "leave" ? [[ref, chosen] as const] : [];
      }),
    ),
    reasons: Object.fromEntries(
      others.flatMap(({ ref }) => {
        const reason = textIn(form, `reason.${ref}`).slice(0, LONGEST_REASON);
        return reason.trim() === "" ? [] : [[ref, reason] as const];
      }),
    ),
  };
};
