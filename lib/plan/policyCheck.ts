import { combinationsOf, provenBy, unprovenIn } from "../decide/combine.ts";
import { type Engine, newEngine } from "../decide/engine.ts";
import type { Prepared } from "../decide/prepared.ts";
import { restrict } from "../decide/restrict.ts";
import { leavesBelow } from "../logic/diagram.ts";
import { learn, nothingKnown } from "../logic/frame.ts";
import { inScope } from "../model/channels.ts";
import { NOT_TO_BE_HAD } from "../model/fact.ts";
import { supportAt } from "../model/facts/support.ts";
import { APPROVED, LOCAL_RULES, RULE_BASIS, TACHOMETER_ERROR } from "../model/facts/visit.ts";
import { type OfficePolicy, officePolicySchema } from "../model/officePolicy.ts";
import { OVERSPEED_FACTOR } from "../rulebook/protections/overspeedWindow.ts";
import { withLocalRules } from "../rulebook/ruleBases.ts";
import type { Part, Protection, Rulebook } from "../rulebook/types.ts";
import { formatNumber } from "../units/units.ts";
import { HAND_STOPS } from "./day/orders.ts";
import { PART_NAMES, partId } from "./policyFields.ts";
import { capital, listAnd, listOr, small } from "./say.ts";

/** Why a policy is refused, at the field that does it. */
export interface PolicyRefusal {
  readonly id: string;
  readonly says: string;
}

export interface PolicyChecked {
  readonly refused: readonly PolicyRefusal[];
  /** What the office may choose, but should know. */
  readonly notes: readonly string[];
}

const DEFAULTS = officePolicySchema.parse({}).plan;

interface Bound {
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly given: (policy: OfficePolicy["plan"]) => number | undefined;
  readonly least?: number;
  readonly most?: number;
  /** What is never done beyond the bound. */
  readonly veto: string;
}

/**
 * Numbers of the policy beyond which an act is forbidden. Each may be made stricter than the default and never laxer. No requirement of the bar "veto"
 * reads a policy number; what does is a caution, a hold point or a figure that says where an act ends, which weighs as much aboard. The shares of a
 * starting battery are none of these: they foretell how many starts there are, and nobody does anything forbidden on them. Nor are days, which
 * only move dates.
 */
const BOUNDS: readonly Bound[] = [
  {
    // Figure "circuit opened only at or under": what "cold" is in the veto on drawing a wetted sensor.
    id: "coldTemperature",
    label: "A drained circuit is opened at or under",
    unit: "°C",
    given: (plan) => plan.coldTemperature,
    most: DEFAULTS.coldTemperature,
    veto: "a wetted sensor is never drawn from a circuit that is not cold, isolated, vented and drained",
  },
  {
    // Figure "heat source": whether an open bath is still allowed beside a dry block.
    id: "boilingMargin",
    label: "An open water bath stays below boiling by",
    unit: "K",
    given: (plan) => plan.boilingMargin,
    least: DEFAULTS.boilingMargin,
    veto: "an open water bath is never brought near boiling beside a person who holds a sensor in it",
  },
  {
    // Conditions roomUnderMaker and roomUnderRule of the real overspeed, and the speed at which it is tripped by hand: a smaller error leaves less room.
    id: "tachometerError",
    label: "Largest error of the tachometer",
    unit: "rpm",
    given: (plan) => plan.tachometerError,
    least: DEFAULTS.tachometerError,
    veto: "speed is never raised where trip, tolerance and tachometer error together reach the limit of rules or maker",
  },
  {
    // The limit that ends the abort window under local rules. Every rule basis that names a factor names this one.
    id: "overspeedFactor",
    label: "Highest trip speed under local rules",
    unit: "% of rated speed",
    given: (plan) => (plan.localRules?.overspeedFactor === undefined ? undefined : plan.localRules.overspeedFactor * 100),
    most: OVERSPEED_FACTOR * 100,
    veto: "speed is never raised above what class and US rules permit as trip speed",
  },
  {
    // Whether the others carry the ship while a set is motored (derived fact othersCarry). The office may settle how far; above its rating no set is planned.
    id: "loadLimit",
    label: "Highest load on the sets left running",
    unit: "%",
    given: (plan) => plan.loadLimit,
    most: 100,
    veto: "a set is never motored or stopped where the others cannot carry the ship within their rating",
  },
];

