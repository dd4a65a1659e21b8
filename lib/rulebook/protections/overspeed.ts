import { any, atMost, is } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { overspeedAt as at, MECHANICAL_DEVICE, OVERSPEED, SEPARATE_PICKUP, SHARED_PICKUP } from "../../model/facts/overspeed.ts";
import { DEFECTS, GOVERNOR, RATED_SPEED, STOPS_ALLOWED } from "../../model/facts/set.ts";
import { supportAt } from "../../model/facts/support.ts";
import { MAKER_OFFICE, RULE_BASIS, TACHOMETER_ERROR } from "../../model/facts/visit.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import {
  type AnyChannel,
  BLIND_CAUTIONS,
  forbiddenMethod,
  insideModuleWith,
  makerAllows,
  patchworkMethods,
  practical,
  setMayStop,
  standstillMethods,
  underClass,
  veto,
} from "./common.ts";

/** Highest permitted trip speed over rated speed, where the rule basis names one. */
export const OVERSPEED_FACTOR = 1.15;

/** The least room, rpm, between the latest trip and a limit: one step of the grid, since no room at all is an empty window. */
const ROOM = 0.5;

/** set point + tolerance + tachometer error stays under the makers' maximum. */
const roomUnderMaker = atMost(
  [
    [1, at.setPoint],
    [1, at.tolerance],
    [1, TACHOMETER_ERROR],
    [-1, at.makersMaximum],
  ],
  -ROOM,
);
const roomUnderRule = any(
  is(RULE_BASIS, MAKER_OFFICE),
  atMost(
    [
      [1, at.setPoint],
      [1, at.tolerance],
      [1, TACHOMETER_ERROR],
      [-OVERSPEED_FACTOR, RATED_SPEED],
    ],
    -ROOM,
  ),
);
/** No room under the makers' maximum: set point + tolerance + error − maximum ≥ 0. */
const noRoom = atMost(
  [
    [-1, at.setPoint],
    [-1, at.tolerance],
    [-1, TACHOMETER_ERROR],
    [1, at.makersMaximum],
  ],
  0,
);
const aboveRated = atMost(
  [
    [1, RATED_SPEED],
    [-1, at.setPoint],
  ],
  -0.1,
);

const PICKUPS = [SEPARATE_PICKUP, SHARED_PICKUP] as const;
const speeds = { [RATED_SPEED]: 1800, [at.setPoint]: 1980, [at.tolerance]: 20, [TACHOMETER_ERROR]: 5, [at.makersMaximum]: 2100 } as const;
const running = { ...underClass, [STOPS_ALLOWED]: "yes", [at.makerForbids]: "no", [supportAt.tachometer]: ABOARD } as const;
const TRIPS =
  "trip at or below the limit of the rule basis; both tachometers agree; fuel shut by means independent of the governor; generator breaker stays open; reset by hand only at rest";

const noDefects = practical(is(DEFECTS, "none"), "not possible because a leak or defect is open on this engine");

const channel: AnyChannel = {
  prefix: "os",
  name: "overspeed",
  at,
  valueElements: PICKUPS,
  comparison: { need: "tachometer", needAt: supportAt.tachometer, instrument: "a second tachometer" },
  sensor: {
    figures: [],
    alsoWhere: [is(at.element, SHARED_PICKUP)],
    need: "speed-target",
    needAt: supportAt.speedTarget,
    does: "A rotating target in front of the pick-up is brought up through the trip speed.",
    requirements: [
      practical(is(at.element, ...PICKUPS), "not possible because a mechanical trip has no pick-up to excite"),
      makerAllows(at),
    ],
    fit: { [at.element]: SEPARATE_PICKUP, [at.makerForbids]: "no" },
  },
  plug: {
    figures: ["frequency"],
    approvable: true,
    always: true,
    need: "function-generator",
    needAt: supportAt.functionGenerator,
    elements: PICKUPS,
    does: "The pick-up's plug is drawn and the frequency teeth × speed / 60 fed in and raised through the trip speed.",
    notFor: "not possible because a mechanical trip has no pick-up to feed",
    details: [at.toothCount],
  },
  opening: {
    requirements: [
      veto(
        is(at.element, SEPARATE_PICKUP, MECHANICAL_DEVICE),
        "never: the governor uses this pick-up; opening its circuit on a running engine takes the speed signal from the governor",
      ),
    ],
    cautions: ["full-fuel"],
    fit: { [at.element]: SEPARATE_PICKUP },
  },
  blind: { requirements: [], needs: ["tachometer"], fit: { [supportAt.tachometer]: ABOARD } },
};

