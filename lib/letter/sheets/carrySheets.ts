import type { DayPlan } from "../../plan/day/types.ts";
import type { Block, Letter } from "../blocks.ts";
import { SAY } from "../catalogue.ts";
import type { PlanInput } from "../protections.ts";
import { sheetOf } from "../sheet.ts";
import { capital, protectionOf } from "../words.ts";
import { asLeftPage } from "./asLeft.ts";
import { blankForms } from "./blankForms.ts";
import { blank, type SheetBlock, writeIn } from "./blocks.ts";
import { dayPages } from "./dayPages.ts";
import { rulebookOf } from "./mover.ts";
import { isLeftOut, testsOn, withoutWay } from "./order.ts";
import { leftOutPage, setPage } from "./setPage.ts";
import { testSheet } from "./testSheet.ts";

/** A protection that cannot be tested is said on the page of its set, since it has no sheet, with room for what is agreed instead. */
const noWayBlocks = (set: number, { plan, rulebook }: PlanInput): readonly SheetBlock[] =>
  withoutWay(set, plan).map(({ protection: { ref, kind } }) => ({
    kind: "sheetTogether",
    blocks: [
      {
        kind: "sheetText",
        label: `${ref}  ${capital(protectionOf(rulebook, kind)?.name ?? kind)}.`,
        text: SAY.carry.noWay,
        strong: true,
      },
      writeIn([SAY.carry.agreedInstead, 25], [blank(), 75]),
      writeIn([SAY.carry.witness, 25], [blank(), 25], [SAY.carry.ship, 10], [blank(), 40]),
    ],
  }));

const setBlocks = (set: number, visit: PlanInput, day: DayPlan | null): readonly Block[] => {
  const input = { ...visit, rulebook: rulebookOf(set, visit) };
  const tests = testsOn(set, input.plan, day);
  const [on, out] = [tests.filter((test) => !isLeftOut(test)), tests.filter(isLeftOut)];
  return [
    { kind: "newPage" },
    ...setPage(set, tests, input, day),
    ...noWayBlocks(set, input),
    ...on.map((test) => testSheet(test, input)),
    ...(on.length > 0 && out.length > 0 ? leftOutPage(set, out, input) : []),
    ...out.map((test) => testSheet(test, input)),
  ];
};

/** The sets by their numbers; those of which nothing is on the days last, so that what is carried is one pile. */
const setsInOrder = ({ plan }: PlanInput, day: DayPlan | null): readonly number[] => {
  const stays = (set: number): boolean => testsOn(set, plan, day).every(isLeftOut);
  return plan.sets.map((_, set) => set).toSorted((one, other) => Number(stays(one)) - Number(stays(other)));
};

/**
 * The sheets that are carried aboard: the day, every set with every planned test in the form of a written procedure, how it is left, and blank
 * forms. In the order of the day where there is one, what is on no day last; else in the plan's. Each day is drawn beside its table.
 */
export const carrySheetsOf = (input: PlanInput, day: DayPlan | null): Letter =>
  sheetOf(input, SAY.carry.name, [
    ...dayPages(input, day),
    ...setsInOrder(input, day).flatMap((set) => setBlocks(set, input, day)),
    ...asLeftPage(input.plan),
    ...blankForms(),
  ]);
