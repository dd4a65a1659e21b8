import type { Weighed } from "../../lib/reply/weigh.ts";
import { type Choice, keepChoice } from "../../lib/usecases/exchange/choice.ts";
import { weighReply } from "../../lib/usecases/exchange/takeIn.ts";
import { sentOfVisit } from "./exchange.ts";
import { textIn, type Writing } from "./gate.ts";

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

/** Keeps what was chosen by somebody who was signed out meanwhile, so that it stands there again. */
export const rescueChoice = async ({ office, form, params }: Writing, who: string): Promise<void> => {
  const { store, planner, world } = office;
  const visit = String(params["visit"] ?? "");
  const [stored, sent] = [await store.visit(visit), await sentOfVisit(office, visit, String(params["sent"] ?? ""))];
  if (stored === null || sent === null) return;
  const weighed = await weighReply({ store, planner }, stored, sent);
  if (weighed.ok && !weighed.value.done)
    await keepChoice(store, { visit, sent: sent.id }, choiceIn(form, weighed.value.weighed), { who, when: world.now() });
};
