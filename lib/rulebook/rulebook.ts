import { type FactSpec, photographs } from "../model/fact.ts";
import * as alarm from "../model/facts/alarmSensor.ts";
import type { ProtectionWords } from "../model/facts/asking.ts";
import { approvedStepFact } from "../model/facts/asking.ts";
import { channelFacts } from "../model/facts/channel.ts";
import * as emergency from "../model/facts/emergency.ts";
import { jacketWaterFacts, jacketWaterWords } from "../model/facts/jacketWater.ts";
import { lubeOilFacts, lubeOilWords } from "../model/facts/lubeOil.ts";
import * as machine from "../model/facts/machine.ts";
import { overspeedFacts, overspeedWords } from "../model/facts/overspeed.ts";
import { plantFacts } from "../model/facts/plant.ts";
import * as second from "../model/facts/secondOverspeed.ts";
import { setFacts } from "../model/facts/set.ts";
import * as shaft from "../model/facts/shaft.ts";
import { startFacts } from "../model/facts/starting.ts";
import * as stops from "../model/facts/stops.ts";
import { supportFacts } from "../model/facts/support.ts";
import * as board from "../model/facts/switchboard.ts";
import * as turbine from "../model/facts/turbine.ts";
import { visitFacts } from "../model/facts/visit.ts";
import { cautions } from "./cautions.ts";
import { needs } from "./needs.ts";
import { orderOfPreference } from "./preference.ts";
import { airFlap } from "./protections/airFlap.ts";
import { jacketWaterAlarm, lubeOilAlarm } from "./protections/alarmSensor.ts";
import { bearingOilPressure } from "./protections/bearingOilPressure.ts";
import { bearingTemperature } from "./protections/bearingTemperature.ts";
import { controlSupply } from "./protections/controlSupply.ts";
import { emergencyStart } from "./protections/emergencyStart.ts";
import { exhaustPressure } from "./protections/exhaustPressure.ts";
import { fireRelease } from "./protections/fireRelease.ts";
import { fuelLeak } from "./protections/fuelLeak.ts";
import { fuelShutOff } from "./protections/fuelShutOff.ts";
import { gasTrip } from "./protections/gasTrip.ts";
import { handStop } from "./protections/handStop.ts";
import { jacketWaterTemperature } from "./protections/jacketWaterTemperature.ts";
import { lossOfPower } from "./protections/lossOfPower.ts";
import { lubeOilPressure } from "./protections/lubeOilPressure.ts";
import { oilMist } from "./protections/oilMist.ts";
import { overcurrent } from "./protections/overcurrent.ts";
import { overspeed } from "./protections/overspeed.ts";
import { preferentialTrips } from "./protections/preferentialTrips.ts";
import { reversePower } from "./protections/reversePower.ts";
import { secondOverspeed, secondTurbineOverspeed } from "./protections/secondOverspeed.ts";
import { sensorFailure } from "./protections/sensorFailure.ts";
import { shaftDisconnect } from "./protections/shaftDisconnect.ts";
import { shaftHandover } from "./protections/shaftHandover.ts";
import { shaftTrips } from "./protections/shaftTrips.ts";
import { standbyOilPump } from "./protections/standbyOilPump.ts";
import { standbyStart } from "./protections/standbyStart.ts";
import { startInterlock } from "./protections/startInterlock.ts";
import { turbineOverspeed } from "./protections/turbineOverspeed.ts";
import { undervoltageRelease } from "./protections/undervoltageRelease.ts";
import { vibration } from "./protections/vibration.ts";
import { windingTemperature } from "./protections/windingTemperature.ts";
import { ruleBases, techniques } from "./ruleBases.ts";
import type { Protection, Rulebook } from "./types.ts";

const stepsOf = (protection: Protection): readonly string[] => protection.methods.filter((m) => m.approvable === true).map((m) => m.id);
const labelsOf = (protection: Protection): Readonly<Record<string, string>> => ({
  none: "no approved procedure, or it does not cover this",
  "another step": "the approved procedure has another step",
  ...Object.fromEntries(protection.methods.map((m) => [m.id, m.name])),
});

/** The facts of a protection, with the question for its approved step where some method of it may be one. */
const withFacts = (protection: Protection, words: ProtectionWords, facts: readonly FactSpec[] = []): readonly FactSpec[] => [
  ...facts,
  ...(stepsOf(protection).length === 0 ? [] : [approvedStepFact(words, stepsOf(protection), labelsOf(protection))]),
];

