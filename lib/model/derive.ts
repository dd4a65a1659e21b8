import { loadLeft } from "../figures/loadLeft.ts";
import { loadBeside, motoringPower, numberIn } from "./carrying.ts";
import { plantAt } from "./facts/plant.ts";
import { SHAFT } from "./facts/set.ts";
import { APPROVED } from "./facts/visit.ts";

type Answers = ReadonlyMap<string, string | number>;

/** An answer that follows from others, with what it follows from. */
export interface Derived {
  readonly at: string;
  readonly value: string;
  readonly from: string;
  /** Whether an answer that says otherwise is a fault; else what is given counts and the difference is told. */
  readonly binding: boolean;
}

/** A set that is said to be shaft-driven is driven by the shaft. */
const primeMovers = (answers: Answers, sets: number): readonly Derived[] =>
  Array.from({ length: sets }, (_, set) => set).flatMap((set) =>
    answers.get(`/sets/${set}/role`) === "shaft-driven"
      ? [{ at: `/sets/${set}/primeMover`, value: SHAFT, from: "the set's role is shaft-driven", binding: true }]
      : [],
  );

/** Where a step of an approved procedure is named, the procedure is aboard. */
const procedure = (answers: Answers): readonly Derived[] =>
  [...answers].some(([at, value]) => at.endsWith("/approvedStep") && value !== "none")
    ? [{ at: APPROVED, value: "aboard", from: "a step of an approved procedure is named", binding: false }]
    : [];

/**
 * Whether the other sets without an open defect can carry the ship while one is motored: load + motoring power + the largest consumer that may start
 * by itself, on the rated power of the others, against the office's limit. Only where every number is known.
 */
const carrying = (answers: Answers, sets: number, loadLimit: number): readonly Derived[] => {
  if (numberIn(answers, plantAt.largestStarter) === undefined) return [];
  return Array.from({ length: sets }, (_, set) => set).flatMap((set): readonly Derived[] => {
    const motoringKw = motoringPower(answers, set);
    const beside = motoringKw === undefined ? undefined : loadBeside(answers, sets, set, { motoringKw, limitPercent: loadLimit });
    if (beside === undefined) return [];
    const left = loadLeft(beside);
    if (!left.ok) return [];
    return [
      {
        at: `/sets/${set}/reversePower/othersCarry`,
        value: left.value.withinLimit ? "yes" : "no",
        from: "load, ratings and motoring power",
        binding: false,
      },
    ];
  });
};

/** Every answer that follows from the others; whether one was given as well is for the caller to compare. */
export const derivedFrom = (answers: Answers, sets: number, loadLimit: number): readonly Derived[] => [
  ...primeMovers(answers, sets),
  ...procedure(answers),
  ...carrying(answers, sets, loadLimit),
];