const methods: readonly Method[] = [
  {
    id: "os-raise",
    figures: ["raise"],
    approvable: true,
    name: "real overspeed, unloaded, raised to the trip",
    technique: 1,
    does: "Warm engine, no load, breaker blocked from closing: the speed is raised by the governor to the trip and read on two tachometers. Two attempts at most, least time above rated.",
    proves: { sensing: "set point", wiring: "set point", logic: "set point", final: "set point" },
    grade: "as found",
    hazard: 2,
    minutes: 30,
    stops: 1,
    starts: 1,
    blinds: false,
    requirements: [
      practical(is(GOVERNOR, "mechanical or hydraulic"), "not possible because the electronic control limits the speed"),
      makerAllows(at),
      noDefects,
      practical(aboveRated, "not possible because the set point given does not lie above the rated speed: one of the two is wrong"),
      practical(roomUnderMaker, "not possible because no room is left between trip and the makers' maximum: the abort window is empty"),
      {
        bar: "rule",
        when: roomUnderRule,
        otherwise:
          "not accepted because trip, tolerance and tachometer error together reach above 115 % of rated speed, the limit of the rules",
        basis: [basis.overspeedLimitUs, basis.overspeedLimitClass],
      },
      setMayStop,
    ],
    needs: ["tachometer", "overspeed-clear", "ships-engineer", "set-available"],
    details: [],
    cautions: ["overspeed-people", "overspeed-excursion", "hand-stop-first", "no-leak", "restore-and-verify"],
    expected: TRIPS,
    restore: "governor back at its setting, trip reset at rest, breaker block removed",
    basis: [basis.practice, basis.landSets],
    examples: {
      fit: { ...running, ...speeds, [GOVERNOR]: "mechanical or hydraulic", [DEFECTS]: "none" },
      barred: { [at.makersMaximum]: 2000 },
      open: at.makersMaximum,
    },
  },
  {
    id: "os-test-mode",
    figures: ["test mode"],
    approvable: true,
    name: "overspeed test mode of the control, reduced threshold",
    technique: 3,
    does: "Unloaded, the control's overspeed test mode lowers the threshold, for example to 75 %; the engine trips at that speed; the full value is read out and recorded.",
    proves: { sensing: "running value", wiring: "set point", logic: "running value", final: "set point" },
    grade: "in signal terms",
    hazard: 1,
    minutes: 15,
    stops: 1,
    starts: 1,
    blinds: false,
    makers: true,
    requirements: [...insideModuleWith(at, "reduced threshold"), setMayStop],
    needs: ["service-engineer", "maker-procedure", "ships-engineer", "set-available"],
    details: [at.setPoint],
    cautions: ["hand-stop-first", "no-leak", "codes-and-derates"],
    expected:
      "no trip just below the reduced threshold, trip just above it; full value read out at or below the limit of the rule basis; reset by hand",
    restore: "test mode seen to have ended, stored values printed before and after",
    basis: [basis.reducedThreshold, basis.builtInTest],
    examples: {
      fit: {
        ...underClass,
        [STOPS_ALLOWED]: "yes",
        [at.insideModule]: "yes",
        [at.makerProcedure]: "reduced threshold",
        [supportAt.serviceEngineer]: ABOARD,
      },
      barred: { "/ruleBasis": "46 CFR 130.480", [supportAt.writtenAcceptance]: "not to be had" },
      open: at.makerProcedure,
    },
  },
  {
    id: "os-maker-stored",
    approvable: true,
    name: "maker's procedure, stored value lowered",
    technique: 5,
    does: "Through the control module the stored trip speed is lowered below rated speed until the engine trips, then put back; values are printed before and after.",
    proves: { sensing: "running value", wiring: "set point", logic: "running value", final: "set point" },
    grade: "in signal terms",
    hazard: 1,
    minutes: 30,
    stops: 1,
    starts: 1,
    blinds: false,
    makers: true,
    requirements: [...insideModuleWith(at, "stored value"), setMayStop],
    needs: ["service-engineer", "maker-procedure", "ships-engineer", "set-available"],
    details: [at.setPoint],
    cautions: ["hand-stop-first", "no-leak", "restore-and-verify", "codes-and-derates"],
    expected: "trip at the lowered value; full value put back and read out at or below the limit of the rule basis; reset by hand",
    restore: "stored value put back, read out and printed, seen by the inspector",
    basis: [basis.practice],
    examples: {
      fit: {
        ...underClass,
        [STOPS_ALLOWED]: "yes",
        [at.insideModule]: "yes",
        [at.makerProcedure]: "stored value",
        [supportAt.serviceEngineer]: "in time",
      },
      barred: { "/ruleBasis": "46 CFR 61.40", [at.approvedStep]: "none" },
      open: at.insideModule,
    },
  },
  {
    id: "os-frequency-running",
    figures: ["frequency"],
    name: "frequency fed into the pick-up's plug, engine running",
    technique: 4,
    does: "Unloaded at rated speed: the plug of the overspeed pick-up, which serves nothing else, is drawn and the trip frequency fed in until the engine stops.",
    proves: { wiring: "set point", logic: "set point", final: "set point" },
    grade: "in signal terms",
    hazard: 1,
    minutes: 20,
    stops: 1,
    starts: 1,
    blinds: true,
    requirements: [
      veto(
        is(at.element, SEPARATE_PICKUP, MECHANICAL_DEVICE),
        "never: the governor uses this pick-up and would answer the fed-in frequency with full fuel",
      ),
      practical(is(at.element, ...PICKUPS), "not possible because a mechanical trip has no pick-up to feed"),
      makerAllows(at),
      setMayStop,
    ],
    needs: ["function-generator", "tachometer", "ships-engineer", "set-available"],
    details: [at.toothCount],
    cautions: [...BLIND_CAUTIONS, "full-fuel", "live-panel", "restore-and-verify"],
    expected: "engine stops at the frequency of the trip speed; trip alarmed; reset by hand",
    restore: "plug refitted and locked, live speed seen",
    basis: [basis.practice],
    examples: {
      fit: { ...running, [at.element]: SEPARATE_PICKUP, [supportAt.functionGenerator]: ABOARD },
      barred: { [at.element]: SHARED_PICKUP },
      open: at.element,
    },
  },
  ...standstillMethods(channel),
  ...patchworkMethods(channel),
  forbiddenMethod(
    "os-beyond-limit",
    "speed forced past the limits to find the trip",
    "The governor is overridden and the speed taken on until something trips, at 125 % or to any figure of a land set.",
    "never: speed above the rules' limit, the makers' maximum or the alternator's limit; figures for land sets do not apply aboard",
    basis.landSets,
    basis.practice,
  ),
];

