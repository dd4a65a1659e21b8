import { is } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { MECHANICAL_DEVICE, SEPARATE_PICKUP, SHARED_PICKUP } from "../../model/facts/overspeed.ts";
import {
  type SecondOverspeedPointers,
  secondIn,
  secondOverspeedAt,
  secondOverspeedWords,
  secondTurbineOverspeedAt,
  secondTurbineOverspeedWords,
} from "../../model/facts/secondOverspeed.ts";
import { DEFECTS, RATED_SPEED, STOPS_ALLOWED } from "../../model/facts/set.ts";
import { supportAt } from "../../model/facts/support.ts";
import { TACHOMETER_ERROR } from "../../model/facts/visit.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { forbiddenMethod, method, practical, STANDSTILL_CAUTIONS, STOPS_ONCE, setMayStop, underClass, WHOLE } from "./common.ts";
import { noRoom, roomToRaise } from "./overspeedWindow.ts";
import { inSteps, STARTED_AGAIN, TWO_TACHOMETERS } from "./procedure.ts";

/** What differs between the second device of an engine and that of a turbine. */
interface Second {
  readonly prefix: string;
  readonly driver: "engine" | "turbine";
  readonly at: SecondOverspeedPointers;
  readonly engineer: { readonly need: string; readonly at: string };
  /** What the real overspeed needs of the plant besides. */
  readonly plant: readonly string[];
  readonly cautions: readonly string[];
}

