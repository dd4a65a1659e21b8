import { MOST_METHODS } from "../rulebook/preference.ts";
import { type Method, PARTS, type Part, type PartState, type Proves, STATES } from "../rulebook/types.ts";

const strength = (state: PartState | undefined): number => (state === undefined ? 0 : STATES.indexOf(state));

/** What methods prove together: for each part the strongest state that any of them brings. */
export const provenBy = (methods: readonly Method[]): Proves => {
  const best = (part: Part): PartState => STATES[Math.max(0, ...methods.map((method) => strength(method.proves[part])))] ?? "open";
  return { sensing: best("sensing"), wiring: best("wiring"), logic: best("logic"), final: best("final") };
};

export const unprovenIn = (proves: Proves): readonly Part[] => PARTS.filter((part) => proves[part] === "open");

const sameProof = (a: Proves, b: Proves): boolean => PARTS.every((part) => a[part] === b[part]);

/** Whether a method brings a part to a state that the others do not. */
const brings = (method: Method, methods: readonly Method[]): boolean =>
  !sameProof(provenBy(methods), provenBy(methods.filter((other) => other !== method)));

/** Whether everything beside the method that the inspector insists on brings something. */
const completes = (methods: readonly Method[], insisted: string): boolean =>
  methods.every((method) => method.id === insisted || brings(method, methods));

/** Whether every method, other than the maker's procedure or the vessel's approved step, brings something. */
const irredundant = (methods: readonly Method[], exempt: string | null): boolean =>
  methods.every((method) => method.makers === true || method.id === exempt || brings(method, methods));

/** Methods in rulebook order that count together, and the approved step among them, if the combination is taken for it. */
export interface Combination {
  readonly methods: readonly Method[];
  readonly approved: string | null;
}

const subsets = (methods: readonly Method[], most: number): readonly (readonly Method[])[] => {
  const grow = (from: number, chosen: readonly Method[]): readonly (readonly Method[])[] =>
    chosen.length === most
      ? [chosen]
      : [chosen, ...methods.slice(from).flatMap((method, offset) => grow(from + offset + 1, [...chosen, method]))];
  return grow(0, []).filter((chosen) => chosen.length > 0);
};

/**
 * All irredundant combinations of a protection's methods, acts that are never done left out. Where the inspector insists on
 * a method, those with it in which every other method brings something: what is added only completes the proof, and the
 * maker's procedure or the approved step is not added for its own sake against the inspector's choice.
 */
export const combinationsOf = (methods: readonly Method[], insisted?: string): readonly Combination[] => {
  const possible = methods.filter((method) => method.hazard < 3);
  const asked = subsets(possible, MOST_METHODS).filter(
    (chosen) => insisted === undefined || chosen.some((method) => method.id === insisted),
  );
  return asked.flatMap((chosen) =>
    [null, ...chosen.filter((method) => method.approvable === true).map((method) => method.id)].flatMap((approved) =>
      (insisted === undefined ? irredundant(chosen, approved) : completes(chosen, insisted)) ? [{ methods: chosen, approved }] : [],
    ),
  );
};
