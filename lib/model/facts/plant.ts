import { choice, type FactSpec, number, yesNo } from "../fact.ts";
import { deciding, detail, kept } from "./asking.ts";

/** What belongs to the whole plant and not to one set. */
export const plantAt = {
  emergencyPower: "/plant/emergencyPower",
  unattended: "/plant/unattended",
  load: "/plant/load",
  largestStarter: "/plant/largestStarter",
  otherSources: "/plant/otherSources",
  noise: "/plant/noise",
  storedStarts: "/plant/start/storedStarts",
  receiverVolume: "/plant/start/receiverVolume",
  fullPressure: "/plant/start/fullPressure",
  lowestPressure: "/plant/start/lowestPressure",
  airPerStart: "/plant/start/airPerStart",
} as const;

export const TWO_SOURCES = "temporary and final source";
export const GENERATORS_ONLY = "generators only";

export const plantFacts: readonly FactSpec[] = [
  deciding(
    plantAt.otherSources,
    "other sources on the board",
    choice(GENERATORS_ONLY, "battery, inverter or shore as well"),
    "During the tests, is the board carried by generators only, or by a battery, an inverter or shore power as well?",
    "Reverse power is motored only from other generators: a battery, inverter or shore supply may not take or give it.",
    { look: "single-line diagram" },
  ),
  detail(
    plantAt.emergencyPower,
    "emergency power",
    choice("none", "emergency source", TWO_SOURCES),
    "Which emergency power has the ship: none, one emergency source, or a temporary source and a final one?",
    "What must be seen after a loss of power depends on it.",
    { look: "single-line diagram; emergency board" },
  ),
  kept(
    plantAt.unattended,
    "machinery space unattended at times",
    yesNo,
    "Is the machinery space periodically unattended?",
    "Some protections are asked for by size in unattended spaces.",
    { look: "class notation" },
  ),
  kept(
    plantAt.load,
    "load on the board during the tests",
    number(0, 60000, 1),
    "What load is on the main board during the tests?",
    "The sets left running must carry it with one set out.",
    { unit: "kW", look: "load on the board in port" },
  ),
  kept(
    plantAt.largestStarter,
    "largest consumer that may start by itself",
    number(0, 20000, 1),
    "How much does the largest consumer take that may start by itself?",
    "It may start just while a set is out.",
    { unit: "kW", look: "pumps and compressors in automatic" },
  ),
  kept(
    plantAt.noise,
    "noise beside a running set",
    number(40, 140, 1),
    "How loud is it beside a running set?",
    "It limits how long people stay there, and with which protection.",
    { unit: "dB(A)", look: "noise survey" },
  ),
  kept(
    plantAt.storedStarts,
    "starts in the common store",
    number(0, 60, 1),
    "How many starts does the common starting store of the ship-service sets give without being recharged?",
    "Every test that stops a set takes a start from it.",
    { look: "starting-system data; last starting test" },
  ),
  kept(
    plantAt.receiverVolume,
    "starting-air receivers: volume together",
    number(0.01, 100, 0.01),
    "What volume have the starting-air receivers of the ship-service sets together?",
    "The starts in store are worked out from it.",
    { unit: "m³", look: "receiver plates" },
  ),
  kept(
    plantAt.fullPressure,
    "starting-air receivers: full pressure",
    number(1, 60, 0.1),
    "At what pressure are the starting-air receivers full?",
    "The starts in store are worked out from it.",
    { unit: "bar", look: "compressor cut-out" },
  ),
  kept(
    plantAt.lowestPressure,
    "lowest starting pressure",
    number(0.5, 60, 0.1),
    "What is the lowest pressure at which the sets still start?",
    "The starts in store end there.",
    { unit: "bar", look: "starting-system data" },
  ),
  kept(
    plantAt.airPerStart,
    "free air for one start",
    number(0.01, 50, 0.01),
    "How much free air does one start take?",
    "The starts in store are worked out from it.",
    { unit: "m³", look: "starting-system data" },
  ),
];
