import { reachOf } from "./bounds.ts";
import { type Indexed, indexed } from "./indexed.ts";
import type { DayProblem, Minute } from "./problem.ts";

/** Why a day cannot be put in order, as data: who words it knows what tasks and resources are called. */
export type DayFault =
  | { readonly kind: "not a time"; readonly task: string; readonly given: number }
  | { readonly kind: "unknown"; readonly task: string; readonly names: string }
  | { readonly kind: "waits for itself"; readonly tasks: readonly string[] }
  | { readonly kind: "more than there is"; readonly task: string; readonly resource: string; readonly wants: number; readonly has: number }
  | { readonly kind: "not in store"; readonly task: string; readonly store: string; readonly wants: number; readonly gives: number }
  | { readonly kind: "too long"; readonly task: string; readonly minutes: number; readonly longest: number }
  /** A beginning or end that is asked for and cannot be, with the nearest that can. */
  | { readonly kind: "cannot begin so early"; readonly task: string; readonly asked: Minute; readonly nearest: Minute }
  | { readonly kind: "cannot end so early"; readonly task: string; readonly asked: Minute; readonly nearest: Minute };

const isTime = (value: number): boolean => Number.isInteger(value) && value >= 0;

const numbersOf = ({ tasks, orders }: DayProblem): readonly DayFault[] => [
  ...tasks.flatMap(({ id, minutes, uses, draws = [], earliest = 0, latest = 0 }): readonly DayFault[] =>
    [minutes, earliest, latest, ...uses.map(({ after = 0 }) => minutes + after), ...draws.map(({ at = 0 }) => at)].flatMap((given) =>
      isTime(given) ? [] : [{ kind: "not a time", task: id, given }],
    ),
  ),
  ...orders.flatMap(({ after, gap = 0 }): readonly DayFault[] => (isTime(gap) ? [] : [{ kind: "not a time", task: after, given: gap }])),
];

const namesOf = ({ tasks, orders, resources, stores }: DayProblem): readonly DayFault[] => {
  const [known, own, kept] = [tasks, resources, stores].map(
    (list: readonly { readonly id: string }[]) => new Set(list.map(({ id }) => id)),
  );
  const unknown = (task: string, names: string, set: ReadonlySet<string> | undefined): readonly DayFault[] =>
    set?.has(names) === true ? [] : [{ kind: "unknown", task, names }];
  return [
    ...tasks.flatMap(({ id, uses, draws = [] }) => [
      ...uses.flatMap(({ resource }) => unknown(id, resource, own)),
      ...draws.flatMap(({ store }) => unknown(id, store, kept)),
    ]),
    ...orders.flatMap(({ before, after }) => [...unknown(after, before, known), ...unknown(before, after, known)]),
  ];
};

const amountsOf = ({ tasks, resources, stores }: DayProblem): readonly DayFault[] =>
  tasks.flatMap(({ id, uses, draws = [] }): readonly DayFault[] => [
    ...uses.flatMap(({ resource, amount }): readonly DayFault[] => {
      const has = resources.find((one) => one.id === resource)?.capacity ?? 0;
      return amount > has + 1e-9 ? [{ kind: "more than there is", task: id, resource, wants: amount, has }] : [];
    }),
    ...[...new Set(draws.map(({ store }) => store))].flatMap((store): readonly DayFault[] => {
      const own = stores.find((one) => one.id === store);
      if (own === undefined) return [];
      // From a full store, with what is recharged in the course of the task itself.
      const most = own.refill > 0 ? own.holds : own.first;
      let [level, then, short] = [most, 0, 0];
      for (const { amount, wants = 0, at = 0 } of draws.filter((draw) => draw.store === store)) {
        level = Math.min(own.holds, level + (at - then) * own.refill);
        then = at;
        short = Math.max(short, Math.max(wants, amount + own.floor) - level);
        level -= amount;
      }
      const all = draws.reduce((sum, draw) => (draw.store === store ? sum + draw.amount : sum), 0);
      return short > 1e-9 ? [{ kind: "not in store", task: id, store, wants: all, gives: Math.max(0, most - own.floor) }] : [];
    }),
  ]);

const lengthsOf = (day: Indexed): readonly DayFault[] =>
  day.ids.flatMap((task, at): readonly DayFault[] => {
    const longest = Math.max(0, ...(day.open[at] ?? []).map(({ from, to }) => to - from));
    const minutes = day.minutes[at] ?? 0;
    return minutes > longest ? [{ kind: "too long", task, minutes, longest }] : [];
  });

/** Times that are asked for against what must be done before; by precedence and opening times alone, which need no search. */
const timesOf = ({ tasks }: DayProblem, day: Indexed, heads: readonly Minute[]): readonly DayFault[] =>
  tasks.flatMap(({ id, minutes, latest }, at): readonly DayFault[] => {
    const ends = (heads[at] ?? 0) + minutes;
    if (latest === undefined || ends <= latest || !Number.isFinite(ends)) return [];
    return (day.earliest[at] ?? 0) + minutes > latest
      ? [{ kind: "cannot begin so early", task: id, asked: latest - minutes, nearest: day.earliest[at] ?? 0 }]
      : [{ kind: "cannot end so early", task: id, asked: latest, nearest: ends }];
  });

/**
 * Everything that keeps a problem from being put in order whatever the order: times that are none, names that lead nowhere, tasks that wait for
 * themselves, more wanted at once than there is, starts that no full store gives, tasks longer than any opening time, ends asked for before they can be.
 * Pure.
 */
export const faultsIn = (problem: DayProblem): readonly DayFault[] => {
  const first = [...numbersOf(problem), ...namesOf(problem)];
  if (first.length > 0) return first;
  const day = indexed(problem);
  const waiting = day.ids.filter((_, task) => !day.topological.includes(task));
  if (waiting.length > 0) return [{ kind: "waits for itself", tasks: waiting }];
  const second = [...amountsOf(problem), ...lengthsOf(day)];
  return second.length > 0 ? second : timesOf(problem, day, reachOf(day).head);
};
