import { is } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { PLAIN_SWITCH } from "../../model/facts/channel.ts";
import { bearingAt as at, BEARING, bearingWords } from "../../model/facts/machine.ts";
import { PRIME_MOVER, STOPS_ALLOWED } from "../../model/facts/set.ts";
import { supportAt } from "../../model/facts/support.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import {
  BLIND,
  BLIND_CAUTIONS,
  forbiddenMethod,
  method,
  practical,
  STANDSTILL_CAUTIONS,
  setMayStopIfItCan,
  standsIn,
  underClass,
} from "./common.ts";
import { atHandStop, inSteps, STARTED_AGAIN } from "./procedure.ts";

const ACTS = "alarm or stop, as fitted, at the set point within tolerance; the channel shows the temperature of the block";

const dryPocket = practical(is(at.pocket, "dry pocket"), "not possible because the sensor does not slide out of a dry pocket");

const methods: readonly Method[] = [
  method({
    ...BLIND,
    id: "bt-heated",
    approvable: true,
    figures: ["heat"],
    name: "bearing sensor drawn from its dry pocket and heated",
    technique: 2,
    does: "At no load: the sensor is drawn from its dry pocket and heated beside a reference thermometer until the channel acts.",
    ...inSteps(
      atHandStop("the bearing"),
      "The sensor is drawn from its dry pocket and stays on its lead.",
      "It is put into the block beside the reference thermometer, and the block stands secured.",
      "It is heated slowly until the channel acts.",
      "Reference and channel are read at that moment.",
      "The sensor is left to cool and put back into its pocket to the full depth.",
      "The live value is seen.",
      STARTED_AGAIN,
    ),
    proves: { sensing: "set point", wiring: "set point", logic: "set point", final: "set point" },
    minutes: 30,
    requirements: [dryPocket, setMayStopIfItCan],
    needs: ["heat-block", "independent-reading", "ships-engineer", "set-available"],
    details: [at.setPoint, at.tolerance],
    cautions: [...BLIND_CAUTIONS, "hot-sensor", "no-open-bath", "restore-and-verify"],
    expected: ACTS,
    restore: "sensor back in its pocket to the full depth, live value seen",
    examples: {
      fit: { ...underClass, [at.pocket]: "dry pocket", [STOPS_ALLOWED]: "yes", [supportAt.heatBlock]: ABOARD },
      barred: { [at.pocket]: "embedded or wetted" },
      open: at.pocket,
    },
  }),
  method({
    ...BLIND,
    id: "bt-plug",
    approvable: true,
    figures: ["signal"],
    name: "value fed in at the plug of the bearing channel",
    technique: 4,
    does: "At no load: the sensor's plug is drawn and its resistance, voltage or current fed in and raised through the set point.",
    proves: { wiring: "set point", logic: "set point", final: "set point" },
    minutes: 20,
    requirements: [
      practical(
        is(at.element, "Pt100", "Pt1000", "NTC", "thermocouple K", "thermocouple J", "4-20 mA transmitter"),
        "not possible because a plain switch has no signal to feed in",
      ),
      setMayStopIfItCan,
    ],
    needs: ["signal-source", "independent-reading", "ships-engineer", "set-available"],
    details: [at.setPoint],
    cautions: [...BLIND_CAUTIONS, "live-panel", "restore-and-verify"],
    expected: ACTS,
    restore: "plug refitted and locked, live value seen",
    examples: {
      fit: { ...underClass, [at.element]: "Pt100", [STOPS_ALLOWED]: "yes", [supportAt.signalSource]: ABOARD },
      barred: { [at.element]: PLAIN_SWITCH },
      open: at.element,
    },
  }),
  method({
    id: "bt-standstill",
    setIs: "at rest",
    figures: ["heat"],
    name: "engine stopped: bearing sensor drawn from its dry pocket and heated, relay seen to act",
    technique: 2,
    does: "Engine stopped, start blocked, control powered: the sensor is drawn from its dry pocket and heated beside a reference thermometer; alarm or stop relay is seen to act.",
    proves: { sensing: "set point", wiring: "set point", logic: "set point", final: "movement" },
    hazard: 0,
    minutes: 20,
    requirements: [dryPocket, standsIn],
    needs: ["heat-block", "ships-engineer"],
    details: [at.setPoint, at.tolerance],
    cautions: [...STANDSTILL_CAUTIONS, "hot-sensor"],
    expected: ACTS,
    restore: "sensor back in its pocket to the full depth, start block taken off",
    examples: {
      fit: { ...underClass, [at.pocket]: "dry pocket", [PRIME_MOVER]: "diesel", [STOPS_ALLOWED]: "no", [supportAt.heatBlock]: ABOARD },
      barred: { [STOPS_ALLOWED]: "yes" },
      open: at.pocket,
    },
  }),
  forbiddenMethod(
    "bt-real",
    "bearing starved of oil to heat it",
    "Oil is taken from the bearing until it runs hot.",
    "never: a bearing without oil is destroyed",
  ),
];

export const bearingTemperature: Protection = {
  kind: BEARING,
  name: bearingWords.name,
  short: "bearing temperature",
  applies: is(at.fitted, "stop", "alarm only"),
  appliesNot: "the bearings have no temperature sensors",
  danger: true,
  dangerReason: "really overheating a bearing destroys it",
  methods,
  setPoint: at.setPoint,
  tolerance: at.tolerance,
  basis: [basis.bearingAlarm, basis.practice],
};
