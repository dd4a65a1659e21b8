import { type Condition, is } from "../../logic/condition.ts";
import { choice, type FactSpec, number, yesNo } from "../fact.ts";
import { both, deciding, detail, fittedFact, kept, type ProtectionWords, under } from "./asking.ts";
import { PLAIN_SWITCH, TRANSMITTER } from "./channel.ts";
import { onDiesels, onEngines } from "./set.ts";

const always: Condition = true;
const STOP_OR_ALARM = ["stop", "alarm only"] as const;
const fittedIn = (at: string): Condition => is(at, ...STOP_OR_ALARM);
const TEMPERATURES = ["Pt100", "Pt1000", "NTC", "thermocouple K", "thermocouple J", TRANSMITTER, PLAIN_SWITCH] as const;

export const BEARING = "bearingTemperature";
export const bearingWords: ProtectionWords = { kind: BEARING, name: "high bearing temperature", base: always };
export const bearingAt = {
  approvedStep: `/sets/*/${BEARING}/approvedStep`,
  fitted: `/sets/*/${BEARING}/fitted`,
  pocket: `/sets/*/${BEARING}/pocket`,
  element: `/sets/*/${BEARING}/element`,
  setPoint: `/sets/*/${BEARING}/setPoint`,
  tolerance: `/sets/*/${BEARING}/tolerance`,
} as const;
export const bearingFacts: readonly FactSpec[] = [
  fittedFact(
    bearingWords,
    [...STOP_OR_ALARM, "none"],
    "Do the bearings of this set have temperature sensors, and do these stop it or only raise an alarm?",
    { photograph: "bearings" },
  ),
  ...under(fittedIn(bearingAt.fitted), [
    deciding(
      bearingAt.pocket,
      "bearing sensor: pocket",
      choice("dry pocket", "embedded or wetted"),
      "Does the bearing-temperature sensor slide out of a dry pocket, or is it embedded or wetted by oil?",
      "A sensor in a dry pocket can be heated; an embedded one stays where it is.",
      { photograph: "bearings" },
    ),
    deciding(
      bearingAt.element,
      "bearing sensor: element",
      choice(...TEMPERATURES),
      "What kind of sensing element has the bearing-temperature channel?",
      "The element decides what can be fed in.",
      { look: "sensor plate; spare-parts list", photograph: "bearings" },
    ),
    detail(
      bearingAt.setPoint,
      "high bearing temperature: set point",
      number(30, 200, 0.1),
      "What is the set point of high bearing temperature?",
      "The heat source and the reading depend on it.",
      { unit: "°C", look: "set-point list", photograph: "setPointPage" },
    ),
    detail(
      bearingAt.tolerance,
      "high bearing temperature: tolerance",
      number(0, 20, 0.1),
      "What tolerance does the maker allow on the set point of high bearing temperature?",
      "It says whether a reading passes.",
      { unit: "°C", difference: true, look: "maker's manual" },
    ),
  ]),
];

