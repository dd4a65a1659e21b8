import { ABOARD, resolve } from "../../model/fact.ts";
import type { Method } from "../../rulebook/types.ts";
import type { Resource, Span, Use } from "../../schedule/problem.ts";
import { capital } from "../say.ts";
import type { DayInput } from "./input.ts";
import { minuteOf, workOf } from "./times.ts";
import type { DayHours, DayLane } from "./types.ts";

export const INSPECTOR = "inspector";
export const ENGINEERS = "engineers";
export const ELECTRICIANS = "electricians";

/** A technician who comes for some of the tests. */
export interface Technician extends DayLane {
  readonly kind: "technician";
  readonly need: string;
  readonly sisters?: string;
}

/** What a technician is called in a lane; his need in the rulebook says more than a lane has room for. */
const SHORT: Readonly<Record<string, string>> = {
  "service-engineer": "service engineer",
  "relay-technician": "relay technician",
  "converter-technician": "converter technician",
  "turbine-engineer": "turbine engineer",
};

/** The technicians that methods on a set need and who are not of the ship's own people. */
export const techniciansFor = (methods: readonly Method[], set: number, { rulebook, read, plan }: DayInput): readonly Technician[] => {
  const sisters = read.sets[set]?.sisters ?? "A";
  const groups = new Set(read.sets.map((one) => one.sisters));
  return rulebook.needs
    .filter(({ id, kind, at }) => kind === "technician" && at !== undefined && methods.some(({ needs }) => needs.includes(id)))
    .filter(({ at = "" }) => read.answers.get(resolve(at, set, sisters)) !== ABOARD)
    .map(({ id, at = "" }): Technician => {
      const own = at.includes("/sisters/") && groups.size > 1;
      const names = plan.sets.filter((_, place) => read.sets[place]?.sisters === sisters).map(({ name }) => name);
      const short = capital(SHORT[id] ?? id);
      return {
        id: own ? `${id} ${sisters}` : id,
        kind: "technician",
        label: own ? `${short} of ${names[0] ?? ""}${names.length > 1 ? " and its sisters" : ""}` : short,
        need: id,
        ...(own ? { sisters } : {}),
      };
    });
};

const within = (spans: readonly Span[], from: number, to: number): readonly Span[] =>
  spans.flatMap((span) => {
    const cut = { from: Math.max(span.from, from), to: Math.min(span.to, to) };
    return cut.from < cut.to ? [cut] : [];
  });

/** People as resources: how many there are at once, and when. */
export const peopleOf = ({ read }: DayInput, days: readonly DayHours[], technicians: readonly Technician[]): readonly Resource[] => {
  const { day, visit } = read.visit;
  const open = workOf(days);
  const first = visit.window.from;
  return [
    { id: INSPECTOR, capacity: 1, open },
    { id: ENGINEERS, capacity: day.engineers, open },
    { id: ELECTRICIANS, capacity: day.electricians, open },
    ...technicians.map(({ id, need, sisters }): Resource => {
      const times = day.technicians.find((one) => one.need === need && (one.sisters === undefined || one.sisters === sisters));
      return {
        id,
        capacity: 1,
        open: within(
          open,
          times?.from === undefined ? 0 : minuteOf(times.from, first),
          times?.to === undefined ? Number.POSITIVE_INFINITY : minuteOf(times.to, first),
        ),
      };
    }),
  ];
};

export const PEOPLE_LANES: readonly DayLane[] = [
  { id: INSPECTOR, kind: "inspector", label: "Inspector" },
  { id: ENGINEERS, kind: "crew", label: "Ship’s engineers" },
  { id: ELECTRICIANS, kind: "crew", label: "Ship’s electricians" },
];

/**
 * Whom a test takes: the inspector, until the restart where nothing is put back, a ship's engineer at the set and a second one at the hand stop while a channel is blind, the
 * electrician where the board is worked, technicians where a method needs them.
 */
export const usesOfTest = (
  {
    methods,
    blind,
    grave,
    restart,
  }: { readonly methods: readonly Method[]; readonly blind?: true; readonly grave?: true; readonly restart: number },
  technicians: readonly Technician[],
): readonly Use[] => [
  // What is put back is seen by him, and that nothing leaks where a sensor was out; else he is free once the set has stopped.
  {
    resource: INSPECTOR,
    amount: 1,
    ...(restart === 0 || blind === true || methods.some((method) => method.restore !== undefined) ? {} : { after: -restart }),
  },
  { resource: ENGINEERS, amount: blind === true || grave === true ? 2 : 1 },
  // Where no technician does it, live terminals are the electrician's.
  ...(methods.some(
    ({ needs, cautions }) => needs.includes("switchboard-hand") || (technicians.length === 0 && cautions.includes("live-panel")),
  )
    ? [{ resource: ELECTRICIANS, amount: 1, ...(restart === 0 ? {} : { after: -restart }) }]
    : []),
  ...technicians.map(({ id }) => ({ resource: id, amount: 1 })),
];
