import type { Box, Drawing, Line, Words } from "./shapes.ts";

type Shape = Line | Box | Words;

const shifted = (dx: number, shapes: readonly Shape[]): readonly Shape[] =>
  shapes.map((shape): Shape => {
    if ("line" in shape) return { ...shape, line: [shape.line[0] + dx, shape.line[1], shape.line[2] + dx, shape.line[3]] };
    if ("box" in shape) return { ...shape, box: [shape.box[0] + dx, shape.box[1], shape.box[2], shape.box[3]] };
    return { ...shape, at: [shape.at[0] + dx, shape.at[1]] };
  });

const wall = (from: number, to: number): Shape => ({ line: [from, 34, to, 34], heavy: true });
const sensorAndLead: readonly Shape[] = [{ box: [56, 12, 8, 52], filled: true }, { line: [60, 12, 60, 6] }, { line: [60, 6, 92, 6] }];

const dry: readonly Shape[] = [
  wall(4, 51),
  wall(69, 116),
  { line: [51, 34, 51, 70], heavy: true },
  { line: [69, 34, 69, 70], heavy: true },
  { line: [51, 70, 69, 70], heavy: true },
  ...sensorAndLead,
  { words: "lead", at: [96, 9] },
  { words: "coolant", at: [8, 56] },
  { words: "Dry well: the sensor slides out,", at: [4, 86] },
  { words: "the coolant stays in.", at: [4, 96] },
];

const wet: readonly Shape[] = [
  wall(4, 54),
  wall(66, 116),
  { box: [50, 26, 20, 8] },
  ...sensorAndLead,
  { words: "lead", at: [96, 9] },
  { words: "thread", at: [74, 30] },
  { words: "coolant", at: [8, 56] },
  { words: "Wetted: the coolant comes out", at: [4, 86] },
  { words: "with the sensor.", at: [4, 96] },
];

/** A valve as the trade draws it: two triangles, tip to tip. */
const valve = (x: number, y: number): readonly Shape[] => [
  { line: [x - 7, y - 5, x + 7, y + 5] },
  { line: [x - 7, y + 5, x + 7, y - 5] },
  { line: [x - 7, y - 5, x - 7, y + 5] },
  { line: [x + 7, y - 5, x + 7, y + 5] },
];

const standingValve = (x: number, y: number): readonly Shape[] => [
  { line: [x - 5, y - 7, x + 5, y + 7] },
  { line: [x + 5, y - 7, x - 5, y + 7] },
  { line: [x - 5, y - 7, x + 5, y - 7] },
  { line: [x - 5, y + 7, x + 5, y + 7] },
];

/** A dry well beside a wetted sensor: what comes out with the sensor. */
export const wells: Drawing = {
  width: 290,
  height: 100,
  says: "Two drawings. Left, a dry well: the sensor stands in a closed pocket and slides out while the coolant stays in. Right, a wetted sensor: it is screwed through the wall, its tip in the coolant, and where it comes out the coolant does too.",
  shapes: [...dry, ...shifted(150, wet)],
};

/** The sensing line of an oil-pressure sensor: where it can be shut, bled and pumped. */
export const sensingLine: Drawing = {
  width: 290,
  height: 100,
  says: "The sensing line of an oil-pressure sensor: from the engine through an isolating valve to the sensor; between valve and sensor a test cock that bleeds the line and a connection for a test pump.",
  shapes: [
    { line: [6, 20, 6, 70], heavy: true },
    { words: "engine", at: [10, 82] },
    { line: [6, 45, 63, 45] },
    ...valve(70, 45),
    { words: "isolating valve", at: [44, 64] },
    { line: [77, 45, 220, 45] },
    { line: [120, 45, 120, 61] },
    ...standingValve(120, 68),
    { words: "test cock", at: [104, 86] },
    { line: [165, 45, 165, 26] },
    { line: [159, 26, 171, 26], heavy: true },
    { words: "connection for a test pump", at: [126, 18] },
    { box: [220, 37, 26, 16], filled: true },
    { words: "sensor", at: [220, 64] },
  ],
};
