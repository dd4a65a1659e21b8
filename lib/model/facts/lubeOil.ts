import { all, is } from "../../logic/condition.ts";
import { choice, type FactSpec, number, yesNo } from "../fact.ts";
import { under } from "./asking.ts";
import { type ChannelWords, channelAt, PLAIN_SWITCH, presentIn, RATIOMETRIC, TRANSMITTER } from "./channel.ts";
import { onEngines } from "./set.ts";

export const LUBE_OIL = "lubeOilPressure";
export const lubeOilAt = {
  ...channelAt(LUBE_OIL),
  isolatingValve: `/sets/*/${LUBE_OIL}/isolatingValve`,
  testPoint: `/sets/*/${LUBE_OIL}/testPoint`,
  sensorRemovable: `/sets/*/${LUBE_OIL}/sensorRemovable`,
  setPoint: `/sets/*/${LUBE_OIL}/setPoint`,
  tolerance: `/sets/*/${LUBE_OIL}/tolerance`,
  rangeTo: `/sets/*/${LUBE_OIL}/rangeTo`,
} as const;

export const lubeOilWords: ChannelWords = {
  kind: LUBE_OIL,
  name: "low lube-oil pressure",
  base: onEngines,
  fitted: ["stop", "stop in manual, alarm in automatic", "alarm only", "none"],
  elements: [PLAIN_SWITCH, TRANSMITTER, RATIOMETRIC],
  elementPhotograph: "oilValveBlock",
  localReading: "a local oil-pressure gauge",
};

const detail = { use: "detail", carriedBy: "question" } as const;

export const lubeOilFacts: readonly FactSpec[] = under(presentIn(lubeOilWords), [
  {
    at: lubeOilAt.isolatingValve,
    name: "oil-pressure sensor has its own isolating valve",
    domain: yesNo,
    use: "deciding",
    carriedBy: "question",
    question: "Can the oil-pressure sensor be shut off from the engine by a valve of its own?",
    why: "An isolated sensor can be bled or pumped while the engine keeps its oil pressure.",
    photograph: "oilValveBlock",
  },
  {
    at: lubeOilAt.testPoint,
    name: "test point behind that valve",
    domain: choice("none", "test cock", "test connection", "cock and connection"),
    use: "deciding",
    carriedBy: "question",
    parent: is(lubeOilAt.isolatingValve, "yes"),
    question: "Between that valve and the sensor, is there a test cock to bleed, a connection for a test pump, or both?",
    why: "A cock lets the pressure be bled, a connection lets it be pumped.",
    photograph: "oilValveBlock",
  },
  {
    at: lubeOilAt.sensorRemovable,
    name: "oil-pressure sensor can be screwed out",
    domain: yesNo,
    use: "deciding",
    carriedBy: "question",
    question: "At standstill, can the oil-pressure sensor be screwed out and a test manifold be fitted, or is it combined in the block?",
    why: "Where there is no test cock, a temporary manifold gives one.",
    photograph: "oilValveBlock",
  },
  {
    ...detail,
    at: lubeOilAt.setPoint,
    name: "low lube-oil pressure: set point",
    domain: number(0.05, 20, 0.01),
    unit: "bar",
    question: "What is the set point of low lube-oil pressure?",
    why: "The reading at the trip is compared with it.",
    look: "set-point list",
    photograph: "setPointPage",
  },
  {
    ...detail,
    at: lubeOilAt.tolerance,
    name: "low lube-oil pressure: tolerance",
    difference: true,
    domain: number(0, 5, 0.01),
    unit: "bar",
    question: "What tolerance does the maker allow on that set point?",
    why: "It says whether a reading passes.",
    look: "maker's manual",
  },
  {
    ...detail,
    at: lubeOilAt.rangeTo,
    name: "oil-pressure sensor: upper end of range",
    domain: number(0.5, 40, 0.1),
    unit: "bar",
    parent: is(lubeOilAt.element, TRANSMITTER, RATIOMETRIC),
    question: "What is the upper end of the oil-pressure sensor's range (it is taken to begin at 0 bar)?",
    why: "The signal to feed in is worked out from it.",
    look: "sensor plate",
    photograph: "oilValveBlock",
  },
  {
    ...detail,
    at: lubeOilAt.loopSupply,
    name: "oil-pressure loop powered by",
    domain: choice("the control module", "the sensor or a supply of its own"),
    parent: all(is(lubeOilAt.element, TRANSMITTER)),
    question: "Who powers the current loop of the oil-pressure transmitter?",
    why: "Where the module powers the loop, the test source must sink the current and not drive it.",
    look: "safety panel drawing",
  },
]);
