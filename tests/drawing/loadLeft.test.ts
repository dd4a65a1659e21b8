import fc from "fast-check";
import { expect, test } from "vitest";
import { loadLeftDrawing } from "../../lib/drawing/loadLeft.ts";
import { sensingLine, wells } from "../../lib/drawing/sensors.ts";
import type { Drawing } from "../../lib/drawing/shapes.ts";
import { type LoadLeftInput, loadLeft } from "../../lib/figures/loadLeft.ts";
import { outside } from "./outside.ts";

const drawn = (input: LoadLeftInput): Drawing => {
  const left = loadLeft(input);
  if (!left.ok) throw new Error(left.faults.join());
  return loadLeftDrawing(input, left.value);
};

const boxesOf = ({ shapes }: Drawing) => shapes.flatMap((shape) => ("box" in shape ? [shape] : []));

const kw = fc.integer({ min: 1, max: 20_000 });

test("the load is drawn to scale against the rating, at every size, and nothing leaves the drawing", () => {
  fc.assert(
    fc.property(
      fc.record({
        shipLoadKw: kw,
        motoringKw: kw,
        largestStarterKw: fc.oneof(fc.constant(0), kw),
        remainingRatedKw: fc.array(kw, { minLength: 1, maxLength: 7 }),
        limitPercent: fc.integer({ min: 50, max: 110 }),
      }),
      (input) => {
        const drawing = drawn(input);
        const boxes = boxesOf(drawing);
        const rated = boxes.slice(0, input.remainingRatedKw.length);
        const load = boxes.slice(input.remainingRatedKw.length);
        const widths = (all: typeof boxes): number => all.reduce((sum, { box }) => sum + box[2], 0);
        const total = input.shipLoadKw + input.motoringKw + input.largestStarterKw;
        const capacity = input.remainingRatedKw.reduce((sum, own) => sum + own, 0);
        expect(widths(load) / widths(rated)).toBeCloseTo(total / capacity, 6);
        expect(load.filter(({ filled }) => filled === true)).toHaveLength(1);
        expect(outside(drawing)).toEqual([]);
      },
    ),
  );
});

test("what it shows is said too, for who cannot see it", () => {
  const drawing = drawn({ shipLoadKw: 210, motoringKw: 70, largestStarterKw: 45, remainingRatedKw: [500], limitPercent: 85 });
  expect(drawing.says).toContain("Together 325 kW on 500 kW: 65 %, within 85 %.");
  const over = drawn({ shipLoadKw: 210, motoringKw: 70, largestStarterKw: 0, remainingRatedKw: [300], limitPercent: 85 });
  expect(over.says).toContain("above 85 %");
  expect(over.says).not.toContain("starter");
  for (const { says } of [wells, sensingLine]) expect(says.length).toBeGreaterThan(100);
  for (const drawing of [wells, sensingLine]) expect(outside(drawing)).toEqual([]);
});