export const WINDING = "windingTemperature";
export const windingWords: ProtectionWords = { kind: WINDING, name: "high winding temperature", base: always };
export const windingAt = {
  approvedStep: `/sets/*/${WINDING}/approvedStep`,
  fitted: `/sets/*/${WINDING}/fitted`,
  terminals: `/sets/*/${WINDING}/terminals`,
  element: `/sets/*/${WINDING}/element`,
  setPoint: `/sets/*/${WINDING}/setPoint`,
  tolerance: `/sets/*/${WINDING}/tolerance`,
} as const;
export const windingFacts: readonly FactSpec[] = [
  fittedFact(
    windingWords,
    [...STOP_OR_ALARM, "none"],
    "Do the generator's windings have temperature sensors, and do these stop the set or only raise an alarm?",
    { photograph: "bearings" },
  ),
  ...under(fittedIn(windingAt.fitted), [
    deciding(
      windingAt.terminals,
      "winding sensors: where the leads end",
      choice("in a panel apart from the machine", "only in the machine's terminal box"),
      "Where can the leads of the winding sensors be reached: in a panel apart from the machine, or only in its terminal box?",
      "The terminal box of a live machine stays shut.",
      { photograph: "bearings" },
    ),
    deciding(
      windingAt.element,
      "winding sensor: element",
      choice("Pt100", "Pt1000", "PTC thermistor"),
      "What kind of sensing element have the windings?",
      "The element decides what can be fed in.",
      { look: "alternator data sheet", photograph: "bearings" },
    ),
    detail(
      windingAt.setPoint,
      "high winding temperature: set point",
      number(60, 220, 0.1),
      "What is the set point of high winding temperature?",
      "The resistance to feed in is worked out from it.",
      { unit: "°C", look: "set-point list", photograph: "setPointPage" },
    ),
    detail(
      windingAt.tolerance,
      "high winding temperature: tolerance",
      number(0, 20, 0.1),
      "What tolerance does the maker allow on the set point of high winding temperature?",
      "It says whether a reading passes.",
      { unit: "°C", difference: true, look: "alternator manual" },
    ),
  ]),
];

export const VIBRATION = "vibration";
export const vibrationWords: ProtectionWords = { kind: VIBRATION, name: "vibration or axial position", base: always };
export const vibrationAt = {
  approvedStep: `/sets/*/${VIBRATION}/approvedStep`,
  fitted: `/sets/*/${VIBRATION}/fitted`,
  probe: `/sets/*/${VIBRATION}/probe`,
} as const;
export const vibrationFacts: readonly FactSpec[] = [
  fittedFact(
    vibrationWords,
    [...STOP_OR_ALARM, "none"],
    "Has the set vibration or axial-position sensors, and do these stop it or only raise an alarm?",
  ),
  ...under(fittedIn(vibrationAt.fitted), [
    deciding(
      vibrationAt.probe,
      "vibration sensor: can be moved",
      yesNo,
      "At standstill, can the vibration or position sensor be shaken on a test head or moved against a gauge?",
      "A sensor that cannot be moved is only proven by its signal.",
      { look: "maker's manual of the monitor" },
    ),
  ]),
];

export const OIL_MIST = "oilMist";
export const oilMistWords: ProtectionWords = { kind: OIL_MIST, name: "crankcase oil mist", base: onDiesels };
export const oilMistAt = {
  approvedStep: `/sets/*/${OIL_MIST}/approvedStep`,
  fitted: `/sets/*/${OIL_MIST}/fitted`,
  testPoint: `/sets/*/${OIL_MIST}/testPoint`,
  bore: `/sets/*/${OIL_MIST}/bore`,
} as const;
export const oilMistFacts: readonly FactSpec[] = [
  fittedFact(
    oilMistWords,
    ["stop", "alarm only", "bearing temperatures instead", "none"],
    "Has the crankcase an oil-mist detector, and does it stop the engine or only raise an alarm?",
    { photograph: "crankcase" },
  ),
  ...under(onDiesels, [
    deciding(
      oilMistAt.testPoint,
      "oil-mist detector: test point",
      yesNo,
      "Has the oil-mist detector a point for the maker's test mist or test filter?",
      "Only there can its head be made to see mist.",
      { look: "detector manual", photograph: "crankcase", parent: fittedIn(oilMistAt.fitted) },
    ),
    kept(
      oilMistAt.bore,
      "cylinder bore",
      number(50, 1200, 1),
      "What is the bore of the cylinders?",
      "By bore or power the rules ask for oil-mist or bearing-temperature detection.",
      { unit: "mm", look: "engine data sheet" },
    ),
  ]),
];

