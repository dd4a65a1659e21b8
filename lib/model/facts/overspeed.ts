import { is } from "../../logic/condition.ts";
import { type FactSpec, number } from "../fact.ts";
import { under } from "./asking.ts";
import { type ChannelWords, channelAt, presentIn } from "./channel.ts";
import { onDiesels } from "./set.ts";

export const OVERSPEED = "overspeed";
export const MECHANICAL_DEVICE = "mechanical (bolt or flyweight)";
export const SEPARATE_PICKUP = "pick-up of its own";
export const SHARED_PICKUP = "pick-up shared with the governor";

export const overspeedAt = {
  ...channelAt(OVERSPEED),
  setPoint: `/sets/*/${OVERSPEED}/setPoint`,
  tolerance: `/sets/*/${OVERSPEED}/tolerance`,
  makersMaximum: `/sets/*/${OVERSPEED}/makersMaximum`,
  toothCount: `/sets/*/${OVERSPEED}/toothCount`,
} as const;

export const overspeedWords: ChannelWords = {
  kind: OVERSPEED,
  name: "overspeed",
  base: onDiesels,
  fitted: ["trip", "none"],
  elements: [MECHANICAL_DEVICE, SEPARATE_PICKUP, SHARED_PICKUP],
  elementPhotograph: "governor",
};

const speed = { use: "deciding", carriedBy: "question", unit: "rpm" } as const;

export const overspeedFacts: readonly FactSpec[] = under(presentIn(overspeedWords), [
  {
    ...speed,
    at: overspeedAt.setPoint,
    name: "overspeed: trip speed",
    domain: number(100, 8000, 0.5),
    question: "At what speed does the overspeed trip act?",
    why: "There must be room between the trip and the highest speed allowed.",
    look: "set-point list; last test record",
    photograph: "setPointPage",
  },
  {
    ...speed,
    at: overspeedAt.tolerance,
    name: "overspeed: tolerance",
    difference: true,
    domain: number(0, 200, 0.5),
    question: "What tolerance does the maker allow on the overspeed set point?",
    why: "The margin of the test is counted with it.",
    look: "maker's manual",
  },
  {
    ...speed,
    at: overspeedAt.makersMaximum,
    name: "highest speed the makers allow",
    domain: number(100, 8000, 0.5),
    question: "What is the highest speed that the makers allow in a test, the lower of engine maker's and alternator maker's figure?",
    why: "Above it the test is broken off; without room the speed is not raised.",
    look: "engine manual; alternator data sheet (permitted overspeed)",
  },
  {
    at: overspeedAt.toothCount,
    name: "teeth at the overspeed pick-up",
    domain: number(1, 400, 1),
    use: "detail",
    carriedBy: "question",
    question: "How many teeth pass the overspeed pick-up in one turn of the shaft?",
    why: "The frequency to feed in is teeth × speed / 60.",
    look: "governor or flywheel drawing",
    photograph: "governor",
    parent: is(overspeedAt.element, SEPARATE_PICKUP, SHARED_PICKUP),
  },
]);
