import { is } from "../../logic/condition.ts";
import { lossOfPowerAt as at, LOSS_OF_POWER, lossOfPowerWords } from "../../model/facts/emergency.ts";
import { plantAt, TWO_SOURCES } from "../../model/facts/plant.ts";
import { onEmergencySets } from "../../model/facts/set.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { method, practical, STOPS_ONCE, underClass, WHOLE } from "./common.ts";
import { inSteps } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    ...STOPS_ONCE,
    id: "lp-real",
    setIs: "without power",
    approvable: true,
    name: "real loss of power, emergency set takes over, ship recovers",
    technique: 1,
    does: "Last of the day, stores full: the running set is tripped or stopped in automatic. The emergency set must start and take its load by itself, seconds read at the emergency board; then the ship recovers.",
    ...inSteps(
      "The stores are seen full and the selectors in automatic.",
      "It is said aloud again, one minute before, to bridge, cargo, terminal and everybody in dark or noisy spaces.",
      "The running set is tripped or stopped in automatic, and the stop-watch is started.",
      "The emergency set is seen to start and take its load by itself.",
      "The seconds are read at the emergency board.",
      "The ship recovers, and the seconds to essential services and to full recovery are read.",
      "What had to be done by hand is written down.",
      "The set that was tripped is reset and started again, or left at rest as the day says.",
      "The emergency set goes back to automatic and is seen there.",
    ),
    proves: WHOLE,
    hazard: 2,
    minutes: 60,
    needs: ["ship-safe", "stop-watch", "switchboard-hand", "stores-full", "port-times", "ships-engineer"],
    details: [plantAt.emergencyPower],
    cautions: ["blackout-warned", "turbines-run-down", "starts-by-itself", "back-in-automatic"],
    expected: "seconds from loss to emergency power, to essential services, to full recovery; the sequence; what had to be done by hand",
    basis: [basis.practice, basis.solasPeriodic, basis.emergencyBoard],
    examples: { fit: { ...underClass, [at.shipSafe]: "offered" }, barred: { [at.shipSafe]: "refused" }, open: at.shipSafe },
  }),
  method({
    ...STOPS_ONCE,
    id: "lp-board",
    setIs: "without power",
    approvable: true,
    name: "loss at the emergency board only, its feeder opened",
    technique: 1,
    does: "The feeder from the main board to the emergency board is opened: the emergency set must start, close and take the emergency load by itself; seconds are read. The recovery of the ship is not shown.",
    proves: { sensing: "set point", wiring: "set point", logic: "set point" },
    minutes: 30,
    requirements: [practical(is(at.boardApart, "yes"), "not possible because the emergency board cannot be cut off alone")],
    needs: ["stop-watch", "switchboard-hand", "stores-full", "ships-engineer"],
    details: [plantAt.emergencyPower],
    cautions: ["blackout-warned", "starts-by-itself", "back-in-automatic"],
    expected: "set starts and closes within its time and carries the emergency load; goes back by hand or by itself as designed",
    basis: [basis.emergencyBoard],
    examples: { fit: { ...underClass, [at.boardApart]: "yes" }, barred: { [at.boardApart]: "no" }, open: at.boardApart },
  }),
  method({
    ...STOPS_ONCE,
    id: "lp-start",
    name: "start without load",
    technique: 1,
    does: "The emergency set is started by hand without load: starting is shown and nothing else.",
    proves: { logic: "running value" },
    grade: "action only",
    hazard: 0,
    minutes: 10,
    requirements: [practical(is(at.boardApart, "no"), "not planned because the emergency board can be cut off alone")],
    needs: ["ships-engineer", "starting-data"],
    cautions: ["no-leak", "back-in-automatic"],
    expected: "starts within its time and builds voltage",
    examples: { fit: { ...underClass, [at.boardApart]: "no" }, barred: { [at.boardApart]: "yes" }, open: at.boardApart },
  }),
];

export const lossOfPower: Protection = {
  kind: LOSS_OF_POWER,
  name: lossOfPowerWords.name,
  short: "loss of power",
  applies: onEmergencySets,
  appliesNot: "this is no emergency set; recovery by the ship-service sets is shown with the stand-by start",
  notes: [
    {
      when: is(plantAt.otherSources, "battery, inverter or shore as well"),
      text: "Battery, inverter and shore supply are taken off the board for the test as well; else only they are proven.",
      basis: [basis.practice],
    },
    {
      when: is(plantAt.emergencyPower, TWO_SOURCES),
      text: "The temporary source must take its loads at once and without a break, the final source after it; both are seen.",
      basis: [basis.emergencyDuration, basis.solasEmergency],
    },
  ],
  danger: is(at.shipSafe, "refused"),
  dangerReason: "the ship is not safe for a loss of power",
  methods,
  basis: [basis.solasPeriodic, basis.emergencyTransfer],
};
