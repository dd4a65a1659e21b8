import { any, is, never } from "../../logic/condition.ts";
import { emergencyStartAt as at, EMERGENCY_START, emergencyStartWords } from "../../model/facts/emergency.ts";
import { HARBOUR_USE, onEmergencySets, SELECTOR } from "../../model/facts/set.ts";
import { startAt } from "../../model/facts/starting.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { method, practical, STOPS_ONCE, underClass, WHOLE } from "./common.ts";
import { inSteps } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    ...STOPS_ONCE,
    id: "es-each",
    name: "start in each selector position and from each source, the other isolated",
    technique: 1,
    does: "In each position of the selector, and from each source of starting energy with the other isolated, the set is started; start failure and not-ready alarms are seen; then the selector goes back to automatic.",
    ...inSteps(
      "The second source of starting energy is isolated and the selector put to its first position.",
      "The set is started and the seconds are read by stop-watch.",
      "Which stops are live in this position is written down.",
      "The set is stopped, and started in each further position of the selector in the same way.",
      "The first source is isolated, the other opened and the set started from it.",
      "The alarms of start failure and of not being ready are seen.",
      "Both sources are opened and their stores are filled again.",
      "The selector goes back to automatic and is seen there.",
    ),
    reads: [
      { name: "started from the first source", unit: "s", untimed: true },
      { name: "from the second source", unit: "s", untimed: true },
    ],
    proves: WHOLE,
    stops: 3,
    starts: 3,
    minutes: 90,
    requirements: [
      practical(is(at.otherSource, "yes"), "not possible because the ship would be left without another source"),
      practical(is(at.storesFull, "yes"), "not possible because the starting stores would fall below their floors"),
    ],
    needs: ["ships-engineer", "stop-watch", "starting-data", "stores-full"],
    details: [SELECTOR, startAt.starter, startAt.second],
    cautions: ["starts-by-itself", "no-leak", "back-in-automatic", "restore-and-verify"],
    expected:
      "starts from each source within its time; failed start and not-ready are alarmed; which stops are live in which position is written down; selector in automatic",
    restore: "both sources open, stores full, selector in automatic and seen there",
    basis: [basis.practice, basis.emergencyStarts, basis.solasStarts],
    examples: {
      fit: { ...underClass, [at.otherSource]: "yes", [at.storesFull]: "yes" },
      barred: { [at.otherSource]: "no" },
      open: at.storesFull,
    },
  }),
  method({
    ...STOPS_ONCE,
    id: "es-once",
    name: "one start in automatic from the first source",
    technique: 1,
    does: "One start from the first source, selector in automatic, without load; what is not tried in the other positions and from the second source stays open.",
    proves: { logic: "running value" },
    grade: "action only",
    minutes: 10,
    needs: ["ships-engineer", "stop-watch", "starting-data"],
    cautions: ["starts-by-itself", "no-leak", "back-in-automatic"],
    expected: "starts within its time and builds voltage; selector in automatic",
    requirements: [
      practical(any(is(at.otherSource, "no"), is(at.storesFull, "no")), "not planned because every position and source can be tried"),
    ],
    examples: {
      fit: { ...underClass, [at.otherSource]: "no", [at.storesFull]: "yes" },
      barred: { [at.otherSource]: "yes" },
      open: at.otherSource,
    },
  }),
];

export const emergencyStart: Protection = {
  kind: EMERGENCY_START,
  name: emergencyStartWords.name,
  short: "emergency start",
  applies: onEmergencySets,
  appliesNot: "this is no emergency set",
  notes: [
    {
      when: onEmergencySets,
      text: "In automatic, by class practice, only overspeed stops an emergency set and low oil pressure, high water temperature and a broken wire give an alarm; 46 CFR (2015) asks a stop on loss of oil pressure, overspeed and release of the fire-extinguishing system. Which stops are live in which selector position is seen in each.",
      basis: [basis.emergencySets, basis.emergencyStops],
    },
    {
      when: is(HARBOUR_USE, "yes"),
      text: "In harbour use the set needs the stops of a ship-service set and must return to emergency duty by itself when the ship's power fails.",
      basis: [basis.practice],
    },
  ],
  danger: never,
  dangerReason: "a start harms nothing",
  methods,
  basis: [basis.emergencyStarts, basis.solasStarts],
};
