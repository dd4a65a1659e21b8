import { is } from "../../logic/condition.ts";
import { choice, type FactSpec, number, yesNo } from "../fact.ts";
import { deciding, detail, fittedFact, type ProtectionWords, under } from "./asking.ts";
import { DUAL_FUEL, onDiesels, onEngines, PRIME_MOVER } from "./set.ts";

export const HAND_STOP = "handStop";
export const handStopWords: ProtectionWords = { kind: HAND_STOP, name: "hand stop and emergency stops", base: onEngines };
export const handStopAt = { approvedStep: `/sets/*/${HAND_STOP}/approvedStep`, count: `/sets/*/${HAND_STOP}/count` } as const;
export const handStopFacts: readonly FactSpec[] = under(onEngines, [
  detail(
    handStopAt.count,
    "emergency stops beside the hand stop",
    number(0, 12, 1),
    "How many emergency stops has this set beside the hand stop at the engine?",
    "Each is tried in turn, and each takes a start.",
    { look: "safety panel drawing; control room; outside the space", photograph: "safetyPanel" },
  ),
]);

export const FUEL_SHUT_OFF = "fuelShutOff";
export const fuelShutOffWords: ProtectionWords = { kind: FUEL_SHUT_OFF, name: "remote fuel shut-off", base: onDiesels };
export const fuelShutOffAt = {
  approvedStep: `/sets/*/${FUEL_SHUT_OFF}/approvedStep`,
  fitted: `/sets/*/${FUEL_SHUT_OFF}/fitted`,
  fedOtherwise: `/sets/*/${FUEL_SHUT_OFF}/fedOtherwise`,
} as const;
export const fuelShutOffFacts: readonly FactSpec[] = [
  fittedFact(fuelShutOffWords, ["yes", "none"], "Can the fuel of this set be shut off from outside the space?", {
    look: "fire control plan",
  }),
  ...under(onDiesels, [
    deciding(
      fuelShutOffAt.fedOtherwise,
      "ship supplied otherwise while fuel is shut off",
      yesNo,
      "While all valves of that remote control are shut together, can the ship be supplied by a set or source that is not fed through them?",
      "All valves of one control are closed together, and none is opened before all are seen shut.",
      { look: "fuel system diagram; shore supply", parent: is(fuelShutOffAt.fitted, "yes") },
    ),
  ]),
];

export const AIR_FLAP = "airFlap";
export const airFlapWords: ProtectionWords = { kind: AIR_FLAP, name: "air flap on overspeed", base: onDiesels };
export const airFlapAt = {
  approvedStep: `/sets/*/${AIR_FLAP}/approvedStep`,
  fitted: `/sets/*/${AIR_FLAP}/fitted`,
  ownTrip: `/sets/*/${AIR_FLAP}/ownTrip`,
  speed: `/sets/*/${AIR_FLAP}/speed`,
} as const;
export const airFlapFacts: readonly FactSpec[] = [
  fittedFact(airFlapWords, ["yes", "none"], "Has the engine a flap in its air inlet that shuts on overspeed?", {
    look: "engine at the air inlet; spare-parts list",
    photograph: "governor",
  }),
  ...under(onDiesels, [
    deciding(
      airFlapAt.ownTrip,
      "air flap can be tripped by itself",
      choice("at the maker's speed", "only at standstill", "not by itself"),
      "Can the air flap be shut by its own trip: on the running engine at the maker's speed, only at standstill, or not by itself?",
      "The flap is a final element of its own: an oil stop by the fuel proves nothing of it.",
      { look: "maker's manual", parent: is(airFlapAt.fitted, "yes") },
    ),
    detail(
      airFlapAt.speed,
      "air flap: highest speed for its test",
      number(100, 6000, 1),
      "At what speed, at most, does the maker let the air flap be shut?",
      "Above it the flap and the turbocharger are damaged.",
      { unit: "rpm", look: "maker's manual", parent: is(airFlapAt.ownTrip, "at the maker's speed") },
    ),
  ]),
];

export const GAS_TRIP = "gasTrip";
export const gasTripWords: ProtectionWords = { kind: GAS_TRIP, name: "gas trip with change to oil", base: is(PRIME_MOVER, DUAL_FUEL) };
export const gasTripAt = {
  approvedStep: `/sets/*/${GAS_TRIP}/approvedStep`,
  gasAtPlace: `/sets/*/${GAS_TRIP}/gasAtPlace`,
} as const;
export const gasTripFacts: readonly FactSpec[] = under(gasTripWords.base, [
  deciding(
    gasTripAt.gasAtPlace,
    "gas can be burnt during the visit",
    yesNo,
    "Can and may the set burn gas during the visit?",
    "The change from gas to oil is seen in gas mode; all other tests are done on oil.",
    { look: "gas supply; port and terminal rules" },
  ),
]);