export const overspeed: Protection = {
  kind: OVERSPEED,
  name: "overspeed",
  short: "overspeed",
  applies: is(at.fitted, "trip"),
  appliesNot: "no overspeed trip is fitted on this set",
  danger: any(is(at.makerForbids, "yes"), noRoom),
  dangerReason: "the maker forbids the real overspeed, or no room is left under the makers' maximum",
  methods,
  setPoint: at.setPoint,
  tolerance: at.tolerance,
  basis: [basis.overspeedLimitUs, basis.overspeedLimitClass],
  diagramOrder: [
    "/sets/*/overspeed/fitted",
    "/sets/*/stopsAllowed",
    "/policy/tachometerError",
    "/sets/*/overspeed/makerForbids",
    "/sets/*/plate/ratedSpeed",
    "/sets/*/openDefects",
    "/sets/*/governor",
    "/sets/*/overspeed/element",
    "/sets/*/overspeed/standstillTest",
    "/support/speedTarget",
    "/support/functionGenerator",
    "/support/tachometer",
    "/sets/*/overspeed/makersMaximum",
    "/sets/*/overspeed/insideModule",
    "/sets/*/overspeed/makerProcedure",
    "/sets/*/overspeed/tolerance",
    "/support/sisters/*/serviceEngineer",
    "/sets/*/supplyLoss",
    "/sets/*/overspeed/setPoint",
    "/sets/*/overspeed/monitored",
    "/sets/*/overspeed/approvedStep",
    "/ruleBasis",
    "/support/writtenAcceptance",
  ],
};
