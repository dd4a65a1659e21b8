import { all, any, type Condition, is, never } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { type channelAt, ONE_OF_TWO, SEPARATE_SENSORS, TWO_OF_THREE } from "../../model/facts/channel.ts";
import { ALONGSIDE, offShafts, onShafts, SHAFT_TURNS, STOPS_ALLOWED, SUPPLY_LOSS, UNDER_WAY } from "../../model/facts/set.ts";
import { RULE_BASIS, SOLAS } from "../../model/facts/visit.ts";
import { type Basis, basis } from "../basis.ts";
import type { FigurePart, Method, Note, Proves, Requirement } from "../types.ts";
import { inSteps } from "./procedure.ts";

export type ChannelPointers = ReturnType<typeof channelAt>;

export const practical = (when: Condition, otherwise: string, ...from: readonly Basis[]): Requirement => ({
  bar: "practical",
  when,
  otherwise,
  basis: from.length > 0 ? from : [basis.practice],
});

export const veto = (when: Condition, otherwise: string, ...from: readonly Basis[]): Requirement => ({
  bar: "veto",
  when,
  otherwise,
  basis: from.length > 0 ? from : [basis.practice],
});

/** The act that is never planned, whatever the facts. */
export const forbidden = (otherwise: string, ...from: readonly Basis[]): Requirement => veto(never, otherwise, ...from);

export const setMayStop = practical(
  is(STOPS_ALLOWED, "yes"),
  "not possible because this set cannot be stopped from running while the others keep the ship's supply",
);

/** The same for what a shaft-driven generator has too: there is no engine of its own to stop. */
export const setMayStopIfItCan = practical(
  any(onShafts, is(STOPS_ALLOWED, "yes")),
  "not possible because this set cannot be stopped from running while the others keep the ship's supply",
);

/** The set cannot be run for tests, so the test at standstill stands in. */
export const cannotBeRun: Condition = all(offShafts, is(STOPS_ALLOWED, "no"));
export const standsIn = practical(
  cannotBeRun,
  "not planned because the set can be run and stopped for tests: the test at standstill is for a set that cannot",
);

export const makerAllows = (at: ChannelPointers): Requirement =>
  practical(is(at.makerForbids, "no"), "not possible because the maker forbids it", { cite: "maker's operating manual", mark: "practice" });

export const watched = (at: ChannelPointers): Requirement =>
  veto(is(at.localReading, "yes"), "never: the channel would be blind on a running engine with no independent reading to watch");

export const insideModuleWith = (at: ChannelPointers, procedure: string): readonly Requirement[] => [
  practical(is(at.insideModule, "yes"), "not possible because the channel does not run inside the maker's module"),
  practical(
    is(at.makerProcedure, procedure),
    procedure === "reduced threshold"
      ? "not possible because the maker's procedure has no reduced-threshold test function"
      : "not possible because the maker's procedure does not change the stored value",
  ),
];

export const standstill = (at: ChannelPointers): Requirement =>
  practical(is(at.standstillTest, "possible"), "not possible because the start-up inhibit can only be passed by rewiring");

export const WHOLE: Proves = { sensing: "set point", wiring: "set point", logic: "set point", final: "set point" };

type Told = "id" | "name" | "technique" | "does" | "proves" | "minutes" | "expected" | "examples";

/** A method that stops and starts nothing, blinds nothing and opens nothing, unless it says so. */
export const method = (told: Pick<Method, Told> & Partial<Method>): Method => ({
  grade: told.proves.sensing === "set point" ? "as found" : "in signal terms",
  hazard: 1,
  stops: 0,
  starts: 0,
  blinds: false,
  requirements: [],
  needs: ["ships-engineer"],
  details: [],
  cautions: [],
  basis: [basis.practice],
  ...told,
});

