import { effortOf } from "../../plan/effort.ts";
import type { PlanProtection } from "../../plan/schema.ts";
import type { PlanInput } from "../protections.ts";
import { methodsOf } from "../words.ts";

/** One planned test of one set. */
export interface Test {
  readonly set: number;
  readonly protection: PlanProtection;
  /** When it is on the day, or that it is on none; empty while there is no order of the day. */
  readonly when: string;
  /** Minutes that the day has for it, what follows it counted in; null where it is on none. */
  readonly onDay: number | null;
}

/** How long a test takes, by the minutes of its methods. */
export const minutesOf = ({ set, protection: { kind, decision } }: Test, { rulebook, read }: PlanInput): number =>
  methodsOf(rulebook, kind, decision.methods).reduce(
    (sum, method) => sum + effortOf(method, (template) => read.answers.get(template.replace("*", String(set)))).minutes,
    0,
  );
