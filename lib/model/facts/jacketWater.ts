import { is } from "../../logic/condition.ts";
import { choice, type FactSpec, number, yesNo } from "../fact.ts";
import { both, under } from "./asking.ts";
import { type ChannelWords, channelAt, PLAIN_SWITCH, presentIn, THERMOSTAT, TRANSMITTER } from "./channel.ts";
import { COOLING, onDiesels } from "./set.ts";

export const JACKET_WATER = "jacketWaterTemperature";
export const jacketWaterAt = {
  ...channelAt(JACKET_WATER),
  well: `/sets/*/${JACKET_WATER}/well`,
  leadLongEnough: `/sets/*/${JACKET_WATER}/leadLongEnough`,
  immersion: `/sets/*/${JACKET_WATER}/immersion`,
  diameter: `/sets/*/${JACKET_WATER}/diameter`,
  shared: `/sets/*/${JACKET_WATER}/sharedWithControl`,
  drained: `/sets/*/${JACKET_WATER}/drainedState`,
  setPoint: `/sets/*/${JACKET_WATER}/setPoint`,
  tolerance: `/sets/*/${JACKET_WATER}/tolerance`,
  rangeTo: `/sets/*/${JACKET_WATER}/rangeTo`,
  ohmsAt25: `/sets/*/${JACKET_WATER}/ohmsAt25`,
  beta: `/sets/*/${JACKET_WATER}/beta`,
} as const;

export const jacketWaterWords: ChannelWords = {
  kind: JACKET_WATER,
  name: "high jacket-water temperature",
  base: both(onDiesels, is(COOLING, "water")),
  fitted: ["stop", "stop in manual, alarm in automatic", "alarm only", "none"],
  elements: ["Pt100", "Pt1000", "NTC", "thermocouple K", "thermocouple J", TRANSMITTER, PLAIN_SWITCH, THERMOSTAT],
  elementPhotograph: "waterSensor",
  localReading: "a local jacket-water thermometer",
};

export const NOT_SHARED = "no";
export const SHARED_BY_HAND = "yes, its valve can be put to hand";
export const SHARED_ALWAYS = "yes, no hand position";

const deciding = { use: "deciding", carriedBy: "question", photograph: "waterSensor" } as const;
const detail = { use: "detail", carriedBy: "question" } as const;

export const jacketWaterFacts: readonly FactSpec[] = under(presentIn(jacketWaterWords), [
  {
    ...deciding,
    at: jacketWaterAt.well,
    name: "jacket-water sensor: well",
    domain: choice("dry", "wet"),
    question: "Does the jacket-water sensor sit in a dry well, or is it wetted by the coolant?",
    why: "A sensor in a dry well slides out; a wet one takes hot coolant with it.",
  },
  {
    ...deciding,
    at: jacketWaterAt.leadLongEnough,
    name: "jacket-water sensor: lead reaches a block",
    domain: yesNo,
    parent: is(jacketWaterAt.well, "dry"),
    question: "Is the lead of the jacket-water sensor long enough to reach a heating block beside the engine?",
    why: "The sensor stays on its own plug while it is heated.",
  },
  {
    ...deciding,
    at: jacketWaterAt.immersion,
    name: "jacket-water sensor: length dipping in",
    domain: number(5, 1000, 1),
    unit: "mm",
    question: "How long is the part of the jacket-water sensor that dips into the well?",
    why: "A short, thick sensor reads low in a heating block.",
    look: "sensor drawing or spare-parts list",
  },
  {
    ...deciding,
    at: jacketWaterAt.diameter,
    name: "jacket-water sensor: diameter",
    domain: number(1, 60, 0.5),
    unit: "mm",
    question: "What is the diameter of that part of the sensor?",
    why: "A short, thick sensor reads low in a heating block.",
    look: "sensor drawing or spare-parts list",
  },
  {
    ...deciding,
    at: jacketWaterAt.shared,
    name: "jacket-water sensor also controls the cooling",
    domain: choice(NOT_SHARED, SHARED_BY_HAND, SHARED_ALWAYS),
    question: "Does the same sensor also control the cooling (valve or fan), and can that be put to hand?",
    why: "A withdrawn sensor reads cold and shuts off the cooling.",
    look: "cooling water diagram; control drawing",
  },
  {
    at: jacketWaterAt.drained,
    name: "set cold, isolated, vented and drained",
    domain: choice("offered", "refused"),
    use: "deciding",
    carriedBy: "request",
    parent: is(jacketWaterAt.well, "wet"),
    question: "Will the vessel have the set cold, isolated, vented and drained below the well?",
    why: "Only in that state is a wetted sensor drawn.",
  },
  {
    ...detail,
    at: jacketWaterAt.setPoint,
    name: "high jacket-water temperature: set point",
    domain: number(40, 150, 0.1),
    unit: "°C",
    question: "What is the set point of high jacket-water temperature?",
    why: "The heat source and the reading at the trip depend on it.",
    look: "set-point list",
    photograph: "setPointPage",
  },
  {
    ...detail,
    at: jacketWaterAt.tolerance,
    name: "high jacket-water temperature: tolerance",
    difference: true,
    domain: number(0, 20, 0.1),
    unit: "°C",
    question: "What tolerance does the maker allow on that set point?",
    why: "It says whether a reading passes.",
    look: "maker's manual",
  },
  {
    ...detail,
    at: jacketWaterAt.rangeTo,
    name: "temperature transmitter: upper end of range",
    domain: number(50, 400, 1),
    unit: "°C",
    parent: is(jacketWaterAt.element, TRANSMITTER),
    question: "What is the upper end of the temperature transmitter's range (it is taken to begin at 0 °C)?",
    why: "The signal to feed in is worked out from it.",
    look: "transmitter plate",
  },
  {
    ...detail,
    at: jacketWaterAt.ohmsAt25,
    name: "NTC element: resistance at 25 °C",
    domain: number(10, 1000000, 0.1),
    unit: "Ω",
    parent: is(jacketWaterAt.element, "NTC"),
    question: "What is the resistance of the NTC element at 25 °C?",
    why: "The resistance to feed in is worked out from it.",
    look: "sensor data sheet",
  },
  {
    ...detail,
    at: jacketWaterAt.beta,
    name: "NTC element: beta value",
    domain: number(1000, 7000, 1),
    parent: is(jacketWaterAt.element, "NTC"),
    question: "What is the beta value of the NTC element, in kelvin?",
    why: "The resistance to feed in is worked out from it.",
    look: "sensor data sheet",
  },
  {
    ...detail,
    at: jacketWaterAt.loopSupply,
    name: "temperature loop powered by",
    domain: choice("the control module", "the sensor or a supply of its own"),
    parent: is(jacketWaterAt.element, TRANSMITTER),
    question: "Who powers the current loop of the temperature transmitter?",
    why: "Where the module powers the loop, the test source must sink the current and not drive it.",
    look: "safety panel drawing",
  },
]);