/** The running engine is stopped by the test and started again. */
export const STOPS_ONCE = { stops: 1, starts: 1 } as const;
/** What comes with every stop. Tests at no load are done with the breaker open too, where nothing of it is to be seen. */
export const BREAKER_OPENS = "generator breaker, where closed, opens and does not reclose";
/** The channel is blind while the engine runs; its safeguards are among the cautions. */
export const BLIND = { ...STOPS_ONCE, blinds: true } as const;

export const BLIND_CAUTIONS = ["blind-channel", "hand-stop-first", "no-leak"] as const;
export const STANDSTILL_CAUTIONS = ["unexpected-start", "restore-and-verify"] as const;

/** The test at standstill stands in where the set cannot be run for tests, or where a running test is shut out otherwise. */
const insteadOfRunning = (channel: AnyChannel): Requirement =>
  practical(
    any(is(STOPS_ALLOWED, "no"), ...channel.sensor.alsoWhere),
    "not planned because the set can be run and stopped for tests: the test at standstill is for a set that cannot",
  );

const underClass = { [RULE_BASIS]: SOLAS } as const;

/** What a shaft-driven generator needs for its running tests. */
export const shaftTurns = practical(is(SHAFT_TURNS, ALONGSIDE, UNDER_WAY), "not possible because the shaft does not turn during the visit");

/** What must be seen where a channel has several sensors, and on an emergency set. */
export const channelNotes = (at: ChannelPointers): readonly Note[] => [
  {
    when: is(at.sensors, SEPARATE_SENSORS),
    text: "Alarm and stop have sensors of their own: this test proves the stop's; the alarm's is a test of its own.",
    basis: [basis.practice],
  },
  {
    when: is(at.sensors, ONE_OF_TWO),
    text: "Two sensors, either acts: each is proven alone with the other left live, and the minutes count twice.",
    basis: [basis.practice],
  },
  {
    when: is(at.sensors, TWO_OF_THREE),
    text: "Two out of three vote: one sensor alone gives a deviation alarm, each pair the stop. All three pairs are proven, two sensors worked together each time, so that two of each fitting or instrument put on a sensor are wanted; the minutes count three times.",
    basis: [basis.practice],
  },
  {
    when: is(at.fitted, "stop in manual, alarm in automatic"),
    text: "Seen in both positions of the selector: a stop in manual, an alarm and no stop in automatic.",
    basis: [basis.emergencySets],
  },
  { when: is(at.fitted, "alarm only"), text: "An alarm is expected and no stop: the set keeps running.", basis: [basis.practice] },
];

/** What differs between the channels in the methods that fit any of them. */
export interface AnyChannel {
  readonly prefix: string;
  readonly name: string;
  readonly at: ChannelPointers;
  /** Elements that show a value, and so can be compared. */
  readonly valueElements: readonly string[];
  readonly comparison: { readonly need: string; readonly needAt: string; readonly instrument: string };
  readonly sensor: {
    readonly figures: readonly FigurePart[];
    readonly alsoWhere: readonly Condition[];
    readonly need: string;
    readonly needAt: string;
    readonly does: string;
    readonly requirements: readonly Requirement[];
    readonly fit: Readonly<Record<string, string | number>>;
  };
  readonly plug: {
    readonly figures: readonly FigurePart[];
    readonly approvable?: true;
    readonly always?: true;
    readonly need: string;
    readonly needAt: string;
    readonly elements: readonly string[];
    readonly does: string;
    /** The same as two acts: what is drawn, what is fed in. */
    readonly steps: readonly [drawn: string, fed: string];
    readonly notFor: string;
    readonly details: readonly string[];
  };
  /** What opening the sensor's circuit on a running engine needs besides, with facts that fulfil it. */
  readonly opening: {
    readonly requirements: readonly Requirement[];
    readonly cautions: readonly string[];
    readonly fit: Readonly<Record<string, string | number>>;
  };
  /** What the loss of the panel's supply needs besides, with facts that fulfil it. */
  readonly supply?: { readonly requirements: readonly Requirement[]; readonly fit: Readonly<Record<string, string | number>> };
  /** What the channel needs while it is blind on a running engine, with facts that fulfil it. */
  readonly blind: {
    readonly requirements: readonly Requirement[];
    readonly needs: readonly string[];
    readonly fit: Readonly<Record<string, string | number>>;
  };
}

