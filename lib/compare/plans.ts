import type { Plan, PlanProtection, PlanQuestion, PlanRequest } from "../plan/schema.ts";

/** One test whose decision reads differently: before it stood so, now so. */
export interface Replanned {
  readonly before: PlanProtection;
  readonly after: PlanProtection;
}

/** In what something reads differently under the same reference. */
export type Respect = "later ways" | "figures" | "notes" | "cautions" | "wording" | "what it decides" | "who" | "number" | "day" | "need";

/** Something that reads differently under the same reference, and in what. */
export interface Altered {
  readonly ref: string;
  readonly respects: readonly Respect[];
}

/** What differs from one plan of a visit to the next, by the references that both use. */
export interface Changes {
  /** Tests, questions and requests that did not stand in the plan before. */
  readonly added: readonly string[];
  /** Tests with the same way as before, that way now certain. */
  readonly settled: readonly string[];
  /** Tests that are now proven in another way, or whose way now proves other parts. */
  readonly replanned: readonly Replanned[];
  /** Tests, questions and requests under the same reference that read differently in another respect. */
  readonly altered: readonly Altered[];
  /** What no longer stands in the plan: answered, arranged, or no longer needed. */
  readonly gone: readonly string[];
}

const appearing = ({ applies }: PlanProtection): boolean => applies !== "no";

const protectionsOf = (plan: Plan): readonly PlanProtection[] => plan.sets.flatMap(({ protections }) => protections).filter(appearing);

const byRef = <Item extends { readonly ref: string }>(items: readonly Item[]): ReadonlyMap<string, Item> =>
  new Map(items.map((item) => [item.ref, item]));

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

const wayOf = ({ decision }: PlanProtection): unknown => [decision.outcome, decision.methods, decision.proves];

/** What a reader sees of something, by the respect in which it may differ. */
type Seen = Readonly<Partial<Record<Respect, unknown>>>;

/** What of a test a reader sees besides its way: what it hangs on too. That all of it fell away because the first is certain is no change of its own. */
const restOf = ({ decision, options, figures, notes, cautions }: PlanProtection): Seen => ({
  "later ways":
    decision.state === "settled" ? [] : options.map(({ methods, unproven, when }, place) => [methods, unproven, place === 0 ? when : true]),
  figures: figures
    .filter(({ officeOnly }) => officeOnly !== true)
    .map(({ name, value, unit, tolerance }) => [name, value, unit, tolerance]),
  notes: notes.map(({ text }) => text),
  cautions,
});

const questionSeen = ({ text, boundary }: PlanQuestion): Seen => ({ wording: text, "what it decides": boundary });

/** That the day of the whole reply moved is no change of each request. */
const requestSeen =
  ({ visit }: Plan) =>
  ({ text, actor, count, confirmBy, late, hold, notBefore, neededBy }: PlanRequest): Seen => ({
    wording: text,
    who: actor,
    number: count,
    day: [confirmBy === visit.replyBy ? "with the reply" : confirmBy, late, notBefore],
    need: [hold, neededBy.length > 0],
  });

const differing = (before: Seen, after: Seen): readonly Respect[] =>
  (Object.keys(after) as Respect[]).filter((respect) => !same(before[respect], after[respect]));

interface Difference {
  readonly added: readonly string[];
  readonly altered: readonly Altered[];
  readonly gone: readonly string[];
}

const difference = <Item extends { readonly ref: string }>(
  before: readonly Item[],
  after: readonly Item[],
  seenBefore: (item: Item) => Seen,
  seen = seenBefore,
): Difference => {
  const [were, are] = [byRef(before), byRef(after)];
  return {
    added: [...are.keys()].filter((ref) => !were.has(ref)),
    altered: [...are].flatMap(([ref, item]): readonly Altered[] => {
      const was = were.get(ref);
      const respects = was === undefined ? [] : differing(seenBefore(was), seen(item));
      return respects.length === 0 ? [] : [{ ref, respects }];
    }),
    gone: [...were.keys()].filter((ref) => !are.has(ref)),
  };
};

/**
 * What differs between two plans of one visit. References tell what is the same in both, so they must have been handed on (the
 * visit's `references`). Pure; both plans are left as they are.
 */
export const changesBetween = (before: Plan, after: Plan): Changes => {
  const [were, are] = [byRef(protectionsOf(before)), byRef(protectionsOf(after))];
  const tests = difference(protectionsOf(before), protectionsOf(after), restOf);
  const questions = difference(before.questions, after.questions, questionSeen);
  const requests = difference(before.requests, after.requests, requestSeen(before), requestSeen(after));
  const replanned = [...are].flatMap(([ref, now]): readonly Replanned[] => {
    const was = were.get(ref);
    return was === undefined || same(wayOf(was), wayOf(now)) ? [] : [{ before: was, after: now }];
  });
  const other = new Set(replanned.map(({ after: now }) => now.ref));
  const settled = [...are]
    .filter(([ref, now]) => !other.has(ref) && now.decision.state === "settled" && were.get(ref)?.decision.state === "proposed")
    .map(([ref]) => ref);
  const told = new Set([...other, ...settled]);
  return {
    added: [...tests.added, ...questions.added, ...requests.added],
    settled,
    replanned,
    altered: [...tests.altered.filter(({ ref }) => !told.has(ref)), ...questions.altered, ...requests.altered],
    gone: [...tests.gone, ...questions.gone, ...requests.gone],
  };
};
