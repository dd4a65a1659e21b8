import type { Knowledge } from "../logic/frame.ts";
import { markOpen, NO, OPEN, truthOf } from "../logic/kleene.ts";
import type { Clause, CompiledMethod, CompiledProtection } from "./compile.ts";

/** What the engine says of one method on today's facts. `open` lists frame indices; `clause` is the one that bars. */
export type Verdict =
  | { readonly verdict: "fit" }
  | { readonly verdict: "depends"; readonly open: readonly number[]; readonly clause: Clause }
  | { readonly verdict: "barred"; readonly clause: Clause };

const FIT: Verdict = { verdict: "fit" };

export const verdictOf = ({ clauses }: CompiledMethod, knowledge: Knowledge): Verdict => {
  let open: Clause | undefined;
  for (const clause of clauses) {
    const truth = truthOf(clause.bound, knowledge);
    if (truth === NO) return { verdict: "barred", clause };
    if (truth === OPEN && open === undefined) open = clause;
  }
  if (open === undefined) return FIT;
  const seen = new Uint8Array(knowledge.masks.length);
  for (const clause of clauses) markOpen(clause.bound, knowledge, seen);
  const indices: number[] = [];
  seen.forEach((mark, index) => {
    if (mark === 1) indices.push(index);
  });
  return { verdict: "depends", open: indices, clause: open };
};

/** The verdict table of one protection, in rulebook order. */
export const verdictsOf = (compiled: CompiledProtection, knowledge: Knowledge): readonly Verdict[] =>
  compiled.methods.map((method) => verdictOf(method, knowledge));
