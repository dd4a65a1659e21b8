import type { Condition } from "../logic/condition.ts";
import type { FactSpec, PhotographId } from "../model/fact.ts";
import type { Basis } from "./basis.ts";

export const PARTS = ["sensing", "wiring", "logic", "final"] as const;
/** The four parts of a loop: sensing element, wiring, logic, final element. */
export type Part = (typeof PARTS)[number];

/** How far a part is proven, weakest first. */
export const STATES = ["open", "movement", "running value", "set point"] as const;
export type PartState = (typeof STATES)[number];
export type Proves = Readonly<Record<Part, PartState>>;

/** 1 real stimulus, 2 condition applied, 3 reduced threshold, 4 signal at the plug, 5 stored value or adjuster changed, 6 wiring changed, 7 running comparison. */
export type Technique = 1 | 2 | 3 | 4 | 5 | 6 | 7;

/** 0 instruments only; 1 the engine stops or a channel is blind while it runs; 2 hot or pressurised system opened or speed above rated; 3 never. */
export type Hazard = 0 | 1 | 2 | 3;

/** What is known of the set value after the method, best first. */
export const GRADES = ["as found", "in signal terms", "running value", "action only"] as const;
export type Grade = (typeof GRADES)[number];

export type Bar = "veto" | "rule" | "practical";

/** Something that must hold for a method, with the kind of bar and the reason where it does not. */
export interface Requirement {
  readonly bar: Bar;
  readonly when: Condition;
  readonly otherwise: string;
  readonly basis: readonly Basis[];
}

export type NeedKind = "technician" | "spare" | "equipment" | "document" | "photograph" | "condition";
export type Lead = "reply" | "local" | "sent" | "specialist" | "authority";
export type Actor = "master" | "chief engineer" | "electrician" | "superintendent";

/** One way a need can be met, with the burden it puts on the visit (0 aboard … 4 authority). */
export interface Way {
  readonly values: readonly string[];
  readonly burden: 0 | 1 | 2 | 3 | 4;
}

/** What a method needs from the vessel. With `at` it hangs on a fact and can be refused; without, it is only asked for. */
export interface Need {
  readonly id: string;
  readonly kind: NeedKind;
  readonly text: string;
  readonly actor: Actor;
  readonly lead: Lead;
  readonly at?: string;
  readonly ways?: readonly Way[];
  readonly refusedIs?: string;
  /** One is wanted for each set that uses it. */
  readonly perSet?: boolean;
}

export interface Caution {
  readonly id: string;
  /** Where it is out of place unless this may hold; always in place where it is left out. */
  readonly when?: Condition;
  /** Whether it is enough that `when` can hold on any set of the vessel. */
  readonly onAnySet?: true;
  readonly text: string;
  readonly basis: readonly Basis[];
}

/**
 * Facts under which a method is fit, a change of them that bars it, and a fact without which it depends. Each is run as
 * a test, through the command line too. A method that is never done has no fit facts.
 */
export interface Examples {
  readonly fit: Readonly<Record<string, string | number>> | null;
  readonly barred: Readonly<Record<string, string | number>>;
  readonly open: string | null;
}

/** In what state a set is for a method, where it does not run at no load apart from the board. */
export type SetState = "at rest" | "cold" | "on the board" | "under way" | "without power";

/** Figures that a method's steps are worked out with. */
export type FigurePart = "heat" | "drain" | "signal" | "test mode" | "frequency" | "raise" | "motoring" | "shaft frequency";

/** A value that is written down at the act. */
export interface Reading {
  readonly name: string;
  /** Left out where it is that of the protection's set point. */
  readonly unit?: "rpm" | "Hz" | "s";
  /** No seconds are read with it. */
  readonly untimed?: true;
}

