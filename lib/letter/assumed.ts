import { said } from "../model/fact.ts";
import type { ReadVisit } from "../model/read.ts";
import { namesIn } from "../plan/readable.ts";
import type { Plan } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import { formatQuantity, isUnit, formatNumber, type UnitSystem } from "../units/units.ts";
import type { Block } from "./blocks.ts";
import { longDate } from "./words.ts";

interface Row {
  readonly question: string;
  readonly where: string[];
  readonly value: string;
}

const setOf = (at: string, plan: Plan): string => {
  const set = /^\/sets\/(\d+)\//.exec(at)?.[1];
  return set === undefined ? "" : (plan.sets[Number(set)]?.name ?? "");
};

/** The known facts that decisions rest on, the same fact of several sets in one row, so that a wrong one can be struck out. */
export const assumedBlocks = (plan: Plan, answers: ReadVisit["answers"], rulebook: Rulebook, units: UnitSystem): readonly Block[] => {
  const names = namesIn(plan, rulebook);
  const named = [...new Set(plan.sets.flatMap(({ protections }) => protections.flatMap(({ decision }) => decision.because)))];
  const rows = new Map<string, Row>();
  for (const at of named) {
    const [spec, answer] = [names.specAt(at), answers.get(at)];
    if (spec === undefined || answer === undefined) continue;
    const value = typeof answer === "string" ? said(spec, answer) : spec.unit !== undefined && isUnit(spec.unit) ? formatQuantity(answer, spec.unit, units) : formatNumber(answer, 3);
    const key = `${spec.at}|${value}`;
    const row = rows.get(key) ?? { question: spec.question, where: [], value };
    row.where.push(setOf(at, plan));
    rows.set(key, row);
  }
  if (rows.size === 0) return [{ kind: "paragraph", text: "Nothing is known of the machinery yet, so nothing is assumed." }];
  return [
    { kind: "paragraph", text: `From the papers of this office, ${longDate(plan.visit.preparedOn)}. Please strike out what is wrong and write the right answer beside it.`, tone: "quiet" },
    {
      kind: "table",
      columns: [
        { title: "We take it that", share: 60 },
        { title: "Answer", share: 24 },
        { title: "Set", share: 16 },
      ],
      rows: [...rows.values()].map(({ question, value, where }) => [question, value, [...new Set(where)].filter((name) => name !== "").join(", ") || "all"]),
    },
  ];
};
