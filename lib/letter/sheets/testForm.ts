import { SAY } from "../catalogue.ts";
import { BOX, blank, type SheetBlock, type SheetCell, tableOf, writeIn } from "./blocks.ts";
import type { Reads } from "./figures.ts";

/** What is written down and ticked of every test, expected or not: the same on its sheet and on the blank form. */

/** The room for readings, a line for each place or sensor. */
export const readingLines = ({ acts, fedIn, compared }: Reads, times: number, ofSensors = false): readonly SheetBlock[] =>
  Array.from({ length: times }, (_, place): SheetBlock => {
    const which = times === 1 ? SAY.carry.actedAt : ofSensors ? SAY.carry.sensor(place + 1) : SAY.carry.place(place + 1);
    if (compared) return writeIn([SAY.carry.channelShows, 20], [blank(acts), 28], [SAY.carry.referenceShows, 20], [blank(acts), 32]);
    const fed: readonly (readonly [SheetCell, number])[] =
      fedIn === null
        ? []
        : [
            [SAY.carry.fedIn, 10],
            [blank(fedIn), 20],
          ];
    return writeIn(
      [which, 20],
      [blank(acts), fedIn === null ? 46 : 24],
      ...fed,
      [SAY.carry.after, 8],
      [blank("s"), fedIn === null ? 26 : 18],
    );
  });

/** The room for seconds, a line for each thing that is timed. */
export const timedLines = (timed: readonly string[]): readonly SheetBlock[] => timed.map((until) => writeIn([until, 32], [blank("s"), 68]));

/** What came of it, and who saw it. */
export const resultLines = (): readonly SheetBlock[] => [
  writeIn([{ box: SAY.carry.as }, 33], [{ box: SAY.carry.notAs }, 37], [{ box: SAY.carry.notDone }, 30]),
  writeIn(
    [SAY.columns.because, 10],
    [blank(), 23],
    [SAY.carry.witness, 9],
    [blank(), 14],
    [SAY.carry.ship, 6],
    [blank(), 14],
    [SAY.carry.time, 6],
    [blank(), 18],
  ),
];

/** What is put back, each line ticked and initialled by both sides. */
export const restoreTable = (lines: readonly SheetCell[]): readonly SheetBlock[] =>
  tableOf(
    [
      { title: SAY.carry.restore, share: 65 },
      { title: SAY.carry.done, share: 9 },
      { title: SAY.carry.ship, share: 13 },
      { title: SAY.carry.witness, share: 13 },
    ],
    lines.map((line) => [line, BOX, blank(), blank()]),
  );

/** The safeguards of a blind channel, with who keeps them and how long. */
export const blindLines = (): readonly SheetBlock[] => [
  writeIn([SAY.carry.watchedBy, 24], [blank(), 28], [SAY.carry.atHandStop, 18], [blank(), 30]),
  writeIn(
    [{ box: SAY.carry.othersAlive }, 38],
    [SAY.carry.blindFrom, 11],
    [blank(), 12],
    [SAY.carry.blindTo, 4],
    [blank(), 12],
    [{ box: SAY.carry.channelBack }, 23],
  ),
];
