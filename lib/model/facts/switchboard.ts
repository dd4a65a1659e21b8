import { all, is } from "../../logic/condition.ts";
import { choice, type FactSpec, number, yesNo } from "../fact.ts";
import { both, deciding, detail, fittedFact, type ProtectionWords, under } from "./asking.ts";
import { onEngines, PARALLEL, ROLE } from "./set.ts";

export const REVERSE_POWER = "reversePower";
export const DIGITAL_RELAY = "digital relay";
export const OTHER_RELAY = "relay without test function";
export const reversePowerWords: ProtectionWords = { kind: REVERSE_POWER, name: "reverse power", base: is(PARALLEL, "yes") };
const rp = (name: string): string => `/sets/*/${REVERSE_POWER}/${name}`;
export const reversePowerAt = {
  approvedStep: rp("approvedStep"),
  fitted: rp("fitted"),
  showsPower: rp("showsPower"),
  mayBeMotored: rp("mayBeMotored"),
  othersCarry: rp("othersCarry"),
  pickUp: rp("pickUp"),
  motoring: rp("motoringPower"),
  delay: rp("delay"),
} as const;

export const reversePowerFacts: readonly FactSpec[] = [
  fittedFact(
    reversePowerWords,
    [DIGITAL_RELAY, OTHER_RELAY, "none"],
    "What guards this generator against reverse power: a digital relay with a test function of its own, another relay, or nothing?",
    { look: "switchboard, relay panel", photograph: "relay" },
  ),
  ...under(both(reversePowerWords.base, is(reversePowerAt.fitted, DIGITAL_RELAY, OTHER_RELAY)), [
    deciding(
      reversePowerAt.showsPower,
      "relay shows power with its sign",
      yesNo,
      "Does the reverse-power relay show the power it measures, with its sign?",
      "An injection says nothing of the direction; the relay's own reading under load does.",
      { look: "relay display", photograph: "relay" },
    ),
    deciding(
      reversePowerAt.mayBeMotored,
      "set may be motored",
      yesNo,
      "Does the maker allow this set to be motored for some seconds?",
      "What the maker forbids is not planned; a turbine heats quickly when motored.",
      { look: "maker's manual" },
    ),
    deciding(
      reversePowerAt.othersCarry,
      "others can carry the ship while this set is motored",
      yesNo,
      "While this set is motored, can the others carry the load, the motoring power and the largest consumer that may start by itself, within the office's load limit?",
      "The sets left running must not be overloaded, and the next fault must not black out the ship.",
      { look: "load on the board in port against the ratings of the other sets" },
    ),
    deciding(
      reversePowerAt.pickUp,
      "reverse power: pick-up",
      number(0.5, 60, 0.1),
      "At what reverse power, in per cent of rated power, does the relay act?",
      "It is compared with the band of the rules and with the power the set takes when motored.",
      { unit: "%", look: "relay settings", photograph: "relay" },
    ),
    deciding(
      reversePowerAt.motoring,
      "power the set takes when motored",
      number(0.1, 100, 0.1),
      "How much power, in per cent of rated power, does the set take when it is motored?",
      "Below the pick-up the relay never acts when the set is motored.",
      { unit: "%", look: "last test record; maker's data" },
    ),
    detail(
      reversePowerAt.delay,
      "reverse power: delay",
      number(0, 60, 0.1),
      "With what delay does the reverse-power relay act?",
      "The motoring is broken off shortly after it.",
      { unit: "s", look: "relay settings", photograph: "relay" },
    ),
  ]),
];

export const PREFERENTIAL = "preferentialTrips";
export const preferentialWords: ProtectionWords = {
  kind: PREFERENTIAL,
  name: "preferential trips",
  base: is(ROLE, "ship service", "shaft-driven"),
};
export const preferentialAt = {
  approvedStep: `/sets/*/${PREFERENTIAL}/approvedStep`,
  fitted: `/sets/*/${PREFERENTIAL}/fitted`,
  mayDrop: `/sets/*/${PREFERENTIAL}/mayDrop`,
} as const;
export const preferentialFacts: readonly FactSpec[] = [
  fittedFact(preferentialWords, ["yes", "none"], "Does overload of this generator trip consumers of lesser importance in stages?", {
    look: "single-line diagram; relay settings",
  }),
  ...under(both(preferentialWords.base, is(preferentialAt.fitted, "yes")), [
    deciding(
      preferentialAt.mayDrop,
      "consumers on the trip stages may drop",
      yesNo,
      "May the consumers on the preferential trip stages drop out: no reefers, cargo, inert gas or positioning among them?",
      "What drops must not endanger ship or cargo.",
      { look: "list of consumers on each stage" },
    ),
  ]),
];

