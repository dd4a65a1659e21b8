import { all, is } from "../../logic/condition.ts";
import { choice, type FactSpec, number } from "../fact.ts";
import { detail, kept } from "./asking.ts";
import { onDiesels, onEmergencySets, ROLE } from "./set.ts";

export const PNEUMATIC = "pneumatic";
export const HYDRAULIC = "hydraulic";
export const ELECTRIC = "electric";

export const startAt = {
  starter: "/sets/*/start/starter",
  second: "/sets/*/start/second",
  store: "/sets/*/start/store",
  storedStarts: "/sets/*/start/storedStarts",
  secondStarts: "/sets/*/start/secondStarts",
  receiverVolume: "/sets/*/start/receiverVolume",
  fullPressure: "/sets/*/start/fullPressure",
  lowestPressure: "/sets/*/start/lowestPressure",
  airPerStart: "/sets/*/start/airPerStart",
  accumulatorVolume: "/sets/*/start/accumulatorVolume",
  precharge: "/sets/*/start/precharge",
  oilPerStart: "/sets/*/start/oilPerStart",
  batteryCapacity: "/sets/*/start/batteryCapacity",
  crankCurrent: "/sets/*/start/crankCurrent",
  crankSeconds: "/sets/*/start/crankSeconds",
  fuelTank: "/sets/*/start/fuelTank",
  fuelPerHour: "/sets/*/start/fuelPerHour",
} as const;

const pneumatic = all(onDiesels, is(startAt.starter, PNEUMATIC));
const hydraulic = all(onDiesels, is(startAt.starter, HYDRAULIC));
const electric = all(onDiesels, is(startAt.starter, ELECTRIC));
const look = "starting-system data; plates";
const COUNTED = "The starts in store are worked out from it.";

/** How a set is started, and what its store holds. */
export const startFacts: readonly FactSpec[] = [
  detail(
    startAt.starter,
    "starter",
    choice(ELECTRIC, PNEUMATIC, HYDRAULIC, "spring or hand"),
    "How is this set started: by battery, by air, by a hydraulic accumulator, or by spring or hand?",
    "Each test that stops the set takes a start from its store.",
    { look: "starter and its store", photograph: "emergencyPanel", parent: onDiesels },
  ),
  kept(
    startAt.store,
    "starting store",
    choice("its own", "common with other sets"),
    "Has this set a starting store of its own, or in common with other sets?",
    "Starts are counted for each store.",
    { look, parent: onDiesels },
  ),
  kept(
    startAt.storedStarts,
    "starts in the set's own store",
    number(0, 60, 1),
    "How many starts does the set's own store give without being recharged?",
    "Every test that stops the set takes a start from it.",
    { look: "starting-system data; last starting test", parent: onDiesels },
  ),
  detail(
    startAt.second,
    "second source of starting energy",
    choice("none", ELECTRIC, PNEUMATIC, HYDRAULIC, "spring or hand"),
    "Has the emergency set a second, separate source of starting energy, and which?",
    "Each source of starting energy is tried with the other isolated.",
    { look: "emergency generator room", photograph: "emergencyPanel", parent: onEmergencySets },
  ),
  kept(
    startAt.secondStarts,
    "starts in the second source",
    number(0, 60, 1),
    "How many starts does the second source of the emergency set give?",
    "The rules count the starts of both sources.",
    { look, parent: onEmergencySets },
  ),
  kept(startAt.receiverVolume, "receiver volume", number(0.001, 100, 0.001), "What volume has the set's starting-air receiver?", COUNTED, {
    unit: "m³",
    look,
    parent: pneumatic,
  }),
  kept(startAt.fullPressure, "full starting pressure", number(1, 400, 0.1), "At what pressure is the set's starting store full?", COUNTED, {
    unit: "bar",
    look,
    parent: all(onDiesels, is(startAt.starter, PNEUMATIC, HYDRAULIC)),
  }),
  kept(
    startAt.lowestPressure,
    "lowest starting pressure of the set",
    number(0.5, 400, 0.1),
    "What is the lowest pressure at which the set still starts?",
    "The starts in store end there.",
    { unit: "bar", look, parent: all(onDiesels, is(startAt.starter, PNEUMATIC, HYDRAULIC)) },
  ),
  kept(
    startAt.airPerStart,
    "free air for one start of the set",
    number(0.01, 50, 0.01),
    "How much free air does one start take?",
    COUNTED,
    {
      unit: "m³",
      look,
      parent: pneumatic,
    },
  ),
  kept(
    startAt.accumulatorVolume,
    "accumulator: gas volume",
    number(0.1, 1000, 0.1),
    "What gas volume has the starting accumulator?",
    COUNTED,
    { unit: "L", look, parent: hydraulic },
  ),
  kept(startAt.precharge, "accumulator: precharge", number(1, 400, 0.1), "To what gas pressure is the accumulator precharged?", COUNTED, {
    unit: "bar",
    look,
    parent: hydraulic,
  }),
  kept(startAt.oilPerStart, "oil for one start", number(0.01, 100, 0.01), "How much oil does one hydraulic start take?", COUNTED, {
    unit: "L",
    look,
    parent: hydraulic,
  }),
  kept(startAt.batteryCapacity, "starting battery: capacity", number(1, 5000, 1), "What capacity has the starting battery?", COUNTED, {
    unit: "Ah",
    look,
    parent: electric,
  }),
  kept(startAt.crankCurrent, "cranking current", number(1, 5000, 1), "What current does the starter take while cranking?", COUNTED, {
    unit: "A",
    look,
    parent: electric,
  }),
  kept(startAt.crankSeconds, "seconds of cranking", number(0.5, 60, 0.5), "How long does one start crank?", COUNTED, {
    unit: "s",
    look,
    parent: electric,
  }),
  kept(
    startAt.fuelTank,
    "emergency fuel tank: usable",
    number(1, 200000, 1),
    "How much usable fuel holds the tank of the emergency set?",
    "The hours of emergency supply are worked out from it.",
    { unit: "L", look: "tank plan", parent: is(ROLE, "emergency") },
  ),
  kept(
    startAt.fuelPerHour,
    "emergency set: fuel in one hour",
    number(0.1, 5000, 0.1),
    "How much fuel does the emergency set burn in an hour at rated load?",
    "The hours of emergency supply are worked out from it.",
    { unit: "L", look: "engine data sheet", parent: is(ROLE, "emergency") },
  ),
];
