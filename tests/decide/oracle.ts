import type { Condition } from "../../lib/logic/condition.ts";
import type { FactSpec } from "../../lib/model/fact.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import type { Method, Need, Part, PartState, Protection, TechniqueBar } from "../../lib/rulebook/types.ts";

/**
 * A second decider, written from the definitions and the rulebook's data alone: it shares no code with lib/decide or the
 * evaluation in lib/logic. Facts are kept by template; a fact that is not in the record is not known.
 */
export type Facts = Readonly<Record<string, string | number>>;

export interface Candidate {
  readonly methods: readonly string[];
  readonly open: readonly Part[];
  readonly needs: readonly string[];
  readonly conditions: readonly Condition[];
  readonly rank: readonly (number | readonly number[])[];
}

export interface Outcome {
  readonly what: "combination" | "does not apply" | "nothing left";
  readonly methods: readonly string[];
  readonly open: readonly Part[];
}

const PARTS: readonly Part[] = ["sensing", "wiring", "logic", "final"];
const STRENGTH: readonly PartState[] = ["open", "movement", "running value", "set point"];
const GRADES = ["as found", "in signal terms", "running value", "action only"];
export const MAY_STAY_OPEN: readonly Part[] = ["sensing", "wiring", "final"];

const specs = new Map(rulebook.facts.map((fact) => [fact.at, fact]));
export const specAt = (at: string): FactSpec => {
  const spec = specs.get(at);
  if (spec === undefined) throw new Error(`the rulebook names a fact it does not have: ${at}`);
  return spec;
};

const near = (value: number): number => Math.round(value * 1e6) / 1e6;

/** Two-valued truth of a condition where every fact it looks at is known. */
export const holds = (condition: Condition, facts: Facts): boolean => {
  if (condition === true) return true;
  if ("all" in condition) return condition.all.every((part) => holds(part, facts));
  if ("any" in condition) return condition.any.some((part) => holds(part, facts));
  if ("sum" in condition) return near(condition.sum.reduce((sum, [factor, at]) => sum + factor * Number(facts[at]), 0)) <= condition.to;
  if ("is" in condition) return condition.is.includes(String(facts[condition.at]));
  const value = Number(facts[condition.at]);
  return value >= (condition.from ?? Number.NEGATIVE_INFINITY) && value <= (condition.to ?? Number.POSITIVE_INFINITY);
};

export type Maybe = "yes" | "no" | "?";

const rangeOf = (at: string, facts: Facts): readonly [number, number] => {
  const known = facts[at];
  if (known !== undefined) return [Number(known), Number(known)];
  const { domain } = specAt(at);
  return domain.kind === "number" ? [domain.from, domain.to] : [0, 0];
};

const betweenEnds = (condition: Condition, facts: Facts): Maybe => {
  if (condition === true || !("sum" in condition))
    return looksAt(condition).some((at) => facts[at] === undefined) ? "?" : yesOrNo(condition, facts);
  const ends = condition.sum.map(([factor, at]) => rangeOf(at, facts).map((value) => factor * value));
  const least = near(ends.reduce((sum, pair) => sum + Math.min(...pair), 0));
  const most = near(ends.reduce((sum, pair) => sum + Math.max(...pair), 0));
  return most <= condition.to ? "yes" : least > condition.to ? "no" : "?";
};

const yesOrNo = (condition: Condition, facts: Facts): Maybe => (holds(condition, facts) ? "yes" : "no");

/** Three-valued truth where facts may be unknown: "yes" and "no" are certain. Numbers may be judged in another way. */
export const maybe = (condition: Condition, facts: Facts, ofNumbers = betweenEnds): Maybe => {
  if (condition === true) return "yes";
  if ("all" in condition) {
    const parts = condition.all.map((part) => maybe(part, facts, ofNumbers));
    return parts.includes("no") ? "no" : parts.includes("?") ? "?" : "yes";
  }
  if ("any" in condition) {
    const parts = condition.any.map((part) => maybe(part, facts, ofNumbers));
    return parts.includes("yes") ? "yes" : parts.includes("?") ? "?" : "no";
  }
  if (!("is" in condition)) return ofNumbers(condition, facts);
  return facts[condition.at] === undefined ? "?" : yesOrNo(condition, facts);
};

export const looksAt = (condition: Condition): readonly string[] => {
  if (condition === true) return [];
  if ("all" in condition) return condition.all.flatMap(looksAt);
  if ("any" in condition) return condition.any.flatMap(looksAt);
  if ("sum" in condition) return condition.sum.map(([, at]) => at);
  return [condition.at];
};

