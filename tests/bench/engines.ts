import { ZenEngine } from "@gorules/zen-engine";
import { Engine as JsonRules, type TopLevelCondition } from "json-rules-engine";
import type { CompiledProtection } from "../../lib/decide/compile.ts";
import type { Condition } from "../../lib/logic/condition.ts";

/** One row of the verdict table, the same from whichever engine it comes. */
export interface Row {
  readonly method: string;
  readonly verdict: "fit" | "depends" | "barred";
  readonly bar: string;
  readonly reason: string;
  readonly open: readonly string[];
}

/** Facts by pointer; "?" where it is not known. */
export type Input = Readonly<Record<string, string>>;
export type Table = (input: Input) => Promise<readonly Row[]>;

export const UNKNOWN = "?";

/** What the engines are asked, written once: whether a clause is false, or open, and which facts keep it open. */
interface Question {
  readonly id: string;
  readonly holds: Logic;
}
type Logic =
  | { readonly every: readonly Logic[] }
  | { readonly some: readonly Logic[] }
  | { readonly fact: string; readonly in: readonly string[]; readonly not: boolean };

const leaf = (fact: string, values: readonly string[], not = false): Logic => ({ fact, in: values, not });
const partsOf = (
  condition: Condition,
): { readonly kind: "all" | "any"; readonly parts: readonly Condition[] } | { readonly at: string; readonly is: readonly string[] } => {
  if (condition === true) return { kind: "all", parts: [] };
  if ("all" in condition) return { kind: "all", parts: condition.all };
  if ("any" in condition) return { kind: "any", parts: condition.any };
  return "is" in condition ? condition : { kind: "any", parts: [] };
};
const isTrue = (condition: Condition): Logic => {
  const part = partsOf(condition);
  if ("at" in part) return leaf(part.at, part.is);
  return part.kind === "all" ? { every: part.parts.map(isTrue) } : { some: part.parts.map(isTrue) };
};
const isFalse = (condition: Condition): Logic => {
  const part = partsOf(condition);
  if ("at" in part) return leaf(part.at, [...part.is, UNKNOWN], true);
  return part.kind === "all" ? { some: part.parts.map(isFalse) } : { every: part.parts.map(isFalse) };
};
const negated = (logic: Logic): Logic => {
  if ("every" in logic) return { some: logic.every.map(negated) };
  return "some" in logic ? { every: logic.some.map(negated) } : { ...logic, not: !logic.not };
};
const isOpen = (condition: Condition): Logic => ({ every: [negated(isTrue(condition)), negated(isFalse(condition))] });

/** For each fact the condition that it keeps the clause open: every tree above it is open, and it is unknown. */
const opening = (condition: Condition, above: readonly Logic[] = []): readonly (readonly [string, Logic])[] => {
  const here = [...above, isOpen(condition)];
  const part = partsOf(condition);
  if ("at" in part) return [[part.at, { every: [...here, leaf(part.at, [UNKNOWN])] }]];
  return part.parts.flatMap((inner) => opening(inner, here));
};

const questionsOf = (compiled: CompiledProtection): readonly Question[] =>
  compiled.methods.flatMap(({ clauses }, m) =>
    clauses.flatMap(({ when }, c) => [
      { id: `f_${m}_${c}`, holds: isFalse(when) },
      { id: `o_${m}_${c}`, holds: isOpen(when) },
      ...opening(when).map(([fact, holds], place) => ({ id: `u_${m}_${c}_${place}_${factIndex(compiled, fact)}`, holds })),
    ]),
  );

const factIndex = (compiled: CompiledProtection, fact: string): number => compiled.frame.indexOf.get(fact) ?? -1;

/** Puts the verdicts together from the ids that hold. */
const rowsOf = (compiled: CompiledProtection, held: ReadonlySet<string>): readonly Row[] =>
  compiled.methods.map(({ method, clauses }, m) => {
    const barred = clauses.findIndex((_, c) => held.has(`f_${m}_${c}`));
    const clause = clauses[barred];
    if (clause !== undefined) return { method: method.id, verdict: "barred", bar: clause.bar, reason: clause.otherwise, open: [] };
    const first = clauses.find((_, c) => held.has(`o_${m}_${c}`));
    if (first === undefined) return { method: method.id, verdict: "fit", bar: "", reason: "", open: [] };
    const open = new Set([...held].filter((id) => id.startsWith(`u_${m}_`)).map((id) => Number(id.split("_").at(-1))));
    const names = [...open].sort((a, b) => a - b).map((index) => compiled.frame.variables[index]?.at ?? "");
    return { method: method.id, verdict: "depends", bar: first.bar, reason: first.otherwise, open: names };
  });

const toJsonRules = (logic: Logic): TopLevelCondition => {
  if ("every" in logic)
    return { all: logic.every.length === 0 ? [{ fact: "yes", operator: "equal", value: true }] : logic.every.map(nested) };
  if ("some" in logic)
    return { any: logic.some.length === 0 ? [{ fact: "yes", operator: "equal", value: false }] : logic.some.map(nested) };
  return { all: [nested(logic)] };
};
const nested = (logic: Logic): ReturnType<typeof toJsonRules> | { fact: string; operator: string; value: readonly string[] } =>
  "fact" in logic ? { fact: logic.fact, operator: logic.not ? "notIn" : "in", value: logic.in } : toJsonRules(logic);

export const jsonRulesTable = (compiled: CompiledProtection): Table => {
  const engine = new JsonRules([], { allowUndefinedFacts: true });
  for (const { id, holds } of questionsOf(compiled)) engine.addRule({ conditions: toJsonRules(holds), event: { type: id } });
  return async (input) => {
    const { events } = await engine.run({ ...input, yes: true });
    return rowsOf(compiled, new Set(events.map(({ type }) => type)));
  };
};

const nameOf = (compiled: CompiledProtection, fact: string): string => `v${factIndex(compiled, fact)}`;
const toZen = (compiled: CompiledProtection, logic: Logic): string => {
  if ("every" in logic) return logic.every.length === 0 ? "true" : `(${logic.every.map((part) => toZen(compiled, part)).join(" and ")})`;
  if ("some" in logic) return logic.some.length === 0 ? "false" : `(${logic.some.map((part) => toZen(compiled, part)).join(" or ")})`;
  return `(${nameOf(compiled, logic.fact)} ${logic.not ? "not in" : "in"} [${logic.in.map((value) => JSON.stringify(value)).join(", ")}])`;
};

export const zenTable = (compiled: CompiledProtection): Table => {
  const expressions = questionsOf(compiled).map(({ id, holds }) => ({ id, key: id, value: toZen(compiled, holds) }));
  const graph = {
    nodes: [
      { id: "in", name: "in", type: "inputNode", position: { x: 0, y: 0 } },
      { id: "table", name: "table", type: "expressionNode", position: { x: 1, y: 0 }, content: { expressions } },
      { id: "out", name: "out", type: "outputNode", position: { x: 2, y: 0 } },
    ],
    edges: [
      { id: "a", sourceId: "in", targetId: "table", type: "edge" },
      { id: "b", sourceId: "table", targetId: "out", type: "edge" },
    ],
  };
  const decision = new ZenEngine().createDecision(Buffer.from(JSON.stringify(graph)));
  return async (input) => {
    const named = Object.fromEntries(Object.entries(input).map(([fact, value]) => [nameOf(compiled, fact), value]));
    const { result } = (await decision.evaluate(named)) as { readonly result: Readonly<Record<string, unknown>> };
    return rowsOf(compiled, new Set(Object.keys(result).filter((id) => result[id] === true)));
  };
};
