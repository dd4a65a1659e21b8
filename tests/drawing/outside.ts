import { type Drawing, type Plain, type Point, plainIn } from "../../lib/drawing/shapes.ts";

/** The corners of what a shape covers; words by a generous width of their signs. */
export const cornersOf = (shape: Plain): readonly Point[] => {
  if ("line" in shape)
    return [
      [shape.line[0], shape.line[1]],
      [shape.line[2], shape.line[3]],
    ];
  if ("box" in shape) {
    const [x, y, width, height] = shape.box;
    return [
      [x, y],
      [x + width, y + height],
    ];
  }
  if ("strokes" in shape) return shape.strokes.flat();
  const { words, size = 8.5, anchor, turned } = shape;
  const [x, y] = shape.at;
  const long = words.length * size * 0.494;
  const before = anchor === "end" ? long : anchor === "middle" ? long / 2 : 0;
  return turned === true
    ? [
        [x - size * 0.75, y - long + before],
        [x, y + before],
      ]
    : [
        [x - before, y - size * 0.75],
        [x - before + long, y],
      ];
};

/** Every shape that is not within the paper of its drawing. */
export const outside = (drawing: Drawing): readonly Plain[] =>
  plainIn(drawing).filter((shape) =>
    cornersOf(shape).some(([x, y]) => !(x >= -0.01 && y >= -0.01 && x <= drawing.width + 0.01 && y <= drawing.height + 0.01)),
  );
