import type { PlanProtection } from "../../plan/schema.ts";
import type { Method, Need } from "../../rulebook/types.ts";
import { SAY } from "../catalogue.ts";
import type { PlanInput } from "../protections.ts";
import { capital } from "../words.ts";
import { BOX, blank, type SheetBlock, type SheetCell, tableOf } from "./blocks.ts";

/** What is brought to the engine. Conditions are a state of the plant, and the ship's own people are named where they act. */
const isBrought = ({ kind, at }: Need): boolean =>
  kind === "equipment" || kind === "spare" || kind === "document" || (kind === "technician" && at !== undefined);

const needsOf = (methods: readonly Method[], { rulebook }: Pick<PlanInput, "rulebook">): readonly Need[] => {
  const ids = new Set(methods.flatMap(({ needs }) => needs));
  return rulebook.needs.filter(({ id }) => ids.has(id));
};

/** How the letter calls a thing, with its reference there. */
const asAsked = (need: Need, { ref }: PlanProtection, { plan }: PlanInput): string => {
  const request = plan.requests.find((own) => own.need === need.id && own.neededBy.includes(ref));
  return `${capital(need.text)}${request === undefined ? "" : ` (${request.ref})`}`;
};

const IN_DATE = /,? (?:and its )?(?:with its certificate, )?certificates? in date on the day|, in date on the day/;

/** Instruments, spares, papers and technicians, each to be ticked; what must be in date is looked at and its number written down. */
export const apparatusTable = (protection: PlanProtection, methods: readonly Method[], input: PlanInput): readonly SheetBlock[] =>
  tableOf(
    [
      { title: SAY.carry.apparatus, share: 58 },
      { title: SAY.carry.onHand, share: 12 },
      { title: SAY.carry.certificate, share: 11 },
      { title: SAY.carry.number, share: 19 },
    ],
    needsOf(methods, input)
      .filter(isBrought)
      .map((need): readonly SheetCell[] => {
        const text = asAsked(need, protection, input);
        return IN_DATE.test(text) ? [text.replace(IN_DATE, ""), BOX, BOX, blank()] : [text, BOX, "", ""];
      }),
  );

/** In what state the plant must be, as it is asked for. */
export const conditionsOf = (methods: readonly Method[], input: Pick<PlanInput, "rulebook">): readonly Need[] =>
  needsOf(methods, input).filter(({ kind }) => kind === "condition");

/** Whether more than half of all methods that run a set want it: it is then looked at once for the set. */
export const isCommon = (need: Need, { rulebook }: Pick<PlanInput, "rulebook">): boolean => {
  const running = rulebook.protections.flatMap(({ methods }) => methods).filter(({ hazard, setIs }) => hazard !== 3 && setIs === undefined);
  return 2 * running.filter(({ needs }) => needs.includes(need.id)).length > running.length;
};
