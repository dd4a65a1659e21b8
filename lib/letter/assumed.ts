import { said } from "../model/fact.ts";
import type { ReadVisit } from "../model/read.ts";
import { namesIn } from "../plan/readable.ts";
import type { Plan } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import { formatNumber, formatQuantity, isUnit, type UnitSystem } from "../units/units.ts";
import type { Block } from "./blocks.ts";
import { capital, longDate } from "./words.ts";

interface Row {
  readonly name: string;
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
    const value =
      typeof answer === "string"
        ? said(spec, answer)
        : spec.unit !== undefined && isUnit(spec.unit)
          ? formatQuantity(answer, spec.unit, units)
          : formatNumber(answer, 3);
    const key = `${spec.at}|${value}`;
    const row = rows.get(key) ?? { name: spec.name, where: [], value };
    row.where.push(setOf(at, plan));
    rows.set(key, row);
  }
  if (rows.size === 0) return [{ kind: "paragraph", text: "Nothing is known of the machinery yet, so nothing is assumed." }];
  return [
    {
      kind: "paragraph",
      text: `From the papers of this office, ${longDate(plan.visit.preparedOn)}. Please strike out what is wrong and write the right answer beside it.`,
      tone: "quiet",
    },
    {
      kind: "table",
      plain: true,
      columns: [
        { title: "Fact", share: 48 },
        { title: "We take it to be", share: 32 },
        { title: "Set", share: 20 },
      ],
      rows: [...rows.values()].map(({ name, value, where }) => [
        capital(name),
        value,
        [...new Set(where)].filter((name) => name !== "").join(", ") || "all",
      ]),
    },
  ];
};
