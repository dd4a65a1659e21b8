import { type Condition, is } from "../../logic/condition.ts";
import { type FactSpec, number, yesNo } from "../fact.ts";
import { both, deciding, detail, fittedFact, type ProtectionWords, under } from "./asking.ts";
import { presentIn } from "./channel.ts";
import { MECHANICAL_DEVICE, overspeedAt, overspeedWords, SEPARATE_PICKUP, SHARED_PICKUP } from "./overspeed.ts";
import { onTurbines } from "./set.ts";
import { turbineOverspeedAt } from "./turbine.ts";

// Many turbines and some engines have two overspeed devices, independent of each other: each is proven.

const at = (kind: string, makersMaximum: string) =>
  ({
    approvedStep: `/sets/*/${kind}/approvedStep`,
    fitted: `/sets/*/${kind}/fitted`,
    testFunction: `/sets/*/${kind}/testFunction`,
    firstSetAside: `/sets/*/${kind}/firstSetAside`,
    setPoint: `/sets/*/${kind}/setPoint`,
    tolerance: `/sets/*/${kind}/tolerance`,
    toothCount: `/sets/*/${kind}/toothCount`,
    makersMaximum,
  }) as const;

export type SecondOverspeedPointers = ReturnType<typeof at>;

export const SECOND_OVERSPEED = "secondOverspeed";
export const secondOverspeedAt = at(SECOND_OVERSPEED, overspeedAt.makersMaximum);
export const secondOverspeedWords: ProtectionWords = {
  kind: SECOND_OVERSPEED,
  name: "second overspeed device",
  base: presentIn(overspeedWords),
};

export const SECOND_TURBINE_OVERSPEED = "secondTurbineOverspeed";
export const secondTurbineOverspeedAt = at(SECOND_TURBINE_OVERSPEED, turbineOverspeedAt.makersMaximum);
export const secondTurbineOverspeedWords: ProtectionWords = {
  kind: SECOND_TURBINE_OVERSPEED,
  name: "second turbine overspeed device",
  base: onTurbines,
};

const PICKUPS = [SEPARATE_PICKUP, SHARED_PICKUP] as const;

/** Where a second device is fitted. */
export const secondIn = (words: ProtectionWords, pointers: SecondOverspeedPointers): Condition =>
  both(words.base, is(pointers.fitted, MECHANICAL_DEVICE, ...PICKUPS));

const facts = (words: ProtectionWords, pointers: SecondOverspeedPointers, machine: string): readonly FactSpec[] => [
  fittedFact(
    words,
    [MECHANICAL_DEVICE, ...PICKUPS, "none"],
    `Has the ${machine} a second overspeed device, independent of the first, and what senses the speed for it?`,
    { photograph: "governor" },
  ),
  ...under(secondIn(words, pointers), [
    deciding(
      pointers.testFunction,
      `${words.name}: test function`,
      yesNo,
      `Has the ${words.name} a test function of its maker that lowers its trip speed?`,
      "A lowered trip speed proves the device without raising the speed.",
      { look: "maker's manual, chapter on testing safety functions" },
    ),
    deciding(
      pointers.firstSetAside,
      `${words.name}: first device may be set above it`,
      yesNo,
      `Does the maker's procedure let the first overspeed device be set above the ${words.name} for a test?`,
      "Only then can the second device act on real speed.",
      { look: "maker's manual, chapter on testing safety functions" },
    ),
    deciding(
      pointers.setPoint,
      `${words.name}: trip speed`,
      number(100, 8000, 0.5),
      `At what speed does the ${words.name} act?`,
      "There must be room between the trip and the highest speed allowed.",
      { unit: "rpm", look: "set-point list; last test record", photograph: "setPointPage" },
    ),
    deciding(
      pointers.tolerance,
      `${words.name}: tolerance`,
      number(0, 200, 0.5),
      `What tolerance does the maker allow on the trip speed of the ${words.name}?`,
      "The margin of the test is counted with it.",
      { unit: "rpm", difference: true, look: "maker's manual" },
    ),
  ]),
  ...under(both(words.base, is(pointers.fitted, ...PICKUPS)), [
    detail(
      pointers.toothCount,
      `teeth at the pick-up of the ${words.name}`,
      number(1, 400, 1),
      `How many teeth pass the pick-up of the ${words.name} in one turn of the shaft?`,
      "The frequency to feed in is teeth × speed / 60.",
      { look: "governor or flywheel drawing", photograph: "governor" },
    ),
  ]),
];

export const secondOverspeedFacts = facts(secondOverspeedWords, secondOverspeedAt, "engine");
export const secondTurbineOverspeedFacts = facts(secondTurbineOverspeedWords, secondTurbineOverspeedAt, "turbine");
