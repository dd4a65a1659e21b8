import type { DayLane, DayLine, DayNote, DayPlan } from "../plan/day/types.ts";
import { capital } from "../plan/say.ts";
import type { Minute, Span } from "../schedule/problem.ts";
import { type Band, headed } from "./band.ts";
import { clockSpan, type DayAxis, dayAt, ground } from "./dayAxis.ts";
import { hatching, rounded } from "./hatching.ts";
import { ROOM, widthOf } from "./lettering.ts";
import type { Leading, Plain, Strokes, Words } from "./shapes.ts";

const BETWEEN = 2;
/** Of references; words are a little smaller, since they are longer. What is written upwards is larger where it can. */
const [SIZE, SMALLER, UPWARDS] = [9, 8.5, 11] as const;
/** Smaller letters than these, 7 pt on paper, are not read: what has no room for them stands in the table alone. */
const SMALLEST = 8.2;
/** A bar narrower than this has no room for a word, not even for one that is written upwards. */
const NARROWEST = 7;
/** Above the bars: hot stops. Beneath: where a channel is blind, how long a technician attends. Where there is no such mark, an edge. */
const [ABOVE, BENEATH, EDGE, GAP] = [7, 6, 1, 4] as const;
const RESTART_APART = 3.5;

/** The id of a task's row where its day is told as a table. An id of a page has no spaces. */
export const rowOf = (task: string): string => `task-${task.replace(/[^\w-]/g, "-")}`;

/** The references of a task: its own and those of the tests that are done with it. */
export const refsOf = ({ ref, also = [] }: DayLine): readonly string[] => (ref === undefined ? [] : [ref, ...also]);

