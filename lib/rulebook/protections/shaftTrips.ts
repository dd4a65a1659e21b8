import { is } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { ALONGSIDE, onShafts, SHAFT_DRIVE, SHAFT_TURNS, TEST_BLOCK, UNDER_WAY } from "../../model/facts/set.ts";
import { SHAFT_TRIPS, shaftTripsAt, shaftTripsWords } from "../../model/facts/shaft.ts";
import { supportAt } from "../../model/facts/support.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { forbiddenMethod, method, practical, shaftTurns, underClass, veto, WHOLE } from "./common.ts";
import { FREQUENCIES, inSteps } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    id: "sh-converter",
    approvable: true,
    name: "converter's own trips worked by its technician, breaker seen to open",
    technique: 3,
    does: "Generator unloaded: the converter's technician works its over- and under-frequency trips by its own test function; the breaker is seen to open; readings are compared under load before.",
    ...inSteps(
      "Under load the converter's readings are compared with the board's.",
      "A ship-service set is seen on the board, and the generator is unloaded.",
      "The converter's technician works the over-frequency trip by its own test function, and the breaker is seen to open.",
      "The trip is reset and the breaker closed again.",
      "He works the under-frequency trip in the same way, and the breaker is seen to open.",
      "Reverse power is seen blocked in motor mode only.",
      "Fault codes and derates are cleared.",
    ),
    reads: FREQUENCIES,
    proves: { sensing: "running value", wiring: "set point", logic: "running value", final: "set point" },
    minutes: 30,
    makers: true,
    requirements: [practical(is(SHAFT_DRIVE, "frequency converter"), "not possible because there is no converter"), shaftTurns],
    needs: ["converter-technician", "mode-list", "switchboard-hand", "shaft-turning", "ships-engineer"],
    cautions: ["turning-shaft", "switchboard", "codes-and-derates"],
    expected:
      "breaker opens at the limits of frequency; a ship-service set is on the board before; reverse power blocked in motor mode only",
    basis: [basis.practice, basis.shaftCredit],
    examples: {
      fit: {
        ...underClass,
        [SHAFT_DRIVE]: "frequency converter",
        [SHAFT_TURNS]: ALONGSIDE,
        [supportAt.converterTechnician]: "in time",
      },
      barred: { [SHAFT_DRIVE]: "no converter" },
      open: SHAFT_DRIVE,
    },
  }),
  method({
    id: "sh-injection",
    approvable: true,
    figures: ["shaft frequency"],
    name: "frequency injected at the relay's test block, breaker seen to open",
    technique: 4,
    does: "Generator unloaded: frequency is injected at the test block and moved beyond the limits until the breaker opens; hertz and seconds are read.",
    ...inSteps(
      "The relay technician puts the injection set on the test block.",
      "Frequency is injected and moved slowly beyond the upper limit until the breaker opens.",
      "The hertz and the seconds are read.",
      "The trip is reset and the breaker closed again.",
      "Frequency is injected and moved slowly beyond the lower limit until the breaker opens.",
      "The hertz and the seconds are read again.",
      "The injection set is taken off, the test block closed and its links taken out.",
      "The relay is seen to read the board's frequency.",
    ),
    reads: FREQUENCIES,
    proves: { wiring: "set point", logic: "set point", final: "set point" },
    minutes: 60,
    requirements: [
      veto(is(TEST_BLOCK, "yes"), "never: without a test block the circuit of a current transformer would be opened under load"),
      practical(is(SHAFT_DRIVE, "no converter"), "not planned because the converter has trips of its own"),
    ],
    needs: ["relay-technician", "relay-settings", "switchboard-hand", "ships-engineer"],
    details: [shaftTripsAt.ratio, shaftTripsAt.shaftSpeed],
    cautions: ["current-transformers", "switchboard", "restore-and-verify"],
    expected: "breaker opens at the limits of frequency and time",
    restore: "test block closed, links out, relay seen to read the board's frequency again",
    basis: [basis.practice, basis.injection],
    examples: {
      fit: { ...underClass, [TEST_BLOCK]: "yes", [SHAFT_DRIVE]: "no converter", [supportAt.relayTechnician]: ABOARD },
      barred: { [TEST_BLOCK]: "no" },
      open: TEST_BLOCK,
    },
  }),
  method({
    id: "sh-under-way",
    setIs: "under way",
    figures: ["shaft frequency"],
    name: "engine speed changed under way until the trip acts",
    technique: 1,
    does: "Under way in clear water, a ship-service set on the board: the engine's speed is changed slowly until the trip opens the breaker; hertz and seconds are read.",
    proves: WHOLE,
    hazard: 2,
    minutes: 60,
    requirements: [
      practical(is(SHAFT_TURNS, UNDER_WAY), "not possible because the shaft does not turn under way during the visit"),
      practical(is(SHAFT_DRIVE, "no converter"), "not planned because the converter has trips of its own"),
    ],
    needs: ["sea-room", "stop-watch", "switchboard-hand", "ships-engineer"],
    details: [shaftTripsAt.ratio, shaftTripsAt.shaftSpeed],
    cautions: ["turning-shaft", "others-carry"],
    expected: "breaker opens at the limits of frequency; the ship's supply is not interrupted",
    basis: [basis.practice, basis.shaftCredit],
    examples: {
      fit: { ...underClass, [SHAFT_TURNS]: UNDER_WAY, [SHAFT_DRIVE]: "no converter", [shaftTripsAt.seaRoom]: "offered" },
      barred: { [shaftTripsAt.seaRoom]: "refused" },
      open: SHAFT_TURNS,
    },
  }),
  forbiddenMethod(
    "sh-alongside",
    "speed of a coupled shaft changed alongside or in traffic",
    "The speed is changed with the propeller driving, alongside or in traffic.",
    "never: the ship moves; moorings, divers and boats are endangered",
  ),
];

export const shaftTrips: Protection = {
  kind: SHAFT_TRIPS,
  name: shaftTripsWords.name,
  short: "frequency trips",
  applies: onShafts,
  appliesNot: "the generator is not shaft-driven",
  notes: [
    {
      when: onShafts,
      text: "Overspeed belongs to the driving engine. A propulsion engine's own device may be set to 120 %, above the 115 % of a generator's prime mover: which governs is looked at.",
      basis: [basis.overspeedLimitClass, basis.overspeedLimitUs],
    },
  ],
  danger: is(shaftTripsAt.seaRoom, "refused"),
  dangerReason: "without sea room a change of speed endangers the ship",
  methods,
  basis: [basis.shaftCredit, basis.practice],
};