export const FUEL_LEAK = "fuelLeak";
export const fuelLeakWords: ProtectionWords = { kind: FUEL_LEAK, name: "fuel-leak alarm", base: onDiesels };
export const fuelLeakAt = {
  approvedStep: `/sets/*/${FUEL_LEAK}/approvedStep`,
  fitted: `/sets/*/${FUEL_LEAK}/fitted`,
  access: `/sets/*/${FUEL_LEAK}/access`,
} as const;
export const LEAK_ALARM = "outside pipes, jacketed, with leak alarm";
export const fuelLeakFacts: readonly FactSpec[] = [
  fittedFact(
    fuelLeakWords,
    [LEAK_ALARM, "outside pipes, no leak alarm", "pipes inside the cover"],
    "Do the injection pipes run outside the engine, jacketed with a leak alarm, or inside the cover?",
    { look: "engine beside the fuel pumps", photograph: "crankcase" },
  ),
  ...under(both(onDiesels, is(fuelLeakAt.fitted, LEAK_ALARM)), [
    deciding(
      fuelLeakAt.access,
      "fuel-leak box: access",
      choice("away from hot parts, or engine cold", "only beside hot unshielded parts"),
      "Can the leak box be reached with the engine cold, or away from hot parts?",
      "Clean fuel is never poured beside a hot unshielded exhaust.",
      { photograph: "crankcase" },
    ),
  ]),
];

export const SENSOR_FAILURE = "sensorFailure";
export const sensorFailureWords: ProtectionWords = {
  kind: SENSOR_FAILURE,
  name: "sensor failure (wire break and short circuit)",
  base: onEngines,
};
export const sensorFailureAt = {
  approvedStep: `/sets/*/${SENSOR_FAILURE}/approvedStep`,
  fitted: `/sets/*/${SENSOR_FAILURE}/fitted`,
} as const;
export const sensorFailureFacts: readonly FactSpec[] = [
  fittedFact(
    sensorFailureWords,
    ["circuits monitored", "not monitored"],
    "Are the sensor circuits of this set's safety system monitored for wire break and short circuit?",
    { look: "safety panel drawing", photograph: "safetyPanel" },
  ),
];

export const CONTROL_SUPPLY = "controlSupply";
export const controlSupplyWords: ProtectionWords = { kind: CONTROL_SUPPLY, name: "control supply failure", base: onEngines };
export const controlSupplyAt = {
  approvedStep: `/sets/*/${CONTROL_SUPPLY}/approvedStep`,
  supplies: `/sets/*/${CONTROL_SUPPLY}/supplies`,
} as const;
export const controlSupplyFacts: readonly FactSpec[] = under(onEngines, [
  detail(
    controlSupplyAt.supplies,
    "supplies of the safety panel",
    choice("one", "two"),
    "Has the safety panel of this set one supply or two?",
    "Each supply is taken off in turn.",
    { look: "safety panel drawing, supply page", photograph: "safetyPanel" },
  ),
]);

export const INTERLOCK = "startInterlock";
export const interlockWords: ProtectionWords = { kind: INTERLOCK, name: "start interlock of the turning gear", base: onEngines };
export const interlockAt = {
  approvedStep: `/sets/*/${INTERLOCK}/approvedStep`,
  fitted: `/sets/*/${INTERLOCK}/fitted`,
  energy: `/sets/*/${INTERLOCK}/energyShutOff`,
} as const;
export const interlockFacts: readonly FactSpec[] = [
  fittedFact(
    interlockWords,
    ["interlocked", "not interlocked", "no turning gear"],
    "Is there a turning gear, and does it block the start while it is engaged?",
    { look: "engine at the flywheel" },
  ),
  ...under(both(onEngines, is(interlockAt.fitted, "interlocked")), [
    deciding(
      interlockAt.energy,
      "starting energy can be shut off and vented",
      yesNo,
      "Can the starting energy be shut off and vented, or disconnected, while the start is tried with the turning gear engaged?",
      "If the interlock fails, nothing may turn.",
      { look: "starting system" },
    ),
  ]),
];
