import { any, is } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { MECHANICAL_DEVICE, SEPARATE_PICKUP } from "../../model/facts/overspeed.ts";
import { DEFECTS, onTurbines, RATED_SPEED, STOPS_ALLOWED } from "../../model/facts/set.ts";
import { supportAt } from "../../model/facts/support.ts";
import { turbineOverspeedAt as at, TURBINE_OVERSPEED, turbineOverspeedWords } from "../../model/facts/turbine.ts";
import { TACHOMETER_ERROR } from "../../model/facts/visit.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { forbiddenMethod, method, practical, STANDSTILL_CAUTIONS, STOPS_ONCE, setMayStop, underClass, WHOLE } from "./common.ts";
import { noRoom, roomToRaise } from "./overspeedWindow.ts";
import { inSteps, TWO_TACHOMETERS } from "./procedure.ts";

const makerAllows = practical(is(at.makerForbids, "no"), "not possible because the turbine maker forbids raising the speed to the trip");
const speeds = { [RATED_SPEED]: 1800, [at.setPoint]: 1980, [at.tolerance]: 10, [TACHOMETER_ERROR]: 5, [at.makersMaximum]: 2070 } as const;

const methods: readonly Method[] = [
  method({
    ...STOPS_ONCE,
    id: "to-raise",
    approvable: true,
    figures: ["raise"],
    name: "turbine speed raised to the trip, unloaded, to the maker's procedure",
    technique: 1,
    does: "Turbine warm, quiet and unloaded, breaker blocked from closing: the speed is raised slowly to the maker's procedure until the trip shuts the steam; two tachometers are read.",
    ...inSteps(
      "Everybody but two people leaves the space and the plane of rotation.",
      "One of the two holds the hand trip, the other raises the speed.",
      "The speed at which the turbine is tripped by hand is agreed aloud.",
      "Rated speed is read on both tachometers and compared.",
      "The speed is raised slowly to the maker's procedure until the trip shuts the steam.",
      "Both tachometers are read at the trip.",
      "Where it has not tripped at the agreed speed, the hand trip is worked at once.",
      "The turbine runs down, with its oil pressure watched and its breaker seen open.",
      "At the maker's speed the trip is latched again by hand.",
      "The turbine is started again as its maker asks, and the breaker block is removed.",
    ),
    reads: TWO_TACHOMETERS,
    proves: WHOLE,
    hazard: 2,
    minutes: 45,
    requirements: [
      makerAllows,
      practical(is(DEFECTS, "none"), "not possible because a leak, vibration or a leaking governor valve is open on this turbine"),
      ...roomToRaise(at),
      setMayStop,
    ],
    needs: ["tachometer", "turbine-engineer", "overspeed-clear", "steam-plant", "ships-engineer", "set-available"],
    cautions: ["overspeed-people", "overspeed-excursion", "turbine-speed", "standby-oil-first", "hand-stop-first", "no-leak"],
    expected:
      "trip at or below the limit of the rule basis; both tachometers agree; stop valve shuts by means independent of the governor; latched again by hand only",
    basis: [basis.practice, basis.turbineSpeed],
    examples: {
      fit: {
        ...underClass,
        ...speeds,
        [STOPS_ALLOWED]: "yes",
        [at.makerForbids]: "no",
        [DEFECTS]: "none",
        [supportAt.tachometer]: ABOARD,
        [supportAt.turbineEngineer]: "in time",
      },
      barred: { [at.makersMaximum]: 1990 },
      open: at.makersMaximum,
    },
  }),
  method({
    id: "to-injection",
    name: "oil injected to the overspeed bolt, trip held off",
    technique: 3,
    does: "Turbine at rated speed, unloaded: oil is injected to the bolt while the trip is held off, and bolt and latch are seen to move. Nothing is learnt of the trip speed.",
    proves: { sensing: "running value", logic: "running value" },
    grade: "action only",
    minutes: 30,
    requirements: [
      practical(is(at.element, MECHANICAL_DEVICE), "not possible because the trip has no bolt"),
      practical(is(at.oilInjection, "yes"), "not possible because no oil injection is fitted"),
      practical(
        is(at.makerForbids, "yes"),
        "not planned because the maker lets the speed be raised: oil injection is no substitute for it and would spoil it if done before",
      ),
      setMayStop,
    ],
    needs: ["turbine-engineer", "steam-plant", "ships-engineer", "set-available"],
    cautions: ["oil-injection-after", "turbine-speed", "hand-stop-first", "no-leak"],
    expected: "bolt and latch are seen to move at the oil pressure of the maker; nothing is learnt of the trip speed",
    examples: {
      fit: {
        ...underClass,
        [at.element]: MECHANICAL_DEVICE,
        [at.oilInjection]: "yes",
        [at.makerForbids]: "yes",
        [STOPS_ALLOWED]: "yes",
        [supportAt.turbineEngineer]: ABOARD,
      },
      barred: { [at.oilInjection]: "no" },
      open: at.oilInjection,
    },
  }),
  method({
    id: "to-standstill-plug",
    setIs: "at rest",
    approvable: true,
    figures: ["frequency"],
    name: "turbine stopped: frequency fed in at the pick-up's plug, stop valve seen to shut",
    technique: 4,
    does: "Turbine at rest, steam isolated, oil pressure on the trip gear: the frequency teeth × speed / 60 is fed in and raised through the trip speed; the stop valve is seen to shut.",
    proves: { wiring: "set point", logic: "set point", final: "movement" },
    hazard: 0,
    minutes: 20,
    requirements: [practical(is(at.element, SEPARATE_PICKUP), "not possible because a mechanical trip has no pick-up to feed")],
    needs: ["function-generator", "ships-engineer"],
    details: [at.toothCount],
    cautions: [...STANDSTILL_CAUTIONS, "live-panel"],
    expected: "trip at the frequency of the trip speed; stop valve shuts; reset by hand",
    restore: "plug refitted, steam isolation taken off",
    examples: {
      fit: { ...underClass, [at.element]: SEPARATE_PICKUP, [supportAt.functionGenerator]: ABOARD },
      barred: { [at.element]: MECHANICAL_DEVICE },
      open: at.element,
    },
  }),
  method({
    ...STOPS_ONCE,
    id: "to-hand-trip",
    lastResort: true,
    name: "hand trip of the turbine, latch and stop valve only",
    technique: 1,
    does: "At no load the hand trip is struck; latch, linkage and stop valve are seen to act. The bolt and its speed are not proven.",
    proves: { logic: "running value", final: "set point" },
    grade: "action only",
    minutes: 5,
    requirements: [setMayStop],
    needs: ["ships-engineer", "set-available"],
    cautions: ["no-leak", "standby-oil-first"],
    expected: "stop valve shuts fully and without binding; latched again by hand",
    examples: { fit: { ...underClass, [STOPS_ALLOWED]: "yes" }, barred: { [STOPS_ALLOWED]: "no" }, open: STOPS_ALLOWED },
  }),
  forbiddenMethod(
    "to-beyond",
    "turbine speed forced past the limits to find the trip",
    "The speed is taken on until something trips.",
    "never: a turbine above 115 % of its designed speed can burst",
    basis.turbineSpeed,
  ),
];

export const turbineOverspeed: Protection = {
  kind: TURBINE_OVERSPEED,
  name: turbineOverspeedWords.name,
  short: "turbine overspeed",
  applies: onTurbines,
  appliesNot: "no steam turbine drives this set",
  danger: any(is(at.makerForbids, "yes"), noRoom(at)),
  dangerReason: "the maker forbids the real overspeed, or no room is left under the makers' maximum",
  methods,
  setPoint: at.setPoint,
  tolerance: at.tolerance,
  basis: [basis.overspeedLimitUs, basis.turbineSpeed],
};