export const standstillMethods = (channel: AnyChannel): readonly Method[] => {
  const { at, prefix, sensor, plug } = channel;
  return [
    {
      id: `${prefix}-standstill-sensor`,
      setIs: "at rest",
      name: "engine stopped: sensor stimulated, final element seen to move",
      technique: 2,
      does: `Engine stopped, start blocked, control powered, start-up inhibit passed in the maker's way. ${sensor.does} The final element is seen to move.`,
      proves: { sensing: "set point", wiring: "set point", logic: "set point", final: "movement" },
      grade: "as found",
      hazard: 0,
      minutes: 20,
      stops: 0,
      starts: 0,
      blinds: false,
      requirements: [standstill(at), insteadOfRunning(channel), ...sensor.requirements],
      needs: [sensor.need, "ships-engineer"],
      figures: sensor.figures,
      details: [],
      cautions: [...STANDSTILL_CAUTIONS, "live-panel"],
      expected: "trip alarmed at the set point within tolerance; fuel rack, stop solenoid or relay seen to move; reset by hand",
      restore: "inhibit and start block restored and seen",
      basis: [basis.practice],
      examples: {
        fit: { ...underClass, [STOPS_ALLOWED]: "no", [at.standstillTest]: "possible", [sensor.needAt]: ABOARD, ...sensor.fit },
        barred: { [at.standstillTest]: "only by rewiring" },
        open: at.standstillTest,
      },
    },
    {
      id: `${prefix}-standstill-plug`,
      setIs: "at rest",
      ...(plug.approvable === undefined ? {} : { approvable: plug.approvable }),
      name: "engine stopped: signal fed in at the plug, final element seen to move",
      technique: 4,
      does: `Engine stopped, start blocked, control powered, start-up inhibit passed in the maker's way. ${plug.does} The final element is seen to move.`,
      ...inSteps(
        ...plug.steps,
        "The signal is read when the channel acts.",
        "The final element is seen to move.",
        "The trip is reset by hand and the plug refitted and locked.",
        "Inhibit and start block are restored and seen.",
      ),
      proves: { wiring: "set point", logic: "set point", final: "movement" },
      grade: "in signal terms",
      hazard: 0,
      minutes: 20,
      stops: 0,
      starts: 0,
      blinds: false,
      requirements: [
        standstill(at),
        practical(is(at.element, ...plug.elements), plug.notFor),
        makerAllows(at),
        ...(plug.always === true ? [] : [insteadOfRunning(channel)]),
      ],
      needs: [plug.need, "ships-engineer"],
      figures: plug.figures,
      details: plug.details,
      cautions: [...STANDSTILL_CAUTIONS, "live-panel"],
      expected: "trip alarmed at the signal of the set point; fuel rack, stop solenoid or relay seen to move; reset by hand",
      restore: "plug refitted, inhibit and start block restored and seen",
      basis: [basis.practice],
      examples: {
        fit: {
          ...underClass,
          [STOPS_ALLOWED]: "no",
          [at.standstillTest]: "possible",
          [at.makerForbids]: "no",
          [plug.needAt]: ABOARD,
          [at.element]: plug.elements[0] ?? "",
        },
        barred: { [at.standstillTest]: "only by rewiring" },
        open: at.element,
      },
    },
  ];
};