export interface Method {
  readonly id: string;
  readonly name: string;
  readonly technique: Technique;
  /** What the ship's people or the technician do and the inspector sees, in one or two sentences. */
  readonly does: string;
  /** What a written procedure does, one act a line, in order, each a sentence; where it is left out, the text of `does` is split. */
  readonly steps?: readonly string[];
  /** Where the steps are from; there wherever they are. */
  readonly stepsBasis?: readonly Basis[];
  /** What is written down at the act, where that is more than one value. */
  readonly reads?: readonly Reading[];
  /** What it is done at one after the other, where nobody asks how many there are: each is ticked and read by itself. */
  readonly inTurn?: "circuit" | "supply" | "sensor" | "valve";
  readonly proves: Partial<Proves>;
  readonly grade: Grade;
  /** Left out where the set runs at no load. */
  readonly setIs?: SetState;
  readonly hazard: Hazard;
  readonly minutes: number;
  readonly stops: number;
  readonly starts: number;
  /** How often more it is done, each time with its minutes, stop and start: a number of further places, or how many sensors there are. */
  readonly repeats?: string;
  /** The channel cannot act while the engine runs; the safeguards of a blind channel go with it. */
  readonly blinds: boolean;
  /** The maker's own published procedure. */
  readonly makers?: true;
  /** May be named as the step of a procedure approved for the vessel. */
  readonly approvable?: true;
  /** Only ever taken when everything better has fallen. */
  readonly lastResort?: true;
  readonly requirements: readonly Requirement[];
  readonly needs: readonly string[];
  readonly figures?: readonly FigurePart[];
  /** Facts that its steps or figures are worked out from. */
  readonly details: readonly string[];
  readonly cautions: readonly string[];
  readonly expected: string;
  /** What is put back and seen to be put back. */
  readonly restore?: string;
  readonly basis: readonly Basis[];
  readonly examples: Examples;
}

/** What must be known or seen besides, where a state of facts holds: an expected result that hangs on role or arrangement. */
export interface Note {
  readonly when: Condition;
  readonly text: string;
  readonly basis: readonly Basis[];
}

export interface Protection {
  readonly kind: string;
  readonly name: string;
  readonly short: string;
  /** Proven only where the office's policy wants it. */
  readonly onWish?: true;
  /** A second channel or device beside another protection's, which most sets do not have. */
  readonly besideAnother?: true;
  readonly notes?: readonly Note[];
  readonly applies: Condition;
  readonly appliesNot: string;
  /** Where the real excursion would damage equipment or endanger people; opens techniques under rules that name danger. */
  readonly danger: Condition;
  readonly dangerReason: string;
  readonly methods: readonly Method[];
  readonly setPoint?: string;
  readonly tolerance?: string;
  readonly basis: readonly Basis[];
  /**
   * In which order the decision diagram looks at the facts; the rulebook's own where it is left out. It changes its size,
   * never its meaning; found by search.
   */
  readonly diagramOrder?: readonly string[];
}

/** What opens a technique that a rule basis bars: only what that very rule names. */
export type Opener = "danger" | "approved step" | "written acceptance";

export interface TechniqueBar {
  readonly technique: Technique;
  readonly openedBy: readonly Opener[];
  readonly otherwise: string;
  readonly basis: readonly Basis[];
}

/** Something that a rule basis asks, in words, with where it stands. */
export interface Asks {
  readonly text: string;
  readonly basis: readonly Basis[];
}

/** A protection that must be shown under a rule basis. */
export interface Shows extends Asks {
  readonly protection: string;
}

export interface RuleBasis {
  readonly id: string;
  readonly name: string;
  readonly says: string;
  readonly bars: readonly TechniqueBar[];
  /** What a written test procedure must contain, where the rules say so. */
  readonly procedure: readonly string[];
  readonly overspeedFactor: number | null;
  /** Protections that must be shown. */
  readonly shows: readonly Shows[];
  /** Values that the rules set. */
  readonly limits: readonly Asks[];
  /** What is normally done how often. */
  readonly intervals: readonly Asks[];
  readonly basis: readonly Basis[];
}

export interface Criterion {
  readonly id: string;
  readonly text: string;
}

export interface Rulebook {
  readonly version: string;
  readonly facts: readonly FactSpec[];
  readonly ruleBases: readonly RuleBasis[];
  readonly protections: readonly Protection[];
  readonly needs: readonly Need[];
  /** Needs asked for whatever the methods, wherever a protection may apply. */
  readonly always: readonly string[];
  readonly cautions: readonly Caution[];
  readonly techniques: Readonly<Record<Technique, string>>;
  readonly hazards: Readonly<Record<Hazard, string>>;
  readonly orderOfPreference: readonly Criterion[];
  readonly photographs: Readonly<Record<PhotographId, string>>;
}
