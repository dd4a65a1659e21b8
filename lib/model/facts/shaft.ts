import { is } from "../../logic/condition.ts";
import { choice, type FactSpec, number, yesNo } from "../fact.ts";
import { both, deciding, detail, fittedFact, offered, type ProtectionWords, under } from "./asking.ts";
import { onShafts } from "./set.ts";

export const BEARING_OIL = "bearingOilPressure";
export const bearingOilWords: ProtectionWords = { kind: BEARING_OIL, name: "low oil pressure of the generator's bearings", base: onShafts };
export const bearingOilAt = {
  approvedStep: `/sets/*/${BEARING_OIL}/approvedStep`,
  fitted: `/sets/*/${BEARING_OIL}/fitted`,
  isolatingValve: `/sets/*/${BEARING_OIL}/isolatingValve`,
  setPoint: `/sets/*/${BEARING_OIL}/setPoint`,
  tolerance: `/sets/*/${BEARING_OIL}/tolerance`,
} as const;
export const DISCONNECTS = "pressure-fed, disconnects";
export const BEARING_ALARM = "pressure-fed, alarm only";
export const bearingOilFacts: readonly FactSpec[] = [
  fittedFact(
    bearingOilWords,
    [DISCONNECTS, BEARING_ALARM, "ring or grease lubricated"],
    "Are the bearings of the shaft generator fed with oil under pressure, and does its loss disconnect the generator or only raise an alarm?",
    { look: "generator drawing; lube-oil diagram", photograph: "bearings" },
  ),
  ...under(both(onShafts, is(bearingOilAt.fitted, DISCONNECTS, BEARING_ALARM)), [
    deciding(
      bearingOilAt.isolatingValve,
      "bearing-oil sensor: isolating valve",
      choice("with test cock", "with test connection", "none"),
      "Has the bearing-oil sensor an isolating valve, and behind it a test cock or a connection for a pump?",
      "An isolated sensor can be bled or pumped while the bearings keep their oil.",
      { photograph: "bearings" },
    ),
    detail(
      bearingOilAt.setPoint,
      "bearing oil: set point",
      number(0.05, 20, 0.01),
      "What is the set point of low bearing-oil pressure?",
      "The reading at the trip is compared with it.",
      { unit: "bar", look: "set-point list", photograph: "setPointPage" },
    ),
    detail(
      bearingOilAt.tolerance,
      "bearing oil: tolerance",
      number(0, 5, 0.01),
      "What tolerance does the maker allow on the set point of low bearing-oil pressure?",
      "It says whether a reading passes.",
      { unit: "bar", difference: true, look: "maker's manual" },
    ),
  ]),
];

export const SHAFT_TRIPS = "shaftTrips";
export const shaftTripsWords: ProtectionWords = {
  kind: SHAFT_TRIPS,
  name: "over- and under-frequency of the shaft generator",
  base: onShafts,
};
export const shaftTripsAt = {
  approvedStep: `/sets/*/${SHAFT_TRIPS}/approvedStep`,
  seaRoom: `/sets/*/${SHAFT_TRIPS}/seaRoom`,
  ratio: `/sets/*/${SHAFT_TRIPS}/ratio`,
  shaftSpeed: `/sets/*/${SHAFT_TRIPS}/shaftSpeed`,
} as const;
export const shaftTripsFacts: readonly FactSpec[] = under(onShafts, [
  offered(
    shaftTripsAt.seaRoom,
    "sea room for changes of speed",
    "Will there be sea room and no traffic, so that the engine's speed can be changed under way?",
    "A change of speed moves the ship; it is not done alongside nor in traffic.",
  ),
  detail(
    shaftTripsAt.ratio,
    "shaft generator: step-up ratio",
    number(0.5, 60, 0.0001),
    "What is the ratio of the generator's speed to that of the shaft or engine?",
    "The frequency is worked out from it.",
    { look: "gear plate" },
  ),
  detail(
    shaftTripsAt.shaftSpeed,
    "shaft or engine: speed with the generator on the board",
    number(10, 2000, 0.1),
    "At what speed does the shaft or engine run with the generator on the board?",
    "The frequency is worked out from it.",
    { unit: "rpm", look: "operating manual of the shaft generator" },
  ),
]);

export const SHAFT_DISCONNECT = "shaftDisconnect";
export const shaftDisconnectWords: ProtectionWords = {
  kind: SHAFT_DISCONNECT,
  name: "disconnection by hand (breaker, excitation, clutch)",
  base: onShafts,
};
export const shaftDisconnectAt = {
  approvedStep: `/sets/*/${SHAFT_DISCONNECT}/approvedStep`,
  clutch: `/sets/*/${SHAFT_DISCONNECT}/clutch`,
} as const;
export const shaftDisconnectFacts: readonly FactSpec[] = under(onShafts, [
  detail(
    shaftDisconnectAt.clutch,
    "clutch of the shaft generator",
    yesNo,
    "Has the shaft generator a clutch of its own?",
    "Without one it is disconnected by breaker and excitation only.",
    { look: "shaft drawing" },
  ),
]);

export const HANDOVER = "shaftHandover";
export const handoverWords: ProtectionWords = { kind: HANDOVER, name: "hand-over from the shaft generator", base: onShafts };
export const handoverAt = {
  approvedStep: `/sets/*/${HANDOVER}/approvedStep`,
  fitted: `/sets/*/${HANDOVER}/fitted`,
} as const;
export const handoverFacts: readonly FactSpec[] = [
  fittedFact(
    handoverWords,
    ["by itself, before the shaft generator trips", "by hand"],
    "When the shaft slows down, does another set start and connect by itself before the shaft generator trips?",
    { look: "power management manual" },
  ),
];
