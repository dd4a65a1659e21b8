import { NO, type Truth, YES } from "../logic/kleene.ts";
import { type FactSpec, NOT_KNOWN } from "../model/fact.ts";
import { sistersIn } from "../model/read.ts";
import { capital } from "../plan/say.ts";
import type { Rulebook } from "../rulebook/types.ts";
import { type Draft, placedIn } from "./draft.ts";

/** Which part of a set's questions a fact is asked in, by the end of its pointer; the protections are parts of their own. */
const MACHINE = [
  "role",
  "primeMover",
  "shaftDrive",
  "shaftTurns",
  "motorMode",
  "cooling",
  "coolingCircuit",
  "preheater",
  "openDefects",
  "stopsAllowed",
  "harbourUse",
];
const CONTROL = ["supplyLoss", "governor"];
const PARALLELING = ["parallel", "testBlock"];
const STARTING = ["selectorPositions"];

/** A part of a set, in the order in which it is asked. */
interface Part {
  readonly id: string;
  readonly title: string;
}

const BEFORE: readonly Part[] = [
  { id: "machine", title: "Prime mover and machine" },
  { id: "plate", title: "Rating and data plate" },
  { id: "start", title: "Starting" },
  { id: "control", title: "Control and governor" },
  { id: "paralleling", title: "Paralleling" },
];

/** The part in which a set's fact is asked. */
const partOf = (at: string): string => {
  const [first = "", second] = at.replace("/sets/*/", "").split("/");
  if (second !== undefined) return first;
  if (CONTROL.includes(first)) return "control";
  if (PARALLELING.includes(first)) return "paralleling";
  if (STARTING.includes(first)) return "start";
  return MACHINE.includes(first) ? "machine" : first;
};

/** How far a step is. */
export type StepState = "nothing to ask" | "not started" | "in part" | "answered";

export interface Asked {
  readonly spec: FactSpec;
  readonly at: string;
  readonly state: "open" | "answered" | "not known";
}

/** One page of questions. Its path is its address: "rules", "sets/2/overspeed". */
export interface Step {
  readonly path: string;
  readonly title: string;
  /** The set it belongs to; null for what belongs to the whole visit. */
  readonly set: number | null;
  /** The questions that apply as things stand, in their order. */
  readonly asked: readonly Asked[];
  readonly state: StepState;
}

const stateOf = (asked: readonly Asked[]): StepState => {
  const open = asked.filter(({ state }) => state === "open").length;
  if (asked.length === 0) return "nothing to ask";
  return open === asked.length ? "not started" : open > 0 ? "in part" : "answered";
};

/** A question of a page with whether it applies as things stand. */
interface Candidate extends Asked {
  readonly path: string;
  readonly applies: Truth;
}

const candidatesIn = (draft: Draft, { facts }: Rulebook): readonly Candidate[] => {
  return placedIn(draft, facts).map(({ at, spec, set, applies, answer }): Candidate => {
    const state = answer !== undefined ? "answered" : draft.answers.get(at) === NOT_KNOWN ? "not known" : "open";
    return { spec, at, state, applies, path: pathOf(spec.at, set) };
  });
};

/** Every question that a page can come to ask, whether it applies or not. */
export const candidatesOn = (draft: Draft, rulebook: Rulebook, path: string): readonly Asked[] =>
  candidatesIn(draft, rulebook).filter((candidate) => candidate.path === path);

/** Whether a question is asked as things stand: it applies, or it may apply and was answered, so that the answer counts and must be seen. */
const isAsked = ({ applies, state }: Candidate): boolean => applies === YES || (applies !== NO && state !== "open");

/** The questions that a page asks as things stand. */
export const askedOn = (draft: Draft, rulebook: Rulebook, path: string): readonly Asked[] =>
  candidatesIn(draft, rulebook).filter((candidate) => candidate.path === path && isAsked(candidate));

/**
 * Every page of questions of a draft, in the trade's order, each with the questions that apply as things stand. A question under
 * another is asked once that one is answered so that it applies; "not known" asks nothing further. Pure.
 */
export const stepsOf = (draft: Draft, rulebook: Rulebook): readonly Step[] => {
  const places = new Map<string, Asked[]>();
  for (const candidate of candidatesIn(draft, rulebook)) {
    if (!isAsked(candidate)) continue;
    const { path, spec, at, state } = candidate;
    places.set(path, [...(places.get(path) ?? []), { spec, at, state }]);
  }
  const step = (path: string, title: string, set: number | null): Step => {
    const asked = places.get(path) ?? [];
    return { path, title, set, asked, state: stateOf(asked) };
  };
  const parts: readonly Part[] = [...BEFORE, ...rulebook.protections.map(({ kind, name }) => ({ id: kind, title: capital(name) }))];
  return [
    step("rules", "Rules and procedure", null),
    ...sistersIn(draft.frame).flatMap((_, set) => parts.map(({ id, title }) => step(`sets/${set + 1}/${id}`, title, set))),
    step("plant", "Plant and emergency power", null),
    step("support", "What the vessel has or can get", null),
  ];
};

/** The set that a page belongs to; null for the whole visit. */
export const setOfPath = (path: string): number | null => {
  const set = /^sets\/(\d+)\//.exec(path)?.[1];
  return set === undefined ? null : Number(set) - 1;
};

/** The page on which a fact is asked. */
export const pathOf = (template: string, set: number | null): string => {
  if (set !== null) return `sets/${set + 1}/${partOf(template)}`;
  if (template.startsWith("/plant/")) return "plant";
  return template.startsWith("/support/") ? "support" : "rules";
};

const asks = ({ state }: Step): boolean => state !== "nothing to ask";

/** The pages before and after one among those that have something to ask; null at either end. */
export const neighbours = (steps: readonly Step[], path: string): { readonly before: string | null; readonly after: string | null } => {
  const here = steps.findIndex((step) => step.path === path);
  return {
    before: steps.slice(0, Math.max(0, here)).findLast(asks)?.path ?? null,
    after: steps.slice(here + 1).find(asks)?.path ?? null,
  };
};