export const patchworkMethods = (channel: AnyChannel): readonly Method[] => {
  const { at, prefix, comparison, blind, opening, supply } = channel;
  return [
    {
      id: `${prefix}-comparison`,
      name: "running comparison with an independent instrument",
      technique: 7,
      does: `Engine running: the channel's own live value is compared with ${comparison.instrument}. Nothing is stimulated.`,
      proves: { sensing: "running value", wiring: "set point" },
      grade: "running value",
      hazard: 0,
      minutes: 10,
      stops: 0,
      starts: 0,
      blinds: false,
      requirements: [
        practical(
          is(at.element, ...channel.valueElements),
          "not possible because the element only opens or closes a contact and shows no value",
        ),
      ],
      needs: [comparison.need, "ships-engineer"],
      details: [],
      cautions: ["no-leak"],
      expected: "both readings agree within the sum of their tolerances; it says little of the set point",
      basis: [basis.practice],
      examples: {
        fit: { ...underClass, [at.element]: channel.valueElements[0] ?? "", [comparison.needAt]: ABOARD },
        barred: { [comparison.needAt]: "not to be had" },
        open: at.element,
      },
    },
    {
      id: `${prefix}-wire-break`,
      name: "wire break and short circuit, this channel alone",
      technique: 6,
      does: "Engine running at no load: the sensor's circuit is opened, then shorted, one channel at a time, and the answer compared with the drawing.",
      proves: { wiring: "set point", logic: "running value" },
      grade: "action only",
      hazard: 1,
      minutes: 10,
      stops: 1,
      starts: 1,
      blinds: true,
      lastResort: true,
      requirements: [
        practical(is(at.monitored, "yes"), "not possible because the sensor circuit is not monitored"),
        setMayStop,
        ...blind.requirements,
        ...opening.requirements,
      ],
      needs: ["panel-drawing", "ships-engineer", ...blind.needs],
      details: [],
      cautions: [...BLIND_CAUTIONS, ...opening.cautions, "live-panel", "restore-and-verify"],
      expected: "alarmed, never silent; least critical consequence for the system, as the drawing says; an emergency set is not stopped",
      restore: "circuit closed, alarm cleared, live value seen again",
      basis: [basis.practice, basis.sensorFailure],
      examples: {
        fit: { ...underClass, [at.monitored]: "yes", [STOPS_ALLOWED]: "yes", ...blind.fit, ...opening.fit },
        barred: { [at.monitored]: "no" },
        open: at.monitored,
      },
    },
    {
      id: `${prefix}-supply-off`,
      name: "control supply taken off, each in turn",
      technique: 6,
      does: "Engine running at no load: each supply of the safety panel is taken off in turn, then both, and the answer compared with the drawing.",
      proves: { logic: "running value", final: "set point" },
      grade: "action only",
      hazard: 1,
      minutes: 10,
      stops: 1,
      starts: 1,
      blinds: true,
      lastResort: true,
      requirements: [
        practical(
          is(SUPPLY_LOSS, "stops the set"),
          "not possible because loss of the supply does not stop this set, or takes governor or bus with it",
        ),
        setMayStop,
        ...blind.requirements,
        ...(supply?.requirements ?? []),
      ],
      needs: ["panel-drawing", "ships-engineer", ...blind.needs],
      details: [],
      cautions: [...BLIND_CAUTIONS, "panel-dead", "live-panel", "restore-and-verify"],
      expected: "supply failure alarmed; the set stops where the drawing says so; the generator breaker, where closed, opens with it",
      restore: "all supplies back, alarms cleared",
      basis: [basis.practice],
      examples: {
        fit: { ...underClass, [SUPPLY_LOSS]: "stops the set", [STOPS_ALLOWED]: "yes", ...blind.fit, ...supply?.fit },
        barred: { [SUPPLY_LOSS]: "alarm only" },
        open: SUPPLY_LOSS,
      },
    },
  ];
};

export const forbiddenMethod = (id: string, name: string, does: string, why: string, ...from: readonly Basis[]): Method => ({
  id,
  name,
  technique: 1,
  does,
  proves: {},
  grade: "action only",
  hazard: 3,
  minutes: 0,
  stops: 0,
  starts: 0,
  blinds: false,
  requirements: [forbidden(why, ...from)],
  needs: [],
  details: [],
  cautions: [],
  expected: "never done",
  basis: from.length > 0 ? from : [basis.practice],
  examples: { fit: null, barred: {}, open: null },
});

export { underClass };