/** What a bar is called, the best first: its references; else the first words of what it is, or the part of the day, or the first word of that. */
const namesOf = (line: DayLine): readonly string[] => {
  const { ref, also = [], what, phase } = line;
  if (ref !== undefined) return [refsOf(line).join(", "), ...(also.length > 0 ? [`${ref} +${also.length}`] : []), ref];
  return [what.split(/[,:;(]/)[0]?.trim() ?? "", capital(phase), capital(phase.split(/[- ]/)[0] ?? "")];
};

/** The lanes that a task takes, of some kinds or of all. */
export const lanesOf = ({ lanes }: DayPlan, { takes }: DayLine, ...kinds: readonly DayLane["kind"][]): readonly DayLane[] =>
  lanes.filter(({ id, kind }) => (kinds.length === 0 || kinds.includes(kind)) && takes.some(({ lane }) => lane === id));

/** The sets that a task takes, by name; empty where it takes none. */
export const setNamesOf = (plan: DayPlan, line: DayLine): string =>
  lanesOf(plan, line, "set")
    .map(({ label }) => label)
    .join(", ");

/** The tasks of one day. */
export const linesOfDay = (plan: DayPlan, day: number): readonly DayLine[] =>
  plan.lines.filter(({ begins }) => dayAt(plan, begins) === day);

/** The tasks of one day and what is told between them, in their order. */
export const withNotes = (plan: DayPlan, day: number): readonly (DayLine | DayNote)[] => {
  const beginOf = (one: DayLine | DayNote): Minute => ("says" in one ? one.from : one.begins);
  return [...linesOfDay(plan, day), ...plan.notes.filter(({ from }) => dayAt(plan, from) === day)].sort((a, b) => beginOf(a) - beginOf(b));
};

const saysOf = (plan: DayPlan, line: DayLine): string =>
  [`${refsOf(line).join(", ")} ${line.what}`.trim(), setNamesOf(plan, line), clockSpan(line.begins, line.ends)]
    .filter((part) => part !== "")
    .join(", ");

/** From the first task of a lane to the end of its last; null where it has none of these. */
const attendanceOf = (lines: readonly DayLine[], lane: string): Span | null => {
  const own = lines.flatMap(({ begins, takes }) => takes.filter((take) => take.lane === lane).map(({ to }) => ({ from: begins, to })));
  return own.length === 0 ? null : { from: Math.min(...own.map(({ from }) => from)), to: Math.max(...own.map(({ to }) => to)) };
};

/** What a lane is called, and for a technician how long he attends. */
const nameOf = ({ kind, label }: DayLane, attends: Span | null): string =>
  kind === "technician" && attends !== null ? `${label}: attends ${clockSpan(attends.from, attends.to)}` : label;

/** A task as one lane has it. */
interface Bar {
  readonly line: DayLine;
  readonly from: Minute;
  readonly to: Minute;
  /** Who can do two things at once has two rows. */
  readonly row: number;
}

/** The tasks of a lane in a time, each in the first row that is free. */
const barsOf = (lines: readonly DayLine[], lane: string, span: Span): readonly Bar[] => {
  const free: Minute[] = [];
  return lines.flatMap((line): readonly Bar[] => {
    const to = line.takes.find((take) => take.lane === lane)?.to;
    if (to === undefined || to <= line.begins || line.begins >= span.to || to <= span.from) return [];
    const found = free.findIndex((at) => at <= line.begins);
    const row = found < 0 ? free.length : found;
    free[row] = to;
    return [{ line, from: line.begins, to, row }];
  });
};

/** The parts of a bar across: the task, its restart, and as far as nothing stands behind it. */
interface Across {
  readonly x: number;
  readonly restart: number;
  readonly end: number;
  readonly free: number;
}

const hatchedPart = ({ restart, end }: Across, y: number, height: number): readonly Strokes[] =>
  restart < end && height > 0 ? restartOf(restart, y, end - restart, height) : [];

/** Letters reach about so much of their height below the middle of a line. */
const DOWN = 0.35;

/** A word in the middle of a bar, written upwards as large as there is room; null where it could not be read. */
const upwards = (words: string, x: number, width: number, y: number, tall: number): Words | null => {
  const size = rounded(Math.min(UPWARDS, Math.max(SMALLEST, width), tall / (widthOf(words, 1) * ROOM)));
  return width >= NARROWEST && size >= SMALLEST
    ? { words, size, anchor: "middle", at: [rounded(x + width / 2 + size * DOWN), y + tall / 2], turned: true }
    : null;
};

/** A word in the middle of a bar, across where there is room, else upwards. */
const inside = (words: string, size: number, x: number, width: number, y: number, tall: number): Words | null =>
  widthOf(words, size) + 1 <= width
    ? { words, size, anchor: "middle", at: [rounded(x + width / 2), rounded(y + tall / 2 + size * DOWN)] }
    : upwards(words, x, width, y, tall);

/** The first that is made of a name; null where nothing is made of any. */
const firstOf = <Made>(names: readonly string[], made: (name: string) => Made | null): Made | null => {
  for (const name of names) {
    const one = made(name);
    if (one !== null) return one;
  }
  return null;
};

/**
 * The name of a bar with its restart: the best name that has room in the task; else behind the bar, where that is free; else upwards over
 * the whole bar, the hatching left out for it. Where there is no room the table has it.
 */
const namedBar = (line: DayLine, across: Across, y: number, tall: number): readonly Plain[] => {
  const { x, restart, end, free } = across;
  const names = namesOf(line);
  const size = refsOf(line).length === 1 ? SIZE : SMALLER;
  const beside = (words: string): Words | null =>
    widthOf(words, size) * ROOM + 4 <= free - end ? { words, at: [rounded(end + 2), rounded(y + tall / 2 + size * DOWN)], size } : null;
  const word = firstOf(names, (name) => inside(name, size, x, restart - x, y, tall)) ?? firstOf(names, beside);
  if (word !== null) return [...hatchedPart(across, y, tall), word];
  const over = firstOf(names, (name) => upwards(name, x, end - x, y, tall));
  if (over === null) return hatchedPart(across, y, tall);
  const room = (tall - widthOf(over.words, over.size ?? size) - 2) / 2;
  return [...hatchedPart(across, y, room), ...hatchedPart(across, y + tall - room, room), over];
};

/** Triangles that stand on their tip where a set is stopped hot, the last of them at `x`. */
export const hotStops = (count: number, x: number, y: number): Strokes => ({
  strokes: Array.from({ length: count }, (_, place) => {
    const at = x - place * 7;
    return [
      [at - 3, y - 6],
      [at + 3, y - 6],
      [at, y - 1],
    ];
  }),
  filled: true,
});

/** Restart and reinstatement: hatched, behind a line of its own. */
export const restartOf = (x: number, y: number, width: number, height: number): readonly Strokes[] => [
  hatching([x, y, width, height], RESTART_APART),
  {
    strokes: [
      [
        [x, y],
        [x, y + height],
      ],
    ],
  },
];

/** Under a bar: the channel is blind so long. */
export const blindMark = (x: number, end: number, y: number): Strokes => ({
  strokes: [
    [
      [x, y],
      [end, y],
    ],
  ],
  pen: "dotted",
});

/** From where to where somebody attends; where he was there before or stays after, that end is open. */
export const bracket = (x: number, end: number, y: number, comes = true, goes = true): Strokes => ({
  strokes: [[...(comes ? [[x, y - 4] as const] : []), [x, y], [end, y], ...(goes ? [[end, y - 4] as const] : [])]],
  pen: "heavy",
});

/** One task on one lane, which leads to its row; once only, from the lane of its set, else from the first that it takes. */
const barShapes = (
  plan: DayPlan,
  axis: DayAxis,
  lane: DayLane,
  bar: Bar,
  bars: readonly Bar[],
  [top, tall]: readonly [top: number, tall: number],
): Leading => {
  const { line } = bar;
  const y = top + bar.row * (tall + BETWEEN);
  const at = (minute: Minute): number => axis.x(Math.min(axis.span.to, Math.max(axis.span.from, minute)));
  const [x, end, stops] = [at(bar.from), at(bar.to), line.ends - line.restart];
  const restart = Math.min(end, at(stops));
  const later = [...bars.filter(({ row }) => row === bar.row), ...axis.closed].map(({ from }) => from).filter((from) => from >= bar.to);
  const marks: readonly Plain[] =
    lane.kind !== "set"
      ? []
      : [
          ...(line.hotStops > 0 && stops >= axis.span.from && stops <= axis.span.to ? [hotStops(line.hotStops, at(stops), y)] : []),
          ...(line.blind === true ? [blindMark(x, end, y + tall + BENEATH / 2)] : []),
        ];
  const leads = lanesOf(plan, line, "set")[0] ?? lanesOf(plan, line)[0];
  return {
    to: rowOf(line.id),
    says: saysOf(plan, line),
    ...(leads?.id === lane.id ? {} : { again: true }),
    shapes: [
      { box: [x, y, rounded(end - x), tall], covering: true, ...(line.grave === true ? { heavy: true } : {}) },
      ...namedBar(line, { x, restart, end, free: at(Math.min(axis.span.to, ...later)) }, y, tall),
      ...marks,
    ],
  };
};

const attending = ({ span, x }: DayAxis, { from, to }: Span, y: number): Strokes =>
  bracket(x(Math.max(from, span.from)), x(Math.min(to, span.to)), y, from >= span.from, to <= span.to);

/** A lane in a time with its tasks; null where it has none then. */
const laneBand = (plan: DayPlan, axis: DayAxis, lane: DayLane, ofDay: readonly DayLine[], bar: number): Band | null => {
  const bars = barsOf(ofDay, lane.id, axis.span);
  if (bars.length === 0) return null;
  const rows = Math.max(...bars.map(({ row }) => row)) + 1;
  const above = bars.some(({ line }) => line.hotStops > 0) && lane.kind === "set" ? ABOVE : EDGE;
  const marked = lane.kind === "technician" || (lane.kind === "set" && bars.some(({ line }) => line.blind === true));
  const beneath = marked ? BENEATH : EDGE;
  const tall = rows * (bar + BETWEEN) - BETWEEN;
  const attends = attendanceOf(ofDay, lane.id);
  return headed(axis, nameOf(lane, attends), {
    height: above + tall + beneath + GAP,
    shapes: (top) => [
      ...ground(axis, top, above + tall + beneath),
      ...bars.map((one) => barShapes(plan, axis, lane, one, bars, [top + above, bar])),
      ...(lane.kind === "technician" && attends !== null ? [attending(axis, attends, top + above + tall + beneath - 1)] : []),
    ],
  });
};

/** The lanes that have something to do in the time of an axis, in the plan's order, with bars so tall. */
export const laneBands = (plan: DayPlan, axis: DayAxis, ofDay: readonly DayLine[], bar: number): readonly Band[] =>
  plan.lanes.flatMap((lane) => laneBand(plan, axis, lane, ofDay, bar) ?? []);

/** Lane by lane what stands there when, in words. */
export const lanesSaid = (plan: DayPlan, axis: DayAxis, ofDay: readonly DayLine[]): string =>
  plan.lanes
    .flatMap((lane) => {
      const bars = barsOf(ofDay, lane.id, axis.span);
      const told = bars.map(({ line, from, to }) => `${namesOf(line)[0]} ${clockSpan(from, to)}`).join("; ");
      return bars.length === 0 ? [] : [`${nameOf(lane, attendanceOf(ofDay, lane.id))}. ${told}.`];
    })
    .join(" ");