/** Far below anything that a person types; above the noise of binary fractions. */
const NOISE = 1e-6;

const shown = (value: number): string => formatNumber(value, 4);

const boundRefusals = (plan: OfficePolicy["plan"]): readonly PolicyRefusal[] =>
  BOUNDS.flatMap(({ id, label, unit, given, least, most, veto }) => {
    const value = given(plan);
    if (value === undefined) return [];
    const wanted =
      least !== undefined && value < least - NOISE
        ? `at least ${shown(least)}`
        : most !== undefined && value > most + NOISE
          ? `at most ${shown(most)}`
          : null;
    return wanted === null ? [] : [{ id, says: `${label}: given ${shown(value)} ${unit}; wanted ${wanted} ${unit}, since ${veto}` }];
  });

const reaches = (prepared: Prepared, known: Readonly<Record<string, string | number>>): boolean => {
  const { frame } = prepared.compiled;
  const knowledge = nothingKnown(frame);
  for (const [at, value] of Object.entries(known)) learn(frame, knowledge, at, value);
  const live = restrict(prepared, knowledge);
  return [...leavesBelow(live.diagram, live.root)].some((place) => place < prepared.options.length);
};

/** The parts that some way leaves unproven and that may not stay so; of the way for which the fewest would have to. */
const partsInTheWay = (protection: Protection, mayStayOpen: readonly Part[]): readonly Part[] =>
  combinationsOf(protection.methods)
    .map(({ methods }) => unprovenIn(provenBy(methods)).filter((part) => !mayStayOpen.includes(part)))
    .reduce<readonly Part[] | null>((fewest, parts) => (fewest === null || parts.length < fewest.length ? parts : fewest), null) ?? [];

const namesOf = (protections: readonly Protection[]): string => listAnd(protections.map(({ name }) => small(name)));

interface Reached {
  readonly engine: Engine;
  readonly scope: readonly Protection[];
  readonly plan: OfficePolicy["plan"];
}

const withoutAny = ({ engine, scope, plan }: Reached, known: Readonly<Record<string, string | number>>): readonly Protection[] =>
  scope.filter(({ kind }) => {
    const prepared = engine.prepared(kind);
    return prepared === undefined || !reaches(prepared, { [TACHOMETER_ERROR]: plan.tachometerError, ...known });
  });

/** Protections that no configuration could prove, by the loop parts that stand in the way. */
const barredByParts = (reached: Reached, barred: readonly Protection[]): readonly PolicyRefusal[] => {
  const { mayStayOpen } = reached.plan;
  const byParts = new Map<string, { readonly parts: readonly Part[]; readonly protections: Protection[] }>();
  for (const protection of barred) {
    const parts = partsInTheWay(protection, mayStayOpen);
    const entry = byParts.get(parts.join()) ?? { parts, protections: [] };
    byParts.set(parts.join(), entry);
    entry.protections.push(protection);
  }
  return [...byParts.values()].map(({ parts, protections }) => {
    const [first] = parts;
    const open = listAnd(parts.map((part) => `the ${small(PART_NAMES[part])}`));
    return first === undefined
      ? { id: "tachometerError", says: `Limits and margins: no method is left in any configuration for ${namesOf(protections)}` }
      : {
          id: partId(first),
          says: `${PART_NAMES[first]}: given that ${open} may not stay unproven; wanted that ${parts.length === 1 ? "it" : "they"} may, or these protections left out by name, since no method proves ${open} in any configuration of: ${namesOf(protections)}`,
        };
  });
};

