import { is } from "../../logic/condition.ts";
import { choice, type FactSpec, number, yesNo } from "../fact.ts";
import { both, deciding, detail, fittedFact, type ProtectionWords, under } from "./asking.ts";
import { PLAIN_SWITCH, TRANSMITTER } from "./channel.ts";
import { MECHANICAL_DEVICE, SEPARATE_PICKUP } from "./overspeed.ts";
import { onTurbines } from "./set.ts";

export const EXHAUST = "exhaustPressure";
export const exhaustWords: ProtectionWords = { kind: EXHAUST, name: "high exhaust pressure or lost vacuum", base: onTurbines };
export const exhaustAt = {
  approvedStep: `/sets/*/${EXHAUST}/approvedStep`,
  fitted: `/sets/*/${EXHAUST}/fitted`,
  valve: `/sets/*/${EXHAUST}/isolatingValve`,
  element: `/sets/*/${EXHAUST}/element`,
  setPoint: `/sets/*/${EXHAUST}/setPoint`,
  tolerance: `/sets/*/${EXHAUST}/tolerance`,
  rangeTo: `/sets/*/${EXHAUST}/rangeTo`,
} as const;

export const STANDBY_OIL = "standbyOilPump";
export const standbyOilWords: ProtectionWords = { kind: STANDBY_OIL, name: "stand-by and emergency oil pump", base: onTurbines };
export const standbyOilAt = {
  approvedStep: `/sets/*/${STANDBY_OIL}/approvedStep`,
  bleed: `/sets/*/${STANDBY_OIL}/bleed`,
  pressure: `/sets/*/${STANDBY_OIL}/setPoint`,
} as const;
export const standbyOilFacts: readonly FactSpec[] = under(onTurbines, [
  deciding(
    standbyOilAt.bleed,
    "stand-by oil pump: sensor can be bled",
    yesNo,
    "Has the pressure sensor that starts the stand-by oil pump an orifice and a cock behind it, so that it can be bled alone?",
    "The pump is started by its own sensor while the bearings keep their oil.",
    { look: "lube-oil diagram of the turbine", photograph: "turbine" },
  ),
  detail(
    standbyOilAt.pressure,
    "stand-by oil pump: starting pressure",
    number(0.05, 20, 0.01),
    "At what oil pressure does the stand-by oil pump start?",
    "The reading at the start is compared with it.",
    { unit: "bar", look: "set-point list" },
  ),
]);

export const TURBINE_OVERSPEED = "turbineOverspeed";
export const turbineOverspeedWords: ProtectionWords = { kind: TURBINE_OVERSPEED, name: "turbine overspeed", base: onTurbines };
const at = (name: string): string => `/sets/*/${TURBINE_OVERSPEED}/${name}`;
export const turbineOverspeedAt = {
  approvedStep: at("approvedStep"),
  element: at("element"),
  oilInjection: at("oilInjection"),
  makerForbids: at("makerForbids"),
  setPoint: at("setPoint"),
  tolerance: at("tolerance"),
  makersMaximum: at("makersMaximum"),
  toothCount: at("toothCount"),
} as const;

