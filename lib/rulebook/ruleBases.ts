import { EMERGENCY_START, FIRE_RELEASE, LOSS_OF_POWER } from "../model/facts/emergency.ts";
import { JACKET_WATER } from "../model/facts/jacketWater.ts";
import { LUBE_OIL } from "../model/facts/lubeOil.ts";
import { FUEL_LEAK, INTERLOCK, OIL_MIST, SENSOR_FAILURE } from "../model/facts/machine.ts";
import { OVERSPEED } from "../model/facts/overspeed.ts";
import { BEARING_OIL, HANDOVER } from "../model/facts/shaft.ts";
import { HAND_STOP } from "../model/facts/stops.ts";
import { REVERSE_POWER, STANDBY_START } from "../model/facts/switchboard.ts";
import { TURBINE_OVERSPEED } from "../model/facts/turbine.ts";
import { CFR_OFFSHORE, CFR_PERIODIC, LOCAL_RULES, MAKER_OFFICE, SOLAS } from "../model/facts/visit.ts";
import { type Basis, basis } from "./basis.ts";
import type { Asks, Opener, RuleBasis, Rulebook, Shows, Technique, TechniqueBar } from "./types.ts";

/** How the techniques are named in reasons. */
export const techniques: Readonly<Record<Technique, string>> = {
  1: "real stimulus at the fitted sensor",
  2: "condition applied to the sensing element with calibrated equipment",
  3: "reduced-threshold test function that is indicated, keeps the protection alive and restores itself",
  4: "signal fed in at the plug",
  5: "stored value or adjuster changed",
  6: "wiring changed (contact opened or bridged, wire or supply taken off)",
  7: "running comparison, which stimulates nothing",
};

const bar = (technique: Technique, openedBy: readonly Opener[], otherwise: string, ...from: readonly Basis[]): TechniqueBar => ({
  technique,
  openedBy,
  otherwise,
  basis: from,
});

const procedureContent = ["equipment status", "apparatus", "safety precautions", "set points", "procedure", "expected result"] as const;

const artificial = (what: string): string =>
  `${what} is not accepted under 46 CFR 61.40-10(b) unless the procedure approved for this vessel has it as its step`;
const offshore = (what: string): string => `${what} is not accepted under 46 CFR 130.480(d) without the authority's written acceptance`;

const shows = (protection: string, text: string, ...from: readonly Basis[]): Shows => ({ protection, text, basis: from });
const asks = (text: string, ...from: readonly Basis[]): Asks => ({ text, basis: from });