const leftOutRefusals = (plan: OfficePolicy["plan"], rulebook: Rulebook, scope: readonly Protection[]): readonly PolicyRefusal[] => {
  const id = "leaveOut";
  if (scope.length === 0) return [{ id, says: "Left out: given every protection; wanted at least the stops and one protection to prove" }];
  const both = rulebook.protections.filter(({ kind }) => plan.leaveOut.includes(kind) && plan.alsoProve.some((wished) => wished === kind));
  if (both.length > 0)
    return [{ id, says: `Left out: given ${namesOf(both)}, which “Proven as well” has too; wanted it in one of the two` }];
  const stops = rulebook.protections.filter(({ kind }) => HAND_STOPS.includes(kind) && plan.leaveOut.includes(kind));
  return stops.length === 0
    ? []
    : [
        {
          id,
          says: `Left out: given ${namesOf(stops)}; wanted it proven, since no test is done on a running set that has not been seen to stop by hand`,
        },
      ];
};

const PUMP = "standbyOilPump";
/** Highest error that hand and panel tachometers have, in rpm. */
const USUAL_ERROR = 20;

const notesOf = (reached: Reached, rulebook: Rulebook): readonly string[] => {
  const { plan, scope } = reached;
  const out = rulebook.protections.filter(({ kind }) => plan.leaveOut.includes(kind));
  const needy =
    (plan.localRules?.bars.length ?? 0) === 0
      ? []
      : withoutAny(reached, { [RULE_BASIS]: LOCAL_RULES, [APPROVED]: "none", [supportAt.writtenAcceptance]: NOT_TO_BE_HAD });
  return [
    ...(out.length === 0 ? [] : [`Not proven in any visit, by the office’s own choice: ${namesOf(out)}. Each letter says so.`]),
    ...(plan.leaveOut.includes(PUMP) && scope.length > 0
      ? ["The stand-by oil pump is left out: oil trips are then tested on a turbine whose pump has not been seen to start."]
      : []),
    ...(plan.mayStayOpen.includes("logic")
      ? ["The logic may stay unproven: a protection then counts as tested though it was never seen to act."]
      : []),
    ...(needy.length === 0
      ? []
      : [
          `Where the local rules bind, only a step of an approved procedure or the authority’s written acceptance opens a way for: ${namesOf(needy)}.`,
        ]),
    ...(plan.tachometerError > USUAL_ERROR
      ? [
          `A tachometer error of ${shown(plan.tachometerError)} rpm is more than such instruments have (up to ${USUAL_ERROR} rpm). It leaves the real overspeed no room on many sets, and where it does, rules that name danger open other techniques.`,
        ]
      : []),
  ];
};

/**
 * Whether an office may work by a policy. Refused is one that leaves a protection without any method in every configuration, that leaves out what other
 * tests lean on, or that allows an act where it is forbidden. Leaving a protection out by name is the office's choice, and said.
 */
export const checkPolicy = (rulebook: Rulebook, { plan }: OfficePolicy): PolicyChecked => {
  const scope = rulebook.protections.filter(({ kind, onWish }) => inScope(kind, onWish === true, plan));
  const reached: Reached = { engine: newEngine(withLocalRules(rulebook, plan.localRules), plan.mayStayOpen), scope, plan };
  const never = withoutAny(reached, {});
  const underLocal =
    plan.localRules === undefined
      ? []
      : withoutAny(reached, { [RULE_BASIS]: LOCAL_RULES }).filter((protection) => !never.includes(protection));
  const barred = (plan.localRules?.bars ?? []).map(({ technique }) => String(technique));
  return {
    refused: [
      ...barredByParts(reached, never),
      ...(underLocal.length === 0
        ? []
        : [
            {
              id: "rulesName",
              says: `Local rules: given technique ${listAnd(barred)} barred; wanted one ${listOr(["not barred", "the protections left out by name"])}, since no method is left under them in any configuration of: ${namesOf(underLocal)}`,
            },
          ]),
      ...leftOutRefusals(plan, rulebook, scope),
      ...boundRefusals(plan),
    ],
    notes: notesOf(reached, rulebook).map(capital),
  };
};
