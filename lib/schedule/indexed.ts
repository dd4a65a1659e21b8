import type { DayProblem, Minute, Span } from "./problem.ts";

interface IndexedUse {
  readonly resource: number;
  readonly amount: number;
  readonly after: number;
}

interface IndexedDraw {
  readonly store: number;
  readonly amount: number;
  /** Minutes from the beginning of the task. */
  readonly offset: number;
  readonly wants: number;
}

interface Neighbour {
  readonly task: number;
  readonly gap: number;
}

/** A problem by numbers in place of names, as the search walks it. */
export interface Indexed {
  readonly count: number;
  readonly ids: readonly string[];
  readonly minutes: readonly number[];
  readonly earliest: readonly Minute[];
  /** The latest end of each, by its own and by those of what follows it. */
  readonly latest: readonly Minute[];
  /** What follows a task directly; no task where nothing does. */
  readonly follower: readonly (number | undefined)[];
  /** Tasks that can begin at one minute only. */
  readonly fixed: readonly number[];
  readonly uses: readonly (readonly IndexedUse[])[];
  readonly draws: readonly (readonly IndexedDraw[])[];
  readonly before: readonly (readonly Neighbour[])[];
  readonly after: readonly (readonly Neighbour[])[];
  /** When all that a task uses is to be had at once, as far as each is open. */
  readonly open: readonly (readonly Span[])[];
  readonly capacity: readonly number[];
  /** When each resource is open. */
  readonly openOf: readonly (readonly Span[])[];
  readonly stores: DayProblem["stores"];
  /** Tasks of each attending resource, and which resource it is. */
  readonly attending: readonly (readonly number[])[];
  readonly attendingAt: readonly number[];
  readonly rests: readonly Span[];
  readonly together: readonly (readonly number[])[];
  /** When the first day begins. */
  readonly from: Minute;
  /** Tasks so that each stands behind those before it. */
  readonly topological: readonly number[];
}

/** All the time. */
export const ALWAYS: readonly Span[] = [{ from: 0, to: Number.POSITIVE_INFINITY }];

/** Lists of the same times as one and the same list: most resources are there alike, and what is the same needs no comparing. */
const shared = (lists: readonly (readonly Span[])[]): readonly (readonly Span[])[] => {
  const known = new Map<string, readonly Span[]>();
  return lists.map((spans) => {
    const key = spans.map(({ from, to }) => `${from}-${to}`).join();
    const list = known.get(key) ?? spans;
    known.set(key, list);
    return list;
  });
};

const common = (one: readonly Span[], other: readonly Span[]): readonly Span[] =>
  one === ALWAYS || one === other
    ? other
    : one.flatMap(({ from, to }) =>
        other.flatMap((span): readonly Span[] => {
          const both = { from: Math.max(from, span.from), to: Math.min(to, span.to) };
          return both.from < both.to ? [both] : [];
        }),
      );

/** Tasks in an order that keeps all precedences; fewer than there are where some wait for each other. */
const sorted = (before: readonly (readonly Neighbour[])[], after: readonly (readonly Neighbour[])[]): readonly number[] => {
  const waits = before.map((own) => own.length);
  const order = waits.flatMap((count, task) => (count === 0 ? [task] : []));
  for (let place = 0; place < order.length; place += 1)
    for (const { task } of after[order[place] ?? 0] ?? []) {
      waits[task] = (waits[task] ?? 0) - 1;
      if (waits[task] === 0) order.push(task);
    }
  return order;
};

/** The latest end of each task, so that what follows it can be over by its own. */
const latestOf = (tasks: DayProblem["tasks"], after: Indexed["after"], topological: readonly number[]): readonly Minute[] => {
  const latest = tasks.map((task) => task.latest ?? Number.POSITIVE_INFINITY);
  for (const task of [...topological].reverse())
    for (const { task: next, gap } of after[task] ?? [])
      latest[task] = Math.min(latest[task] ?? 0, (latest[next] ?? 0) - (tasks[next]?.minutes ?? 0) - gap);
  return latest;
};

/** A problem whose names all lead somewhere (`faultsIn` says which do not), by numbers. */
export const indexed = ({ tasks, orders, resources, stores, attending, rests = [], together = [] }: DayProblem): Indexed => {
  const place = (ids: readonly { readonly id: string }[]): ReadonlyMap<string, number> => new Map(ids.map(({ id }, at) => [id, at]));
  const [taskAt, resourceAt, storeAt] = [place(tasks), place(resources), place(stores)];
  const neighbours = (of: "before" | "after"): readonly (readonly Neighbour[])[] => {
    const lists: Neighbour[][] = tasks.map(() => []);
    const other = of === "before" ? "after" : "before";
    for (const order of orders) lists[taskAt.get(order[other]) ?? -1]?.push({ task: taskAt.get(order[of]) ?? -1, gap: order.gap ?? 0 });
    return lists;
  };
  const openOf = shared(resources.map(({ open }) => open));
  const [before, after] = [neighbours("before"), neighbours("after")];
  const topological = sorted(before, after);
  const latest = latestOf(tasks, after, topological);
  const uses = tasks.map((task) =>
    task.uses.map(({ resource, amount, after: later = 0 }) => ({ resource: resourceAt.get(resource) ?? -1, amount, after: later })),
  );
  return {
    count: tasks.length,
    ids: tasks.map(({ id }) => id),
    minutes: tasks.map(({ minutes }) => minutes),
    earliest: tasks.map(({ earliest = 0 }) => earliest),
    latest,
    follower: tasks.map(({ id }) => taskAt.get(orders.find(({ before: one, directly }) => directly === true && one === id)?.after ?? "")),
    fixed: tasks.flatMap(({ earliest = 0, minutes }, task) => ((latest[task] ?? 0) - minutes <= earliest ? [task] : [])),
    uses,
    draws: tasks.map(({ draws = [] }) =>
      draws.map(({ store, amount, wants, at: offset = 0 }) => {
        const at = storeAt.get(store) ?? -1;
        return { store: at, amount, offset, wants: Math.max(wants ?? 0, amount + (stores[at]?.floor ?? 0)) };
      }),
    ),
    before,
    after,
    open: uses.map((own) => own.reduce((spans, { resource }) => common(spans, openOf[resource] ?? []), ALWAYS)),
    capacity: resources.map(({ capacity }) => capacity),
    openOf,
    stores,
    attending: attending.map((id) =>
      uses.flatMap((own, task) => (own.some(({ resource }) => resource === resourceAt.get(id)) ? [task] : [])),
    ),
    attendingAt: attending.map((id) => resourceAt.get(id) ?? -1),
    rests,
    together: together.map((ids) => ids.flatMap((id) => taskAt.get(id) ?? [])),
    from: Math.min(...resources.flatMap(({ open }) => open.map(({ from }) => from)), Number.POSITIVE_INFINITY),
    topological,
  };
};