const stateOf = (methods: readonly Method[], part: Part): number =>
  methods.reduce((best, method) => Math.max(best, STRENGTH.indexOf(method.proves[part] ?? "open")), 0);
const statesOf = (methods: readonly Method[]): string => PARTS.map((part) => stateOf(methods, part)).join();

const choose = <T>(items: readonly T[], count: number): readonly (readonly T[])[] =>
  count === 0 ? [[]] : items.flatMap((item, place) => choose(items.slice(place + 1), count - 1).map((rest) => [item, ...rest]));

const counts = (methods: readonly Method[], approved: string | undefined): boolean =>
  methods.every(
    (method) =>
      method.makers === true || method.id === approved || statesOf(methods) !== statesOf(methods.filter((other) => other.id !== method.id)),
  );

const barsFor = (method: Method): readonly (readonly [string, TechniqueBar])[] =>
  rulebook.ruleBases.flatMap(({ id, bars }) => bars.filter((bar) => bar.technique === method.technique).map((bar) => [id, bar] as const));

const ruleConditions = (
  protection: Protection,
  methods: readonly Method[],
  approved: string | undefined,
  accepted: boolean,
): readonly Condition[] =>
  methods.flatMap((method) =>
    barsFor(method).flatMap(([ruleBasis, { openedBy }]): readonly Condition[] => {
      if (openedBy.includes("written acceptance") && accepted) return [];
      if (openedBy.includes("approved step") && approved === method.id) return [];
      const others = rulebook.ruleBases.map(({ id }) => id).filter((id) => id !== ruleBasis);
      const elsewhere: Condition = { at: "/ruleBasis", is: others };
      if (openedBy.includes("danger") && protection.danger === true) return [];
      return openedBy.includes("danger") ? [{ any: [elsewhere, protection.danger] }] : [elsewhere];
    }),
  );

const needsOf = (methods: readonly Method[]): readonly Need[] => {
  const ids = new Set(methods.flatMap(({ needs }) => needs));
  return rulebook.needs.filter((need) => ids.has(need.id) && need.at !== undefined);
};

/** Every way to meet every need: the conditions on the availability facts, and the burdens. */
const metWays = (needs: readonly Need[]): readonly { readonly conditions: readonly Condition[]; readonly burdens: readonly number[] }[] => {
  const [first, ...rest] = needs;
  if (first === undefined) return [{ conditions: [], burdens: [] }];
  const others = metWays(rest);
  return (first.ways ?? []).flatMap(({ values, burden }) =>
    others.map(({ conditions, burdens }) => ({
      conditions: [{ at: first.at ?? "", is: values }, ...conditions],
      burdens: [burden, ...burdens],
    })),
  );
};

const total = (methods: readonly Method[], of: (method: Method) => number): number => methods.reduce((sum, method) => sum + of(method), 0);

const rankFor = (
  protection: Protection,
  methods: readonly Method[],
  approved: string | undefined,
  burdens: readonly number[],
): Candidate["rank"] => {
  const left = (parts: readonly Part[]): number => parts.filter((part) => stateOf(methods, part) === 0).length;
  return [
    approved === undefined ? 1 : 0,
    methods.some(({ makers }) => makers === true) ? 0 : 1,
    left(["sensing", "final"]),
    methods.some(({ hazard }) => hazard === 2) ? 1 : 0,
    left(["wiring", "logic"]),
    methods.length,
    Math.max(...methods.map(({ hazard }) => hazard)),
    Math.min(...methods.map(({ grade }) => GRADES.indexOf(grade))),
    methods.map(({ technique }) => technique).sort((a, b) => b - a),
    Math.max(0, ...burdens),
    burdens.filter((burden) => burden > 0).length,
    total(methods, ({ stops, starts }) => stops + starts),
    total(methods, ({ minutes }) => minutes),
    methods.map(({ id }) => protection.methods.findIndex((method) => method.id === id)),
  ];
};