export const turbineOverspeedFacts: readonly FactSpec[] = under(onTurbines, [
  deciding(
    turbineOverspeedAt.element,
    "turbine overspeed: sensing element",
    choice(MECHANICAL_DEVICE, SEPARATE_PICKUP),
    "Is the turbine's overspeed trip a bolt or flyweight, or an electronic trip with a pick-up of its own?",
    "A bolt is proven by real speed; an electronic trip can also be fed a frequency.",
    { look: "turbine manual, chapter on trip gear", photograph: "turbine" },
  ),
  deciding(
    turbineOverspeedAt.oilInjection,
    "oil injection to the overspeed bolt",
    yesNo,
    "Can oil be injected to the overspeed bolt for a test, with the trip held off meanwhile?",
    "Oil injection shows that the bolt moves, not at which speed it trips; it is done after the real test, never before.",
    { look: "turbine manual", parent: is(turbineOverspeedAt.element, MECHANICAL_DEVICE) },
  ),
  deciding(
    turbineOverspeedAt.makerForbids,
    "real turbine overspeed forbidden by the maker",
    yesNo,
    "Does the turbine maker forbid raising the speed to the trip?",
    "What the maker forbids is not planned.",
    { look: "turbine manual" },
  ),
  deciding(
    turbineOverspeedAt.setPoint,
    "turbine overspeed: trip speed",
    number(100, 8000, 0.5),
    "At what speed does the turbine's overspeed trip act, counted at the shaft that the tachometer reads?",
    "There must be room between the trip and the highest speed allowed.",
    { unit: "rpm", look: "set-point list; last test record", photograph: "setPointPage" },
  ),
  deciding(
    turbineOverspeedAt.tolerance,
    "turbine overspeed: tolerance",
    number(0, 200, 0.5),
    "What tolerance does the maker allow on the trip speed of the turbine?",
    "The margin of the test is counted with it.",
    { unit: "rpm", difference: true, look: "turbine manual" },
  ),
  deciding(
    turbineOverspeedAt.makersMaximum,
    "highest turbine speed the makers allow",
    number(100, 8000, 0.5),
    "What is the highest speed that the makers of turbine, gear and alternator allow in a test, at the same shaft?",
    "Above it the test is broken off; without room the speed is not raised.",
    { unit: "rpm", look: "turbine manual; alternator data sheet" },
  ),
  detail(
    turbineOverspeedAt.toothCount,
    "teeth at the turbine's pick-up",
    number(1, 400, 1),
    "How many teeth pass the turbine's overspeed pick-up in one turn of the shaft?",
    "The frequency to feed in is teeth × speed / 60.",
    { look: "trip gear drawing", parent: is(turbineOverspeedAt.element, SEPARATE_PICKUP) },
  ),
]);

const present = both(onTurbines, is(exhaustAt.fitted, "trip", "alarm only"));

export const exhaustFacts: readonly FactSpec[] = [
  fittedFact(
    exhaustWords,
    ["trip", "alarm only", "none"],
    "Does high exhaust pressure or lost vacuum trip the turbine, only raise an alarm, or is nothing fitted?",
    { photograph: "turbine" },
  ),
  ...under(present, [
    deciding(
      exhaustAt.valve,
      "exhaust-pressure sensor: isolating valve with test connection",
      yesNo,
      "Can the exhaust-pressure sensor be shut off and a test pump be connected to it?",
      "An isolated sensor is pumped while the turbine keeps its exhaust.",
      { photograph: "turbine" },
    ),
    deciding(
      exhaustAt.element,
      "exhaust-pressure sensor: element",
      choice(PLAIN_SWITCH, TRANSMITTER),
      "Is the exhaust-pressure sensor a plain switch or a transmitter?",
      "Only a transmitter has a signal that can be fed in.",
      { look: "sensor plate", photograph: "turbine" },
    ),
    detail(
      exhaustAt.setPoint,
      "exhaust pressure: set point, absolute",
      number(0.02, 10, 0.001),
      "At what exhaust pressure, absolute, does the protection act?",
      "The reading at the trip is compared with it, and the barometer with the gauge.",
      { unit: "bar", look: "set-point list", photograph: "setPointPage" },
    ),
    detail(
      exhaustAt.tolerance,
      "exhaust pressure: tolerance",
      number(0, 2, 0.001),
      "What tolerance does the maker allow on the exhaust-pressure set point?",
      "It says whether a reading passes.",
      { unit: "bar", difference: true, look: "turbine manual" },
    ),
    detail(
      exhaustAt.rangeTo,
      "exhaust-pressure transmitter: upper end of range, absolute",
      number(0.1, 20, 0.01),
      "What is the upper end of the exhaust-pressure transmitter's range, absolute (it is taken to begin at 0)?",
      "The signal to feed in is worked out from it.",
      { unit: "bar", look: "transmitter plate", parent: is(exhaustAt.element, TRANSMITTER) },
    ),
  ]),
];
