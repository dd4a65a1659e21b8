import type { Plan } from "../../plan/schema.ts";
import type { Block } from "../blocks.ts";
import { SAY } from "../catalogue.ts";
import { BOX, blank, numbered, type SheetBlock, tableOf } from "./blocks.ts";

/** So many sets stand side by side. */
const SIDE_BY_SIDE = 4;
const OPEN_POINTS = 6;

/** Each point of what is left behind, to be ticked for every set. */
const points = ({ sets }: Plan): readonly SheetBlock[] =>
  Array.from({ length: Math.ceil(sets.length / SIDE_BY_SIDE) }, (_, part) =>
    sets.slice(part * SIDE_BY_SIDE, (part + 1) * SIDE_BY_SIDE),
  ).flatMap((own) =>
    tableOf(
      [{ title: SAY.carry.onEverySet, share: 40 }, ...own.map(({ name }) => ({ title: name, share: 60 / own.length }))],
      SAY.carry.leftPoints.map((point) => [point, ...own.map(() => BOX)]),
    ),
  );

/** The last page of the visit: everything as it was found, and the results told and signed before leaving. */
export const asLeftPage = (plan: Plan): readonly Block[] => [
  { kind: "newPage" },
  { kind: "sheetHeading", text: SAY.carry.asLeft, note: plan.visit.vessel },
  ...points(plan),
  ...tableOf(
    [
      { title: "", share: 5 },
      { title: SAY.carry.openPoints, share: 69 },
      { title: SAY.carry.toldTo, share: 26 },
    ],
    numbered(OPEN_POINTS, blank(), blank()),
  ),
  {
    kind: "sheetTogether",
    blocks: tableOf(
      [
        { title: SAY.carry.leftTold, share: 24 },
        { title: SAY.columns.name, share: 28 },
        { title: SAY.carry.signature, share: 28 },
        { title: SAY.carry.time, share: 20 },
      ],
      [SAY.carry.forShip, SAY.carry.inspector].map((who) => [who, blank(), blank(), blank()]),
    ),
  },
];
