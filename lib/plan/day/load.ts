import { motoringPower, numberIn } from "../../model/carrying.ts";
import { GENERATORS_ONLY, plantAt } from "../../model/facts/plant.ts";
import type { Span } from "../../schedule/problem.ts";
import { type DayInput, roleOf } from "./input.ts";
import type { Assumed, DayLoad } from "./types.ts";

export const LOAD = "load";

/** What keeps the ship supplied while sets are tested. */
export interface Carrying {
  readonly load: DayLoad | null;
  /** kW, or sets where powers are not known, that may be away from the board at once; infinite where another source carries the ship. */
  readonly spare: number;
  /** How many of the sets that carry may be away from the board at once. */
  readonly atOnce: number;
  /** What a set away from the board takes of the spare; 0 for one that does not carry the ship. */
  readonly weight: (set: number, motored: boolean) => number;
  /** Sets that can carry the ship. */
  readonly carriers: readonly number[];
  readonly assumed: readonly Assumed[];
}

/** Whether the shaft turns alongside for the tests, so that its generator can carry the ship. */
const shaftTurns = ({ plan }: DayInput): boolean =>
  plan.requests.some(({ need, neededBy }) => need === "shaft-turning" && neededBy.length > 0);

/** The sets that can carry the ship: those for ship service, and a shaft generator whose shaft turns; one with an open defect is left out. */
const carriersOf = (input: DayInput): readonly number[] =>
  input.plan.sets.flatMap((_, set) => {
    const role = roleOf(input, set);
    const carries = role === "ship service" || (role === "shaft-driven" && shaftTurns(input));
    return carries && input.read.answers.get(`/sets/${set}/openDefects`) !== "some" ? [set] : [];
  });

/** Whether the vessel confirmed that others keep its supply while sets are tested. */
const isSparedAsConfirmed = ({ plan, read }: DayInput): boolean =>
  plan.requests.some(({ need, ref }) => need === "set-available" && read.visit.confirmed.some(({ request }) => request === ref));

/** How many of the largest may be away at once. */
const countWithin = (powers: readonly number[], spare: number): number => {
  let [count, away] = [0, 0];
  for (const power of [...powers].sort((a, b) => b - a)) {
    away += power;
    if (away > spare + 1e-9) break;
    count += 1;
  }
  return count;
};

/** What may be away from the board, by load and ratings where they are known, else one set at a time. */
export const carryingOf = (input: DayInput): Carrying => {
  const { read } = input;
  const { answers } = read;
  const carriers = carriersOf(input);
  const limitPercent = read.visit.policy.loadLimit;
  const other = answers.get(plantAt.otherSources);
  const elsewhere = other !== undefined && other !== GENERATORS_ONLY;
  if (elsewhere || (carriers.length < 2 && isSparedAsConfirmed(input))) {
    return {
      load: null,
      spare: Number.POSITIVE_INFINITY,
      atOnce: carriers.length,
      weight: () => 0,
      carriers,
      assumed: [
        {
          text: elsewhere
            ? "The ship is carried by shore power, a battery or an inverter while sets are away from the board."
            : "The ship's supply is kept by others while sets are tested, as the vessel confirmed.",
          mark: "practice",
        },
      ],
    };
  }
  const powers = carriers.map((set) => numberIn(answers, `/sets/${set}/plate/ratedPower`));
  const known = powers.filter((power) => power !== undefined);
  const shipLoad = numberIn(answers, plantAt.load);
  if (shipLoad === undefined || known.length < powers.length || carriers.length === 0) {
    return {
      load: null,
      spare: Math.max(0, Math.min(1, carriers.length - 1)),
      atOnce: Math.max(0, Math.min(1, carriers.length - 1)),
      weight: (set) => (carriers.includes(set) ? 1 : 0),
      carriers,
      assumed:
        carriers.length < 2
          ? []
          : [{ text: "Load or rated powers are not known: one set at a time is away from the board.", mark: "practice" }],
    };
  }
  const neededKw = shipLoad + (numberIn(answers, plantAt.largestStarter) ?? 0);
  const spare = known.reduce((sum, power) => sum + power, 0) - (neededKw * 100) / limitPercent;
  const ratedKw = new Map(carriers.map((set, place) => [set, known[place] ?? 0]));
  return {
    load: { neededKw, limitPercent, ratedKw },
    spare: Math.max(0, spare),
    atOnce: Math.min(carriers.length - 1, countWithin(known, spare)),
    weight: (set, motored) => {
      const rated = ratedKw.get(set) ?? 0;
      // What is motored takes its power from the others besides.
      return rated === 0 ? 0 : rated + (motored ? ((motoringPower(answers, set) ?? 0) * 100) / limitPercent : 0);
    },
    carriers,
    assumed: carriers.some((set) => roleOf(input, set) === "shaft-driven")
      ? [
          {
            text: "The shaft generator carries the ship while other sets are away from the board; its shaft turns as agreed.",
            mark: "practice",
          },
        ]
      : [],
  };
};

/** Load counts day and night. */
export const ALWAYS: readonly Span[] = [{ from: 0, to: Number.MAX_SAFE_INTEGER }];
