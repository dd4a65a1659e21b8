import fc from "fast-check";
import { expect, test } from "vitest";
import { barsDrawing, columnsDrawing, stepFor } from "../../lib/drawing/columns.ts";
import { type Box, plainIn, type Words } from "../../lib/drawing/shapes.ts";
import { outside } from "./outside.ts";

const columns = fc.array(
  fc.record({
    value: fc.option(fc.double({ min: 0, max: 5000, noNaN: true }), { nil: undefined }),
    of: fc.nat({ max: 9999 }),
    below: fc.boolean(),
  }),
  { minLength: 1, maxLength: 36 },
);

test("a step makes at most five of them to the highest value, and is no smaller than need be", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 1_000_000 }), (highest) => {
      const step = stepFor(highest);
      expect(step * 5).toBeGreaterThanOrEqual(highest);
      expect(step).toBeLessThanOrEqual(Math.max(1, highest));
    }),
  );
});

test("columns stand in their drawing, as high as their values, none where there is no value, and never touch", () => {
  fc.assert(
    fc.property(columns, fc.boolean(), (given, isShare) => {
      const all = given.map(({ value, of, below }, place) => ({
        label: "Mar",
        of,
        ...(below || place === 0 ? { below: "2026" } : {}),
        ...(value === undefined ? {} : { value: isShare ? value / 50 : value }),
      }));
      const drawing = columnsDrawing({ says: "", unit: "days", counted: "visits", columns: all, ...(isShare ? { most: 100 } : {}) });
      expect(outside(drawing)).toEqual([]);
      const boxes = plainIn(drawing).flatMap((shape) => ("box" in shape ? [(shape as Box).box] : []));
      const values = all.flatMap(({ value }) => value ?? []);
      expect(boxes).toHaveLength(values.length);
      const highest = Math.max(...values);
      const tallest = Math.max(...boxes.map(([, , , height]) => height));
      for (const [place, [x, , width, height]] of boxes.entries()) {
        // One scale for all, to a hundredth of the drawing's units.
        if (highest > 0) expect(Math.abs(height - ((values[place] ?? 0) * tallest) / highest)).toBeLessThan(0.05);
        const next = boxes[place + 1];
        if (next !== undefined) expect(x + width).toBeLessThan(next[0]);
      }
    }),
  );
});

test("bars tell each cause with how often, in its own words", () => {
  const drawing = barsDrawing("", [
    { name: "no load", count: 8 },
    { name: "no technician", count: 2 },
  ]);
  expect(outside(drawing)).toEqual([]);
  const words = plainIn(drawing).flatMap((shape) => ("words" in shape ? [(shape as Words).words] : []));
  expect(words).toEqual(["no load", "8", "no technician", "2"]);
  const [one, other] = plainIn(drawing).flatMap((shape) => ("box" in shape ? [(shape as Box).box[2]] : []));
  expect((one ?? 0) / (other ?? 1)).toBeCloseTo(4, 2);
});
