import { ONE_OF_TWO, TWO_OF_THREE } from "../../model/facts/channel.ts";
import type { Reading } from "../../rulebook/types.ts";
import { SAY } from "../catalogue.ts";
import { capital } from "../words.ts";
import { BOX, blank, numbered, type SheetBlock, type SheetCell, tableOf, tickList, writeIn } from "./blocks.ts";
import type { Reads } from "./figures.ts";

/** What is written down and ticked of every test, expected or not: the same on its sheet and on the blank form. */

/** The room for readings, a line for each of what is read. */
export const readingLines = ({ acts, fedIn, compared }: Reads, names: readonly string[] = [SAY.carry.actedAt]): readonly SheetBlock[] =>
  names.map((which): SheetBlock => {
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

/**
 * The room for what is read of a channel with several sensors, by how they vote: where either acts, each alone; where two of three do, the
 * deviation of each alone is ticked, and each pair is read.
 */
export const sensorLines = (reads: Reads, vote: string | number | undefined): readonly SheetBlock[] => {
  const { aloneOf, alone, pair } = SAY.carry.sensors;
  switch (vote) {
    case ONE_OF_TWO:
      return readingLines(reads, [1, 2].map(aloneOf));
    case TWO_OF_THREE:
      return [...tickList("", [1, 2, 3].map(alone)), ...readingLines(reads, [pair(1, 2), pair(2, 3), pair(1, 3)])];
    default:
      return readingLines(reads);
  }
};

/** The room for several values of one act, each under its name; what has no seconds stands two in a line. */
export const namedLines = (reads: readonly Reading[], acts: string): readonly SheetBlock[] => {
  const nameOf = ({ name }: Reading): SheetCell => capital(name);
  const unitOf = ({ unit }: Reading): SheetCell => blank(unit ?? acts);
  const untimed = reads.filter((own) => own.untimed === true);
  const pairs = Array.from({ length: Math.ceil(untimed.length / 2) }, (_, place) => untimed.slice(2 * place, 2 * place + 2));
  return [
    ...pairs.map((pair) =>
      writeIn(
        ...pair.flatMap((own): readonly (readonly [SheetCell, number])[] => [
          [nameOf(own), 24],
          [unitOf(own), 26],
        ]),
      ),
    ),
    ...reads
      .filter((own) => own.untimed !== true)
      .map((own) => writeIn([nameOf(own), 32], [unitOf(own), 34], [SAY.carry.after, 8], [blank("s"), 26])),
  ];
};

/** Each place that a set is stopped from, with ticks and seconds of its own; one of which it is not known how many there are has a name to write. */
export const placeTable = (handStop: string, further: number | null, running: boolean): readonly SheetBlock[] =>
  tableOf(
    [
      { title: SAY.carry.places, share: 42 },
      { title: SAY.carry.acts, share: 10 },
      ...(running ? [{ title: SAY.carry.breakerOpen, share: 17 }] : []),
      { title: SAY.carry.reset, share: 11 },
      { title: SAY.carry.seconds, share: running ? 20 : 37 },
    ],
    [handStop, ...(further === null ? [blank()] : Array.from({ length: further }, (_, place) => SAY.carry.emergencyStop(place + 1)))].map(
      (place) => [place, BOX, ...(running ? [BOX] : []), BOX, blank("s")],
    ),
  );

/** So many lines stand ready where it is not known how many are wanted. */
const LINES_IN_TURN = 4;

/** What a test is done at one after the other, each to be named, ticked and read. */
export const inTurnTable = (title: string, { acts, fedIn }: Reads): readonly SheetBlock[] =>
  tableOf(
    [
      { title: "", share: 5 },
      { title, share: 41 },
      { title: SAY.carry.acts, share: 12 },
      { title: SAY.carry.putBack, share: 16 },
      { title: SAY.carry.readAt, share: 26 },
    ],
    numbered(LINES_IN_TURN, blank(), BOX, BOX, blank(fedIn ?? acts)),
  );

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
export const blindLines = (say: (text: string) => string = (text) => text): readonly SheetBlock[] => [
  writeIn([SAY.carry.watchedBy, 24], [blank(), 28], [say(SAY.carry.atHandStop), 18], [blank(), 30]),
  writeIn(
    [{ box: SAY.carry.othersAlive }, 38],
    [SAY.carry.blindFrom, 11],
    [blank(), 12],
    [SAY.carry.blindTo, 4],
    [blank(), 12],
    [{ box: SAY.carry.channelBack }, 23],
  ),
];