/** What class practice and both US bases have in common. */
const everywhere = (us: boolean): readonly Shows[] => [
  shows(HAND_STOP, "local stops of every set, proven first", basis.practice),
  shows(OVERSPEED, "overspeed trip independent of the governor", us ? basis.overspeedLimitUs : basis.overspeedLimitClass),
  shows(TURBINE_OVERSPEED, "overspeed trip that shuts the steam", us ? basis.overspeedLimitUs : basis.turbineSpeed),
  shows(LUBE_OIL, "stop on loss of oil pressure; on an emergency set as its rules say", us ? basis.bearingOilLoss : basis.auxiliaryEngines),
  shows(
    BEARING_OIL,
    "a shaft-driven generator disconnects when its bearings lose their oil pressure",
    us ? basis.bearingOilLoss : basis.practice,
  ),
  shows(
    REVERSE_POWER,
    "reverse-power trip of every set that is arranged to run in parallel",
    us ? basis.reversePowerUs : basis.reversePowerClass,
  ),
];
const solasLimits: readonly Asks[] = [
  asks("overspeed trip at most 115 % of rated speed", basis.overspeedLimitClass, basis.turbineSpeed),
  asks(
    "reverse power: diesel 8 to 15 %, turbine 2 to 6 % of rated power, after 3 to 10 s",
    basis.reversePowerClass,
    basis.reversePowerDiesel,
    basis.reversePowerTurbine,
  ),
  asks("stand-by set on the board at most 45 s after the loss, better 30 s", basis.blackoutRecovery),
  asks("emergency source connected at most 45 s after the loss; 36 h on passenger ships, 18 h on cargo ships", basis.solasEmergency),
  asks(
    "three starts stored for the emergency set and a second source for three more within 30 minutes, unless starting by hand is shown to work",
    basis.solasStarts,
  ),
];
const usLimits: readonly Asks[] = [
  asks("overspeed at most 15 % above the highest rated speed, and no override of that trip", basis.overspeedLimitUs, basis.noOverride),
  asks("reverse-power trip asked, without a figure: class or maker's figure counts", basis.reversePowerUs),
  asks(
    "long-time overcurrent pick-up at most 115 % of rated current; an instantaneous trip only, and then always, where three or more sets can be paralleled",
    basis.overcurrentLimit,
    basis.instantaneous,
  ),
  asks(
    "emergency set starts when the voltage has fallen by 15 to 40 %, loads transfer at 85 to 95 % and within 45 s of the failure",
    basis.emergencyStart,
    basis.emergencyTransfer,
  ),
  asks("emergency set carries its full load within 45 s of cranking at 0 °C", basis.emergencyFullLoad),
  asks("six starts stored for the emergency set, or three and three more from a second source", basis.emergencyStarts),
  asks(
    "emergency power for 36 h on passenger ships, 18 h on cargo ships; emergency set driven by a diesel or gas turbine only",
    basis.emergencyDuration,
    basis.emergencyPrimeMover,
  ),
  asks("in periodically unattended plants power is back within 30 s without the emergency set", basis.unattendedRecovery),
];
const usTests: readonly Asks[] = [
  asks(
    "emergency set run weekly, and under load for two hours monthly; its storage batteries every six months; logged",
    basis.emergencyTests,
  ),
];