const compareOne = (a: number | readonly number[], b: number | readonly number[]): number => {
  if (typeof a === "number" && typeof b === "number") return a - b;
  const [left, right] = [a as readonly number[], b as readonly number[]];
  for (let i = 0; i < Math.max(left.length, right.length); i += 1) {
    const [x, y] = [left[i], right[i]];
    if (x === undefined || y === undefined) return x === y ? 0 : x === undefined ? -1 : 1;
    if (x !== y) return x - y;
  }
  return 0;
};
const compare = (a: Candidate, b: Candidate): number => {
  for (let i = 0; i < a.rank.length; i += 1) {
    const difference = compareOne(a.rank[i] ?? 0, b.rank[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
};

/** A procedure approved for the vessel is aboard and has this method as its step. */
const stepIs = (kind: string, method: string): Condition => ({
  all: [
    { at: "/approvedProcedure", is: ["aboard"] },
    { at: `/sets/*/${kind}/approvedStep`, is: [method] },
  ],
});

const candidatesFor = (
  protection: Protection,
  methods: readonly Method[],
  approved: string | undefined,
  mayStayOpen: readonly Part[],
): readonly Candidate[] => {
  const open = PARTS.filter((part) => stateOf(methods, part) === 0);
  if (!counts(methods, approved) || open.some((part) => !mayStayOpen.includes(part))) return [];
  const acceptance = rulebook.needs.filter(({ id }) => id === "written-acceptance");
  const openable = methods.some((method) => barsFor(method).some(([, { openedBy }]) => openedBy.includes("written acceptance")));
  return (openable ? [false, true] : [false]).flatMap((accepted) => {
    const needs = [...needsOf(methods), ...(accepted ? acceptance : [])];
    return metWays(needs).map(({ conditions, burdens }) => ({
      methods: methods.map(({ id }) => id),
      open,
      needs: needs.map(({ id }) => id),
      conditions: [
        protection.applies,
        ...(approved === undefined ? [] : [stepIs(protection.kind, approved)]),
        ...methods.flatMap(({ requirements }) => requirements.map(({ when }) => when)),
        ...ruleConditions(protection, methods, approved, accepted),
        ...conditions,
      ],
      rank: rankFor(protection, methods, approved, burdens),
    }));
  });
};

/** All options of a protection under a policy of which parts may stay open, best first. */
export const candidatesOf = (protection: Protection, mayStayOpen: readonly Part[] = MAY_STAY_OPEN): readonly Candidate[] => {
  const possible = protection.methods.filter(({ hazard }) => hazard < 3);
  const combinations = [1, 2, 3, 4].flatMap((count) => choose(possible, count));
  return combinations
    .flatMap((methods) =>
      [undefined, ...methods.filter(({ approvable }) => approvable === true).map(({ id }) => id)].flatMap((approved) =>
        candidatesFor(protection, methods, approved, mayStayOpen),
      ),
    )
    .sort(compare);
};

const special = (protection: Protection, facts: Facts): Outcome =>
  holds(protection.applies, facts) ? { what: "nothing left", methods: [], open: PARTS } : { what: "does not apply", methods: [], open: [] };

/** The decision where everything is known: the first option whose conditions all hold. */
export const decide = (protection: Protection, candidates: readonly Candidate[], facts: Facts): Outcome => {
  const first = candidates.find(({ conditions }) => conditions.every((condition) => holds(condition, facts)));
  return first === undefined ? special(protection, facts) : { what: "combination", methods: first.methods, open: first.open };
};

const tables = new Map<string, readonly Candidate[]>();

/** The same for a kind of protection under the default policy, its options built once. */
export const decideComplete = (kind: string, facts: Facts): Outcome => {
  const protection = rulebook.protections.find((candidate) => candidate.kind === kind);
  if (protection === undefined) throw new Error(`the rulebook has no protection ${kind}`);
  const candidates = tables.get(kind) ?? candidatesOf(protection);
  tables.set(kind, candidates);
  return decide(protection, candidates, facts);
};

/** What a method needs by itself, whatever it is combined with: its requirements, needs and opened rule bars. */
export const methodConditions = (protection: Protection, method: Method): readonly Condition[] => {
  const acceptance = rulebook.needs.find(({ id }) => id === "written-acceptance");
  const had = (need: Need | undefined): Condition => ({ at: need?.at ?? "", is: (need?.ways ?? []).flatMap(({ values }) => values) });
  return [
    ...method.requirements.map(({ when }) => when),
    ...needsOf([method]).map(had),
    ...barsFor(method).map(([ruleBasis, { openedBy }]): Condition => {
      const others = rulebook.ruleBases.map(({ id }) => id).filter((id) => id !== ruleBasis);
      return {
        any: [
          { at: "/ruleBasis", is: others },
          ...(openedBy.includes("danger") ? [protection.danger] : []),
          ...(openedBy.includes("approved step") && method.approvable === true ? [stepIs(protection.kind, method.id)] : []),
          ...(openedBy.includes("written acceptance") ? [had(acceptance)] : []),
        ],
      };
    }),
  ];
};

/** The facts of a protection, all conditions of all options and the question whether it applies taken together. */
export const factsOf = (protection: Protection, candidates: readonly Candidate[]): readonly FactSpec[] => {
  const named = new Set([...looksAt(protection.applies), ...candidates.flatMap(({ conditions }) => conditions.flatMap(looksAt))]);
  return rulebook.facts.filter(({ at }) => named.has(at));
};
