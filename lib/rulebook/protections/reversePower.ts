import { any, atMost, is } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { both } from "../../model/facts/asking.ts";
import { GENERATORS_ONLY, plantAt } from "../../model/facts/plant.ts";
import { MOTOR_MODE, PARALLEL, SHAFT_TURNS, TEST_BLOCK } from "../../model/facts/set.ts";
import { supportAt } from "../../model/facts/support.ts";
import { reversePowerAt as at, DIGITAL_RELAY, OTHER_RELAY, REVERSE_POWER, reversePowerWords } from "../../model/facts/switchboard.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { forbiddenMethod, method, practical, underClass, veto, WHOLE } from "./common.ts";
import { inSteps } from "./procedure.ts";

/** Motoring power at or above the pick-up: pick-up − motoring ≤ 0, in per cent of rated power. */
const acts = atMost(
  [
    [1, at.pickUp],
    [-1, at.motoring],
  ],
  0,
);
/** Motoring power below the pick-up: motoring − pick-up ≤ −0.1. */
const neverActs = atMost(
  [
    [1, at.motoring],
    [-1, at.pickUp],
  ],
  -0.1,
);

/** The way in which the set itself takes power from the board. */
export const MOTORED = "rp-motoring";

const methods: readonly Method[] = [
  method({
    id: MOTORED,
    setIs: "on the board",
    approvable: true,
    figures: ["motoring"],
    name: "set motored in parallel until the relay opens the breaker",
    technique: 1,
    does: "In parallel with droop or by hand, no load sharing: the set's governor is lowered until it takes power; kW and seconds are read at the trip. Broken off two seconds after the set delay, never later than ten seconds or the maker's time, then the breaker by hand.",
    ...inSteps(
      "The others are seen to carry the load, with this set in parallel in droop or by hand.",
      "One person stands ready to open the breaker by hand.",
      "The set's governor is lowered slowly until the set takes power, and the stop-watch is started.",
      "The kW and the seconds are read at the trip.",
      "Two seconds after the set delay, never later than ten seconds or the maker's time, motoring is broken off and the breaker opened by hand.",
      "The engine is seen to keep running unloaded and the breaker to stay open.",
      "The governor is raised to its speed again and the trip reset.",
    ),
    proves: WHOLE,
    hazard: 2,
    minutes: 20,
    requirements: [
      veto(
        is(plantAt.otherSources, GENERATORS_ONLY),
        "never: a battery, inverter or shore supply on the board would take or give the power without limit",
      ),
      practical(is(at.mayBeMotored, "yes"), "not possible because the maker does not let this set be motored"),
      practical(
        is(at.othersCarry, "yes"),
        "not possible because the others cannot carry load, motoring power and the largest self-starting consumer",
      ),
      practical(acts, "not possible because the power taken when motored lies below the pick-up: the relay would not act"),
    ],
    needs: ["power-meter", "stop-watch", "switchboard-hand", "load-in-port", "ships-engineer"],
    details: [at.delay],
    cautions: ["motoring-stop", "others-carry", "switchboard", "oil-not-gas"],
    expected: "breaker opens at kW and seconds within the band; the engine keeps running unloaded; breaker does not reclose by itself",
    basis: [basis.practice, basis.reversePowerUs],
    examples: {
      fit: {
        ...underClass,
        [plantAt.otherSources]: GENERATORS_ONLY,
        [at.mayBeMotored]: "yes",
        [at.othersCarry]: "yes",
        [at.pickUp]: 8,
        [at.motoring]: 12,
        [supportAt.powerMeter]: ABOARD,
      },
      barred: { [at.motoring]: 5 },
      open: at.motoring,
    },
  }),
  method({
    id: "rp-injection",
    setIs: "on the board",
    approvable: true,
    name: "injection at the relay's test block, with direction checked under load",
    technique: 4,
    does: "Current transformers shorted at the test block: power is injected until the relay opens the breaker, kW and seconds are read. Then, under load, the relay's own kW and sign are compared with the board's.",
    ...inSteps(
      "The relay technician shorts the current transformers at the test block and puts on the injection set.",
      "Power is injected and raised until the relay opens the breaker.",
      "The kW and the seconds are read at the relay.",
      "The injection set is taken off, the test block closed and its links taken out.",
      "The set is put under load and the relay seen to read it.",
      "The relay's own kW and sign are compared with the board's.",
    ),
    proves: { sensing: "running value", wiring: "set point", logic: "set point", final: "set point" },
    minutes: 60,
    requirements: [
      veto(is(TEST_BLOCK, "yes"), "never: without a test block the circuit of a current transformer would be opened under load"),
      practical(
        is(at.showsPower, "yes"),
        "not possible because the relay does not show the power it measures, so its direction cannot be checked",
      ),
    ],
    needs: ["relay-technician", "relay-settings", "single-line-diagram", "switchboard-hand", "ships-engineer"],
    details: [at.delay],
    cautions: ["current-transformers", "switchboard", "restore-and-verify"],
    expected:
      "the relay opens the breaker; the kW and the seconds read lie within its band; its kW and sign under load agree with the board's",
    restore: "test block closed, links out, relay seen to read the load again",
    basis: [basis.practice, basis.injection],
    examples: {
      fit: { ...underClass, [TEST_BLOCK]: "yes", [at.showsPower]: "yes", [supportAt.relayTechnician]: "in time" },
      barred: { [TEST_BLOCK]: "no" },
      open: at.showsPower,
    },
  }),
  method({
    id: "rp-self-test",
    setIs: "on the board",
    approvable: true,
    name: "relay's own test function, breaker seen to open",
    technique: 3,
    does: "Breaker closed at no load: the relay's own test function acts its output; the breaker is seen to open.",
    proves: { logic: "running value", final: "set point" },
    grade: "action only",
    minutes: 15,
    requirements: [practical(is(at.fitted, DIGITAL_RELAY), "not possible because the relay has no test function of its own")],
    needs: ["relay-settings", "switchboard-hand", "ships-engineer"],
    cautions: ["switchboard", "others-carry"],
    expected: "breaker opens and does not reclose by itself; the set value is read out and recorded",
    basis: [basis.practice, basis.builtInTest],
    examples: { fit: { ...underClass, [at.fitted]: DIGITAL_RELAY }, barred: { [at.fitted]: OTHER_RELAY }, open: at.fitted },
  }),
  method({
    id: "rp-direction",
    setIs: "on the board",
    lastResort: true,
    name: "relay's kW and sign compared with the board's under load",
    technique: 7,
    does: "Under load the relay's own kW and its sign are compared with the board's. Nothing is stimulated.",
    proves: { sensing: "running value", wiring: "set point" },
    grade: "running value",
    hazard: 0,
    minutes: 10,
    requirements: [practical(is(at.showsPower, "yes"), "not possible because the relay does not show the power it measures")],
    needs: ["ships-engineer"],
    expected: "kW and sign agree with the board's within the meters' error",
    examples: { fit: { ...underClass, [at.showsPower]: "yes" }, barred: { [at.showsPower]: "no" }, open: at.showsPower },
  }),
  forbiddenMethod(
    "rp-open-transformer",
    "secondary circuit of a current transformer opened under load",
    "A current-transformer wire is taken off while the generator carries load.",
    "never: an open current transformer under load arcs and kills",
  ),
];

export const reversePower: Protection = {
  kind: REVERSE_POWER,
  name: reversePowerWords.name,
  short: "reverse power",
  applies: both(is(PARALLEL, "yes"), is(at.fitted, DIGITAL_RELAY, OTHER_RELAY)),
  appliesNot: "the set is never in parallel, or no reverse-power relay is fitted",
  notes: [
    {
      when: is(MOTOR_MODE, "yes"),
      text: "In motor mode reverse power is wanted and its trip is blocked: the block is seen there, and the trip live in generator mode.",
      basis: [basis.practice],
    },
    {
      when: is(SHAFT_TURNS, "alongside, declutched or at zero pitch", "only under way"),
      text: "The shaft generator is motored only while its shaft turns as agreed.",
      basis: [basis.practice],
    },
  ],
  danger: any(is(at.mayBeMotored, "no"), is(at.othersCarry, "no"), neverActs),
  dangerReason: "the set cannot be motored: the maker forbids it, the others cannot carry the ship, or the relay would not act",
  methods,
  setPoint: at.pickUp,
  basis: [basis.reversePowerUs, basis.reversePowerClass, basis.reversePowerDiesel],
};
