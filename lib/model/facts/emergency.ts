import { is } from "../../logic/condition.ts";
import { type FactSpec, yesNo } from "../fact.ts";
import { both, deciding, fittedFact, offered, type ProtectionWords, under } from "./asking.ts";
import { onEmergencySets } from "./set.ts";

export const EMERGENCY_START = "emergencyStart";
export const emergencyStartWords: ProtectionWords = {
  kind: EMERGENCY_START,
  name: "start of the emergency set in each position and from each source",
  base: onEmergencySets,
};
export const emergencyStartAt = {
  approvedStep: `/sets/*/${EMERGENCY_START}/approvedStep`,
  otherSource: `/sets/*/${EMERGENCY_START}/otherSource`,
  storesFull: `/sets/*/${EMERGENCY_START}/storesFull`,
} as const;
export const emergencyStartFacts: readonly FactSpec[] = under(onEmergencySets, [
  deciding(
    emergencyStartAt.otherSource,
    "ship has another source meanwhile",
    yesNo,
    "While the emergency set is out of automatic, has the ship her main sets running as another source?",
    "The ship is never left without a source that starts by itself.",
    { look: "plant condition during the visit" },
  ),
  deciding(
    emergencyStartAt.storesFull,
    "starting stores above their floors",
    yesNo,
    "Will the starting stores of the emergency set be full, and can they be recharged between the tests?",
    "The stores must be full again before the loss-of-power test and before leaving.",
    { look: "charger, compressor or hand pump of the emergency set", photograph: "emergencyPanel" },
  ),
]);

export const LOSS_OF_POWER = "lossOfPower";
export const lossOfPowerWords: ProtectionWords = {
  kind: LOSS_OF_POWER,
  name: "loss of power and recovery",
  base: onEmergencySets,
};
export const lossOfPowerAt = {
  approvedStep: `/sets/*/${LOSS_OF_POWER}/approvedStep`,
  shipSafe: `/sets/*/${LOSS_OF_POWER}/shipSafe`,
  boardApart: `/sets/*/${LOSS_OF_POWER}/boardApart`,
} as const;
export const lossOfPowerFacts: readonly FactSpec[] = under(onEmergencySets, [
  offered(
    lossOfPowerAt.shipSafe,
    "ship made safe for a loss of power",
    "Will the vessel be made safe for a real loss of power, with the master's agreement?",
    "A real loss of power shows the whole recovery; it is done only where nobody and nothing depends on power.",
  ),
  deciding(
    lossOfPowerAt.boardApart,
    "emergency board can be cut off alone",
    yesNo,
    "Can the feeder from the main board to the emergency board be opened alone, so that only the emergency board loses its power?",
    "Starting, closing and timing can then be shown without a loss of power on the whole ship.",
    { look: "single-line diagram", photograph: "emergencyPanel" },
  ),
]);

export const FIRE_RELEASE = "fireRelease";
export const fireReleaseWords: ProtectionWords = {
  kind: FIRE_RELEASE,
  name: "stop on release of the fixed fire-extinguishing system",
  base: onEmergencySets,
};
export const fireReleaseAt = {
  approvedStep: `/sets/*/${FIRE_RELEASE}/approvedStep`,
  fitted: `/sets/*/${FIRE_RELEASE}/fitted`,
  bottlesApart: `/sets/*/${FIRE_RELEASE}/bottlesApart`,
} as const;
export const fireReleaseFacts: readonly FactSpec[] = [
  fittedFact(
    fireReleaseWords,
    ["yes", "none"],
    "Does release of the fixed fire-extinguishing system in its space stop the emergency set?",
    { look: "fire-extinguishing drawing; safety panel drawing" },
  ),
  ...under(both(onEmergencySets, is(fireReleaseAt.fitted, "yes")), [
    offered(
      fireReleaseAt.bottlesApart,
      "bottles disconnected by a competent person",
      "Will the extinguishing bottles and pilot lines of the space be disconnected by a competent person for the test?",
      "With an armed pilot line the test can release the gas on people.",
    ),
  ]),
];