export const ruleBases: readonly RuleBasis[] = [
  {
    id: SOLAS,
    name: "SOLAS with IACS and class practice",
    says: "All techniques are accepted; a stored value or adjuster that is changed is printed before and after.",
    bars: [],
    procedure: [],
    overspeedFactor: 1.15,
    shows: [
      ...everywhere(false),
      shows(JACKET_WATER, "alarm on high jacket-water temperature", basis.auxiliaryEngines),
      shows(OIL_MIST, "oil-mist or bearing-temperature detection from 2,250 kW or 300 mm bore in unattended spaces", basis.solasOilMist),
      shows(FUEL_LEAK, "leak alarm of jacketed outside fuel pipes", basis.solasFuelPipes),
      shows(STANDBY_START, "stand-by set starts and connects after the loss of a running set", basis.blackoutRecovery),
      shows(EMERGENCY_START, "starting arrangements of the emergency set", basis.solasStarts),
      shows(LOSS_OF_POWER, "the complete emergency system, its automatic starting included", basis.solasPeriodic),
    ],
    limits: solasLimits,
    intervals: [
      asks("stand-by start yearly in the class survey; simulation without stopping a set does not show all faults", basis.standbyTest),
      asks("emergency source weekly, loaded, as near a real loss as is safe", basis.emergencyBoard),
    ],
    basis: [basis.practice],
  },
  {
    id: CFR_PERIODIC,
    name: "46 CFR with 61.40-10",
    says: "No misadjustment, artificial signal, improper wiring or tampering. Where the real test would damage equipment or endanger people, a condition applied at the sensor with calibrated equipment is accepted.",
    bars: [
      bar(
        2,
        ["danger"],
        "a condition applied to the sensor instead of the real one is accepted under 46 CFR 61.40-10(b) only where the real test would damage equipment or endanger people",
        basis.periodicTests,
      ),
      bar(
        3,
        ["approved step", "written acceptance"],
        "a reduced-threshold test function is taken to be accepted under 46 CFR 61.40-10(b) only where it stands in the approved procedure or the authority has accepted it in writing; to be agreed with the authority",
        basis.periodicReading,
      ),
      bar(4, ["approved step"], artificial("a signal fed in at the plug"), basis.periodicTests),
      bar(5, ["approved step"], artificial("a changed stored value or adjuster"), basis.periodicTests),
      bar(6, ["approved step"], artificial("changed wiring"), basis.periodicTests),
    ],
    procedure: procedureContent,
    overspeedFactor: 1.15,
    shows: [
      ...everywhere(true),
      shows(EMERGENCY_START, "starts of the emergency set from each source", basis.emergencyStarts),
      shows(FIRE_RELEASE, "stop of the emergency set on release of the fixed fire-extinguishing system", basis.emergencyStops),
      shows(SENSOR_FAILURE, "failure of a sensor has the least critical consequence", basis.sensorFailure),
      shows(INTERLOCK, "no start with the turning gear engaged", basis.turningGear),
      shows(HANDOVER, "a ship-service set on the board before the shaft generator trips", basis.shaftCredit),
    ],
    limits: usLimits,
    intervals: [asks("periodic safety tests as the Coast Guard sets, normally yearly", basis.periodicInterval), ...usTests],
    basis: [basis.periodicTests, basis.periodicProcedure],
  },
  {
    id: CFR_OFFSHORE,
    name: "46 CFR with 130.480",
    says: "No simulation by misadjustment, artificial signals or improper wiring, with no exception in the text; only written acceptance by the authority opens it.",
    bars: [
      bar(
        3,
        ["written acceptance"],
        "whether a reduced-threshold test function is accepted under 46 CFR 130.480(d) must be asked; it is not planned without the authority's written acceptance",
        basis.offshoreReading,
      ),
      bar(4, ["written acceptance"], offshore("a signal fed in at the plug"), basis.offshoreTests),
      bar(5, ["written acceptance"], offshore("a changed stored value or adjuster"), basis.offshoreTests),
      bar(6, ["written acceptance"], offshore("changed wiring"), basis.offshoreTests),
    ],
    procedure: ["equipment status", "functions needed", "expected results"],
    overspeedFactor: 1.15,
    shows: [
      ...everywhere(true),
      shows(JACKET_WATER, "alarm on high jacket-water temperature at the pilothouse", basis.offshoreAlarms),
      shows(EMERGENCY_START, "starts of the emergency set from each source", basis.emergencyStarts),
      shows(HANDOVER, "a ship-service set on the board before the shaft generator trips", basis.shaftCredit),
    ],
    limits: usLimits,
    intervals: usTests,
    basis: [basis.offshoreTests],
  },
  {
    id: MAKER_OFFICE,
    name: "maker's procedure and office policy only",
    says: "All techniques are accepted; a stored value or adjuster that is changed is printed before and after.",
    bars: [],
    procedure: [],
    overspeedFactor: null,
    shows: [],
    limits: [],
    intervals: [],
    basis: [basis.practice],
  },
  {
    id: LOCAL_RULES,
    name: "local rules, in the office's own words",
    says: "All techniques are accepted unless the office's local rules bar one.",
    bars: [],
    procedure: [],
    overspeedFactor: null,
    shows: [],
    limits: [],
    intervals: [],
    basis: [basis.localRules],
  },
];

/** Local rules as an office's policy words them. */
export interface LocalRules {
  readonly name: string;
  readonly says: string;
  readonly bars: readonly { readonly technique: number; readonly because: string }[];
  readonly overspeedFactor?: number | undefined;
}

const isTechnique = (n: number): n is Technique => Object.hasOwn(techniques, n);

/** The rulebook with the office's local rules in place of the empty ones. */
export const withLocalRules = (rulebook: Rulebook, local: LocalRules | undefined): Rulebook =>
  local === undefined
    ? rulebook
    : {
        ...rulebook,
        ruleBases: rulebook.ruleBases.map((ruleBasis) =>
          ruleBasis.id === LOCAL_RULES
            ? {
                ...ruleBasis,
                name: local.name,
                says: local.says,
                overspeedFactor: local.overspeedFactor ?? null,
                bars: local.bars.flatMap(({ technique, because }) =>
                  isTechnique(technique)
                    ? [
                        bar(
                          technique,
                          ["approved step", "written acceptance"],
                          `not accepted under ${local.name}: ${because}`,
                          basis.localRules,
                        ),
                      ]
                    : [],
                ),
              }
            : ruleBasis,
        ),
      };