/** The whole rulebook, as data. */
export const rulebook: Rulebook = {
  version: "2.5.1",
  facts: [
    ...visitFacts,
    ...plantFacts,
    ...setFacts,
    ...startFacts,
    ...withFacts(handStop, stops.handStopWords, stops.handStopFacts),
    ...withFacts(fuelShutOff, stops.fuelShutOffWords, stops.fuelShutOffFacts),
    ...channelFacts(lubeOilWords, stepsOf(lubeOilPressure), labelsOf(lubeOilPressure)),
    ...lubeOilFacts,
    ...withFacts(lubeOilAlarm, alarm.lubeOilAlarmWords, alarm.lubeOilAlarmFacts),
    ...channelFacts(jacketWaterWords, stepsOf(jacketWaterTemperature), labelsOf(jacketWaterTemperature)),
    ...jacketWaterFacts,
    ...withFacts(jacketWaterAlarm, alarm.jacketWaterAlarmWords, alarm.jacketWaterAlarmFacts),
    ...channelFacts(overspeedWords, stepsOf(overspeed), labelsOf(overspeed)),
    ...overspeedFacts,
    ...withFacts(secondOverspeed, second.secondOverspeedWords, second.secondOverspeedFacts),
    ...withFacts(airFlap, stops.airFlapWords, stops.airFlapFacts),
    ...withFacts(turbineOverspeed, turbine.turbineOverspeedWords, turbine.turbineOverspeedFacts),
    ...withFacts(secondTurbineOverspeed, second.secondTurbineOverspeedWords, second.secondTurbineOverspeedFacts),
    ...withFacts(exhaustPressure, turbine.exhaustWords, turbine.exhaustFacts),
    ...withFacts(standbyOilPump, turbine.standbyOilWords, turbine.standbyOilFacts),
    ...withFacts(bearingTemperature, machine.bearingWords, machine.bearingFacts),
    ...withFacts(windingTemperature, machine.windingWords, machine.windingFacts),
    ...withFacts(vibration, machine.vibrationWords, machine.vibrationFacts),
    ...withFacts(oilMist, machine.oilMistWords, machine.oilMistFacts),
    ...withFacts(fuelLeak, machine.fuelLeakWords, machine.fuelLeakFacts),
    ...withFacts(sensorFailure, machine.sensorFailureWords, machine.sensorFailureFacts),
    ...withFacts(controlSupply, machine.controlSupplyWords, machine.controlSupplyFacts),
    ...withFacts(startInterlock, machine.interlockWords, machine.interlockFacts),
    ...withFacts(gasTrip, stops.gasTripWords, stops.gasTripFacts),
    ...withFacts(reversePower, board.reversePowerWords, board.reversePowerFacts),
    ...withFacts(preferentialTrips, board.preferentialWords, board.preferentialFacts),
    ...withFacts(undervoltageRelease, board.undervoltageWords, board.undervoltageFacts),
    ...withFacts(overcurrent, board.overcurrentWords, board.overcurrentFacts),
    ...withFacts(bearingOilPressure, shaft.bearingOilWords, shaft.bearingOilFacts),
    ...withFacts(shaftTrips, shaft.shaftTripsWords, shaft.shaftTripsFacts),
    ...withFacts(shaftDisconnect, shaft.shaftDisconnectWords, shaft.shaftDisconnectFacts),
    ...withFacts(shaftHandover, shaft.handoverWords, shaft.handoverFacts),
    ...withFacts(standbyStart, board.standbyStartWords, board.standbyStartFacts),
    ...withFacts(emergencyStart, emergency.emergencyStartWords, emergency.emergencyStartFacts),
    ...withFacts(fireRelease, emergency.fireReleaseWords, emergency.fireReleaseFacts),
    ...withFacts(lossOfPower, emergency.lossOfPowerWords, emergency.lossOfPowerFacts),
    ...supportFacts,
  ],
  ruleBases,
  // In the order in which they are proven: the stops first, the loss of power last.
  protections: [
    handStop,
    fuelShutOff,
    lubeOilPressure,
    lubeOilAlarm,
    jacketWaterTemperature,
    jacketWaterAlarm,
    overspeed,
    secondOverspeed,
    airFlap,
    turbineOverspeed,
    secondTurbineOverspeed,
    exhaustPressure,
    standbyOilPump,
    bearingTemperature,
    windingTemperature,
    vibration,
    oilMist,
    fuelLeak,
    sensorFailure,
    controlSupply,
    startInterlock,
    gasTrip,
    reversePower,
    preferentialTrips,
    undervoltageRelease,
    overcurrent,
    bearingOilPressure,
    shaftTrips,
    shaftDisconnect,
    shaftHandover,
    standbyStart,
    emergencyStart,
    fireRelease,
    lossOfPower,
  ],
  needs,
  always: ["set-point-list", "last-record", "single-line-diagram", "starting-data", "hours-of-rest", "port-times"],
  cautions,
  techniques,
  hazards: {
    0: "instruments and readings only",
    1: "the engine stops on command, or a channel is blind while it runs",
    2: "a hot or pressurised system is opened, speed goes above rated, a set is motored, or the ship loses power",
    3: "never",
  },
  orderOfPreference,
  photographs,
};
