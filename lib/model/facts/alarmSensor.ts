import { type Condition, is } from "../../logic/condition.ts";
import { choice, type FactSpec, number } from "../fact.ts";
import { both, deciding, detail, type ProtectionWords, under } from "./asking.ts";
import { type ChannelWords, channelAt, PLAIN_SWITCH, presentIn, RATIOMETRIC, SEPARATE_SENSORS, TRANSMITTER } from "./channel.ts";
import { jacketWaterWords } from "./jacketWater.ts";
import { lubeOilWords } from "./lubeOil.ts";

// Where alarm and stop have sensors of their own, the alarm's is a channel of its own: proving the stop says nothing of it.

/** Where the stop's channel is fitted and its alarm has a sensor of its own. */
const separateIn = (words: ChannelWords): Condition => both(presentIn(words), is(channelAt(words.kind).sensors, SEPARATE_SENSORS));

const alarmAt = (kind: string) => ({
  approvedStep: `/sets/*/${kind}/approvedStep`,
  element: `/sets/*/${kind}/element`,
  setPoint: `/sets/*/${kind}/setPoint`,
  tolerance: `/sets/*/${kind}/tolerance`,
  rangeTo: `/sets/*/${kind}/rangeTo`,
});

export const LUBE_OIL_ALARM = "lubeOilAlarm";
export const lubeOilAlarmWords: ProtectionWords = {
  kind: LUBE_OIL_ALARM,
  name: "low lube-oil pressure alarm with a sensor of its own",
  base: separateIn(lubeOilWords),
};
export const lubeOilAlarmAt = { ...alarmAt(LUBE_OIL_ALARM), testPoint: `/sets/*/${LUBE_OIL_ALARM}/testPoint` } as const;

export const NO_VALVE = "no valve of its own";
export const VALVE_ONLY = "valve only";
export const VALVE_COCK = "valve and test cock";
export const VALVE_CONNECTION = "valve and test connection";
export const VALVE_BOTH = "valve, cock and connection";

export const lubeOilAlarmFacts: readonly FactSpec[] = under(lubeOilAlarmWords.base, [
  deciding(
    lubeOilAlarmAt.testPoint,
    "oil-pressure alarm sensor: valve and test point",
    choice(NO_VALVE, VALVE_ONLY, VALVE_COCK, VALVE_CONNECTION, VALVE_BOTH),
    "Can the alarm's own oil-pressure sensor be shut off by itself, and is there a test cock or a connection for a test pump behind that valve?",
    "The alarm's sensor is proven on its own line, since the stop's says nothing of it.",
    { photograph: "oilValveBlock" },
  ),
  deciding(
    lubeOilAlarmAt.element,
    "oil-pressure alarm sensor: element",
    choice(PLAIN_SWITCH, TRANSMITTER, RATIOMETRIC),
    "What kind of sensing element has the oil-pressure alarm?",
    "The element decides what can be fed in and what the channel can show.",
    { look: "sensor plate; spare-parts list", photograph: "oilValveBlock" },
  ),
  detail(
    lubeOilAlarmAt.setPoint,
    "low lube-oil pressure alarm: set point",
    number(0.05, 20, 0.01),
    "What is the set point of the low lube-oil pressure alarm?",
    "The reading at the alarm is compared with it.",
    { unit: "bar", look: "set-point list", photograph: "setPointPage" },
  ),
  detail(
    lubeOilAlarmAt.tolerance,
    "low lube-oil pressure alarm: tolerance",
    number(0, 5, 0.01),
    "What tolerance does the maker allow on the set point of the low lube-oil pressure alarm?",
    "It says whether a reading passes.",
    { unit: "bar", difference: true, look: "maker's manual" },
  ),
  detail(
    lubeOilAlarmAt.rangeTo,
    "oil-pressure alarm sensor: upper end of range",
    number(0.5, 40, 0.1),
    "What is the upper end of the range of the oil-pressure alarm's sensor (it is taken to begin at 0 bar)?",
    "The signal to feed in is worked out from it.",
    { unit: "bar", look: "sensor plate", photograph: "oilValveBlock", parent: is(lubeOilAlarmAt.element, TRANSMITTER, RATIOMETRIC) },
  ),
]);

export const JACKET_WATER_ALARM = "jacketWaterAlarm";
export const jacketWaterAlarmWords: ProtectionWords = {
  kind: JACKET_WATER_ALARM,
  name: "high jacket-water temperature alarm with a sensor of its own",
  base: separateIn(jacketWaterWords),
};
export const jacketWaterAlarmAt = { ...alarmAt(JACKET_WATER_ALARM), well: `/sets/*/${JACKET_WATER_ALARM}/well` } as const;

export const jacketWaterAlarmFacts: readonly FactSpec[] = under(jacketWaterAlarmWords.base, [
  deciding(
    jacketWaterAlarmAt.well,
    "jacket-water alarm sensor: well",
    choice("dry, lead reaches a block", "dry, lead too short", "wet"),
    "Does the alarm's own jacket-water sensor slide out of a dry well, with a lead that reaches a heating block, or is it wetted by the coolant?",
    "A sensor in a dry well slides out; a wet one takes hot coolant with it.",
    { photograph: "waterSensor" },
  ),
  deciding(
    jacketWaterAlarmAt.element,
    "jacket-water alarm sensor: element",
    choice("Pt100", "Pt1000", "thermocouple K", "thermocouple J", TRANSMITTER, PLAIN_SWITCH),
    "What kind of sensing element has the jacket-water alarm?",
    "The element decides what can be fed in and what the channel can show.",
    { look: "sensor plate; spare-parts list", photograph: "waterSensor" },
  ),
  detail(
    jacketWaterAlarmAt.setPoint,
    "high jacket-water temperature alarm: set point",
    number(40, 150, 0.1),
    "What is the set point of the high jacket-water temperature alarm?",
    "The heat source and the reading at the alarm depend on it.",
    { unit: "°C", look: "set-point list", photograph: "setPointPage" },
  ),
  detail(
    jacketWaterAlarmAt.tolerance,
    "high jacket-water temperature alarm: tolerance",
    number(0, 20, 0.1),
    "What tolerance does the maker allow on the set point of the high jacket-water temperature alarm?",
    "It says whether a reading passes.",
    { unit: "°C", difference: true, look: "maker's manual" },
  ),
  detail(
    jacketWaterAlarmAt.rangeTo,
    "jacket-water alarm transmitter: upper end of range",
    number(50, 400, 1),
    "What is the upper end of the range of the jacket-water alarm's transmitter (it is taken to begin at 0 °C)?",
    "The signal to feed in is worked out from it.",
    { unit: "°C", look: "sensor plate", photograph: "waterSensor", parent: is(jacketWaterAlarmAt.element, TRANSMITTER) },
  ),
]);