const methodsOf = ({ prefix, at, driver, engineer, plant, cautions }: Second): readonly Method[] => {
  const speeds = { [RATED_SPEED]: 1800, [at.setPoint]: 1998, [at.tolerance]: 10, [TACHOMETER_ERROR]: 5, [at.makersMaximum]: 2070 };
  return [
    method({
      ...STOPS_ONCE,
      id: `${prefix}-raise`,
      approvable: true,
      figures: ["raise"],
      name: "real overspeed to the second device, the first set above it by the maker's procedure",
      technique: 1,
      does: "Warm, unloaded, breaker blocked from closing, after the first device has been proven: the first is set above the second to the maker's procedure, the speed is raised slowly to the trip and read on two tachometers; then the first is put back and its value read out.",
      ...inSteps(
        "The first device is set above the second to the maker's procedure.",
        "Everybody but two people leaves the space and the plane of rotation.",
        "One of the two stands at the hand stop, the other raises the speed.",
        "The speed at which the set is stopped by hand is agreed aloud.",
        "Rated speed is read on both tachometers and compared.",
        "The speed is raised slowly to the trip.",
        "Both tachometers are read at the trip.",
        "Where it has not tripped at the agreed speed, the hand stop is worked at once.",
        "The set runs down, and its breaker is seen to stay open.",
        "At rest the first device is put back to its value, and the value is read out and seen by the inspector.",
        "The trip is reset by hand, and the set is started again as the maker asks.",
      ),
      reads: TWO_TACHOMETERS,
      proves: WHOLE,
      hazard: 2,
      minutes: 45,
      requirements: [
        practical(
          is(at.firstSetAside, "yes"),
          "not possible because the maker's procedure does not let the first device be set above the second",
        ),
        practical(is(DEFECTS, "none"), "not possible because a leak or defect is open on this set"),
        ...roomToRaise(at),
        setMayStop,
      ],
      needs: ["tachometer", engineer.need, "maker-procedure", "overspeed-clear", ...plant, "ships-engineer", "set-available"],
      cautions: ["overspeed-people", "overspeed-excursion", ...cautions, "hand-stop-first", "no-leak", "restore-and-verify"],
      expected: "trip at or below the limit of the rule basis; both tachometers agree; reset by hand only at rest",
      restore: "first device back at its value, read out and seen by the inspector, before the set runs again",
      examples: {
        fit: {
          ...underClass,
          ...speeds,
          [STOPS_ALLOWED]: "yes",
          [at.firstSetAside]: "yes",
          [DEFECTS]: "none",
          [supportAt.tachometer]: ABOARD,
          [engineer.at]: "in time",
        },
        barred: { [at.firstSetAside]: "no" },
        open: at.firstSetAside,
      },
    }),
    method({
      ...STOPS_ONCE,
      id: `${prefix}-function`,
      approvable: true,
      name: "test function of the second device, trip speed lowered",
      technique: 3,
      does: "Unloaded at rated speed: the maker's test function lowers the trip speed of the second device until it acts while the first stays live; the full value is read out and recorded.",
      ...inSteps(
        "The full value of the second device is read out and recorded.",
        "The first device is seen live, and stays so.",
        "The maker's test function lowers the trip speed of the second device until it acts.",
        "The speed to which it was lowered is read when it acts.",
        "The test function is seen to have ended and the full value is read out again.",
        STARTED_AGAIN,
      ),
      reads: [
        { name: "trip speed lowered to", unit: "rpm", untimed: true },
        { name: "speed at the trip", unit: "rpm", untimed: true },
      ],
      proves: { sensing: "running value", wiring: "set point", logic: "running value", final: "set point" },
      minutes: 15,
      requirements: [practical(is(at.testFunction, "yes"), "not possible because the second device has no test function"), setMayStop],
      needs: ["maker-procedure", "ships-engineer", "set-available"],
      details: [at.setPoint],
      cautions: ["hand-stop-first", "no-leak"],
      expected: "trip at the lowered speed; full value read out at or below the limit of the rule basis; reset by hand",
      restore: "test function seen to have ended, full value read out",
      basis: [basis.practice, basis.builtInTest],
      examples: {
        fit: { ...underClass, [at.testFunction]: "yes", [STOPS_ALLOWED]: "yes" },
        barred: { [at.testFunction]: "no" },
        open: at.testFunction,
      },
    }),
    method({
      id: `${prefix}-frequency`,
      setIs: "at rest",
      approvable: true,
      figures: ["frequency"],
      name: "set stopped: frequency fed in at the second device's pick-up, final element seen to move",
      technique: 4,
      does: "Set at rest, start blocked or steam isolated, control powered: the frequency teeth × speed / 60 is fed in at the plug of the second device's pick-up and raised through its trip speed; the fuel rack or stop valve is seen to shut.",
      proves: { wiring: "set point", logic: "set point", final: "movement" },
      hazard: 0,
      minutes: 20,
      requirements: [
        practical(is(at.fitted, SEPARATE_PICKUP, SHARED_PICKUP), "not possible because a mechanical device has no pick-up to feed"),
      ],
      needs: ["function-generator", "ships-engineer"],
      details: [at.toothCount],
      cautions: [...STANDSTILL_CAUTIONS, "live-panel"],
      expected: "trip at the frequency of the trip speed; fuel or steam seen to be shut; reset by hand",
      restore: "plug refitted, start block or steam isolation taken off",
      examples: {
        fit: { ...underClass, [at.fitted]: SEPARATE_PICKUP, [supportAt.functionGenerator]: ABOARD },
        barred: { [at.fitted]: MECHANICAL_DEVICE },
        open: at.fitted,
      },
    }),
    method({
      ...STOPS_ONCE,
      id: `${prefix}-lever`,
      lastResort: true,
      name: "second device struck by hand, linkage and final element only",
      technique: 1,
      does: "At no load the lever of the second device is struck by hand; linkage and fuel rack or stop valve are seen to act. The flyweight or bolt and its speed are not proven.",
      proves: { logic: "running value", final: "set point" },
      grade: "action only",
      minutes: 5,
      requirements: [practical(is(at.fitted, MECHANICAL_DEVICE), "not possible because the device has no lever"), setMayStop],
      needs: ["ships-engineer", "set-available"],
      cautions: ["hand-stop-first", "no-leak"],
      expected: "fuel or steam shut fully and without binding; reset by hand at rest",
      examples: {
        fit: { ...underClass, [at.fitted]: MECHANICAL_DEVICE, [STOPS_ALLOWED]: "yes" },
        barred: { [at.fitted]: SEPARATE_PICKUP },
        open: at.fitted,
      },
    }),
    forbiddenMethod(
      `${prefix}-first-out`,
      `first ${driver} overspeed device put out of action to reach the second`,
      "The first overspeed device is disconnected or blocked and the speed raised until the second acts.",
      "never: with the first device out, one untested device is all that stands between the set and run-away",
    ),
  ];
};

const second = (words: typeof secondOverspeedWords, told: Second, short: string): Protection => ({
  kind: words.kind,
  name: words.name,
  short,
  besideAnother: true,
  applies: secondIn(words, told.at),
  appliesNot: "no second overspeed device is fitted on this set",
  danger: noRoom(told.at),
  dangerReason: "no room is left under the makers' maximum",
  methods: methodsOf(told),
  setPoint: told.at.setPoint,
  tolerance: told.at.tolerance,
  basis: [basis.practice],
});

/** Where a set has two overspeed devices, independent of each other, each is proven. */
export const secondOverspeed: Protection = second(
  secondOverspeedWords,
  {
    prefix: "s2",
    driver: "engine",
    at: secondOverspeedAt,
    engineer: { need: "service-engineer", at: supportAt.serviceEngineer },
    plant: ["governor-hand"],
    cautions: [],
  },
  "second overspeed",
);
export const secondTurbineOverspeed: Protection = second(
  secondTurbineOverspeedWords,
  {
    prefix: "t2",
    driver: "turbine",
    at: secondTurbineOverspeedAt,
    engineer: { need: "turbine-engineer", at: supportAt.turbineEngineer },
    plant: ["steam-plant"],
    cautions: ["turbine-speed", "standby-oil-first"],
  },
  "second turbine overspeed",
);
