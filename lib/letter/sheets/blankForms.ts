import type { Block } from "../blocks.ts";
import { SAY } from "../catalogue.ts";
import { BOX, blank, numbered, type SheetBlock, tableOf, writeIn } from "./blocks.ts";
import { blindLines, readingLines, restoreTable, resultLines } from "./testForm.ts";

const FORMS = 2;
const FINDINGS = 18;

/** A label with lines to write behind it. */
const room = (label: string, lines: number): readonly SheetBlock[] =>
  tableOf(
    [
      { title: "", share: 22 },
      { title: "", share: 78 },
    ],
    Array.from({ length: lines }, (_, place) => [place === 0 ? label : " ".repeat(place), blank()]),
  );

const form = (number: number): readonly Block[] => [
  {
    kind: "sheetTogether",
    blocks: [
      { kind: "sheetHeading", text: SAY.carry.blankForm, note: SAY.carry.formNumber(number) },
      { kind: "sheetText", label: "", text: SAY.carry.blankNote },
      writeIn([SAY.carry.set, 6], [blank(), 26], [SAY.columns.protection, 14], [blank(), 54]),
      writeIn([SAY.columns.method, 10], [blank(), 60], [SAY.carry.consentedBy, 15], [blank(), 15]),
      ...room(SAY.carry.status, 1),
      ...room(SAY.carry.apparatus, 1),
      ...room(SAY.carry.setPoints, 1),
      ...room(SAY.carry.precautions, 2),
      ...blindLines(),
      ...tableOf(
        [
          { title: "", share: 5 },
          { title: SAY.carry.procedure, share: 83 },
          { title: SAY.carry.done, share: 12 },
        ],
        numbered(4, blank(), BOX),
      ),
      ...room(SAY.carry.expected, 2),
      ...readingLines({ acts: "", fedIn: null, compared: false }),
      ...restoreTable([blank(" "), blank("  "), SAY.carry.asFound]),
      ...resultLines(),
    ],
  },
];

/** The same form, empty, for what was not expected, and a page for findings. */
export const blankForms = (): readonly Block[] => [
  ...Array.from({ length: FORMS }, (_, place) => form(place + 1)).flat(),
  { kind: "newPage" },
  { kind: "sheetHeading", text: SAY.headings.findings, note: "" },
  { kind: "sheetText", label: "", text: SAY.carry.findingsNote },
  ...tableOf(
    [
      { title: "", share: 5 },
      { title: SAY.carry.set, share: 17 },
      { title: SAY.columns.what, share: 52 },
      { title: SAY.carry.toldTo, share: 26 },
    ],
    numbered(FINDINGS, blank(), blank(), blank()),
  ),
];
