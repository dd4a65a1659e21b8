import type { ReadVisit } from "../model/read.ts";
import type { PartState, Proves } from "../rulebook/types.ts";
import { PARTS } from "../rulebook/types.ts";
import type { Planner } from "./build.ts";
import type { Plan } from "./schema.ts";
import { type Signed, signaturesOf } from "./signature.ts";

/** One decision of a plan as it is kept to be compared with others. */
export interface PlanDecision {
  /** Pointer of the protection in the visit file. */
  readonly at: string;
  readonly kind: string;
  /** The set as it is called aboard. */
  readonly set: string;
  readonly maker: string;
  readonly mark: string;
  /** Methods that the engine chooses left to itself, joined by "+"; empty where nothing acceptable is left. */
  readonly engine: string;
  /** Methods that are planned. */
  readonly chosen: string;
  readonly proves: Proves;
  /** Why the inspector insisted on another way; left out where he did not, or was refused. */
  readonly reason?: string;
}

export const joined = (methods: readonly string[]): string => methods.join("+");
export const methodsIn = (choice: string): readonly string[] => (choice === "" ? [] : choice.split("+"));

export interface PlanDecisions {
  readonly decisions: readonly PlanDecision[];
  readonly signatures: readonly Signed[];
}

/** The decisions of a plan with the signatures that they are compared by; what does not apply is left out. Pure. */
export const decisionsIn = (planner: Planner, read: ReadVisit, plan: Plan): PlanDecisions => {
  const { engine, facts } = planner.core(read);
  const signatures = signaturesOf(engine, facts, read.visit.policy);
  const planned = new Map(plan.sets.flatMap(({ protections }) => protections.map((protection) => [protection.at, protection] as const)));
  const decisions = signatures.flatMap(({ kind, set, mark, methods }): readonly PlanDecision[] => {
    const protection = planned.get(`/sets/${set}/${kind}`);
    const own = read.visit.sets[set];
    if (protection === undefined || own === undefined) return [];
    const { decision, deviation } = protection;
    return [
      {
        at: protection.at,
        kind,
        set: own.name,
        maker: own.maker ?? "",
        mark,
        engine: joined(methods),
        chosen: joined(decision.methods),
        proves: decision.proves,
        ...(deviation === undefined || deviation.refused ? {} : { reason: deviation.reason }),
      },
    ];
  });
  return { decisions, signatures };
};

const LETTERS: Readonly<Record<PartState, string>> = { "set point": "s", "running value": "r", movement: "m", open: "o" };
const STATES = new Map(Object.entries(LETTERS).map(([state, letter]) => [letter, state as PartState]));

/** What a loop proves in four letters, part by part. */
export const provesLetters = (proves: Proves): string => PARTS.map((part) => LETTERS[proves[part]]).join("");

export const provesIn = (letters: string): Proves => {
  const state = (place: number): PartState => STATES.get(letters.charAt(place)) ?? "open";
  return { sensing: state(0), wiring: state(1), logic: state(2), final: state(3) };
};