export const UNDERVOLTAGE = "undervoltageRelease";
export const undervoltageWords: ProtectionWords = { kind: UNDERVOLTAGE, name: "undervoltage release", base: true };
export const undervoltageAt = {
  approvedStep: `/sets/*/${UNDERVOLTAGE}/approvedStep`,
  fitted: `/sets/*/${UNDERVOLTAGE}/fitted`,
  byRegulator: `/sets/*/${UNDERVOLTAGE}/byRegulator`,
} as const;
export const undervoltageFacts: readonly FactSpec[] = [
  fittedFact(undervoltageWords, ["yes", "none"], "Has the generator's breaker an undervoltage release?", {
    look: "breaker data; single-line diagram",
  }),
  ...under(is(undervoltageAt.fitted, "yes"), [
    deciding(
      undervoltageAt.byRegulator,
      "voltage can be lowered with the breaker closed on a dead bus",
      yesNo,
      "Can the generator be run alone on a dead or separate bus section and its voltage be lowered by hand?",
      "The release is then seen to act on real voltage.",
      { look: "regulator; bus sections" },
    ),
  ]),
];

export const OVERCURRENT = "overcurrent";
export const overcurrentWords: ProtectionWords = { kind: OVERCURRENT, name: "overcurrent", base: true };
export const overcurrentAt = {
  approvedStep: `/sets/*/${OVERCURRENT}/approvedStep`,
  fitted: `/sets/*/${OVERCURRENT}/fitted`,
  pickUp: `/sets/*/${OVERCURRENT}/pickUp`,
} as const;
export const overcurrentFacts: readonly FactSpec[] = [
  fittedFact(
    overcurrentWords,
    ["digital relay", "release in the breaker", "none"],
    "What guards this generator against overcurrent: a digital relay, or a release built into the breaker?",
    { look: "switchboard", photograph: "relay" },
  ),
  ...under(is(overcurrentAt.fitted, "digital relay", "release in the breaker"), [
    detail(
      overcurrentAt.pickUp,
      "overcurrent: long-time pick-up",
      number(10, 400, 0.1),
      "At what current, in per cent of rated current, does the long-time overcurrent trip begin to act?",
      "It is compared with the limit of the rules.",
      { unit: "%", look: "relay settings; coordination study", photograph: "relay" },
    ),
  ]),
];

export const STANDBY_START = "standbyStart";
export const standbyStartWords: ProtectionWords = {
  kind: STANDBY_START,
  name: "stand-by start and connection",
  base: all(onEngines, is(ROLE, "ship service")),
};
export const standbyStartAt = {
  approvedStep: `/sets/*/${STANDBY_START}/approvedStep`,
  fitted: `/sets/*/${STANDBY_START}/fitted`,
  realLoss: `/sets/*/${STANDBY_START}/realLoss`,
} as const;
export const standbyStartFacts: readonly FactSpec[] = [
  fittedFact(
    standbyStartWords,
    ["starts and connects by itself", "started by hand"],
    "Does this set start and connect by itself when the running set fails or is overloaded?",
    { look: "power management; synchronising panel" },
  ),
  ...under(both(standbyStartWords.base, is(standbyStartAt.fitted, "starts and connects by itself")), [
    deciding(
      standbyStartAt.realLoss,
      "running set may be tripped for the stand-by start",
      choice("running set may be tripped", "load step only", "neither"),
      "For the stand-by start, may the running set be tripped, may only a real load step be made, or neither?",
      "A real loss shows the whole chain; a load step shows the start on load only.",
      { look: "cargo, terminal and sensitive consumers during the visit" },
    ),
  ]),
];
