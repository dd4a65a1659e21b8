import type { Condition } from "../logic/condition.ts";
import { type Bound, OPEN, truthOf } from "../logic/kleene.ts";
import { conjunction, residual } from "../logic/residual.ts";
import type { Influence } from "./influence.ts";
import type { Decided } from "./protection.ts";
import { EVERY } from "./spans.ts";

/** An atom, or its opposite, as a bound condition. */
const linearOf = (atom: Decided["prepared"]["atoms"][number], truth: boolean): Bound => ({
  kind: "linear",
  indices: atom.indices,
  factors: atom.factors,
  from: truth ? Number.NEGATIVE_INFINITY : atom.bound + atom.grid,
  to: truth ? atom.bound : Number.POSITIVE_INFINITY,
});

/** The conditions on other open facts without which a fact cannot matter; `true` where there is none. Pointers are templates. */
export const onlyIfOf = ({ prepared, live, knowledge }: Decided, { span }: Influence): Condition => {
  const { frame } = prepared.compiled;
  const parts = [...span].flatMap((mask, place): readonly Condition[] => {
    if (mask === EVERY) return [];
    if (place < live.choices) {
      const positions = live.values(place).filter((_, branch) => (mask >> branch) & 1);
      const domain = frame.variables[place]?.domain;
      const values = domain?.kind === "choice" ? positions.flatMap((position) => domain.values[position] ?? []) : [];
      return [{ at: frame.variables[place]?.at ?? "", is: values }];
    }
    const component = live.components[place - live.choices];
    return (component?.atoms ?? []).flatMap((number, i): readonly Condition[] => {
      const truths = new Set(component?.cells.filter((_, cell) => (mask >> cell) & 1).map((cell) => cell[i] === true));
      const atom = prepared.atoms[number];
      const [truth] = truths;
      if (atom === undefined || truth === undefined || truths.size > 1) return [];
      const bound = linearOf(atom, truth);
      return truthOf(bound, knowledge) === OPEN ? [residual(frame, bound, knowledge)] : [];
    });
  });
  return conjunction(parts);
};
