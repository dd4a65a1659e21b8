import { figurePages } from "../../plan/figurePages/index.ts";
import { type FieldFault, readSum } from "../../plan/figurePages/read.ts";
import type { FigurePage, Outcome, Sum } from "../../plan/figurePages/types.ts";
import { capital } from "../../plan/say.ts";
import { displayUnit, formatNumber, formatQuantity } from "../../units/units.ts";

export const figurePage = (id: string): FigurePage | undefined => figurePages.find((page) => page.id === id);

/** What came of a sum, in words. */
export interface Told {
  readonly name: string;
  readonly value: string;
  readonly means: string;
}

/** A sum as it was tried: what was typed, what is wrong with it, what came of it. */
export interface Tried {
  readonly typed: Readonly<Record<string, string>>;
  readonly faults: readonly FieldFault[];
  readonly told: readonly Told[];
}

const valueWords = ({ value, unit, decimals = 3 }: Outcome): string => {
  if (typeof value === "string") return value;
  const number = formatNumber(value, decimals);
  if (unit === undefined) return number;
  const other = displayUnit(unit, "us") === unit ? "" : ` (${formatQuantity(value, unit, "us")})`;
  return `${number} ${unit}${other}`;
};

const toldOf = (outcome: Outcome): Told => ({ name: capital(outcome.name), value: valueWords(outcome), means: outcome.means ?? "" });

/** The id of a field on the page: several sums of one page ask for the same thing. */
export const fieldOf = (sum: Pick<Sum, "id">, input: string): string => `${sum.id}-${input}`;

/** Works a sum with what was typed into its fields. */
export const tried = (sum: Sum, typed: (id: string) => string): Tried => {
  const { given, faults } = readSum(sum, typed);
  const kept = Object.fromEntries(sum.inputs.map(({ id }) => [id, typed(id)]));
  if (faults.length > 0) return { typed: kept, faults: faults.map(({ id, says }) => ({ id: fieldOf(sum, id), says })), told: [] };
  const worked = sum.work(given);
  return worked.ok
    ? { typed: kept, faults: [], told: worked.value.map(toldOf) }
    : {
        typed: kept,
        faults: worked.faults.map((fault) => ({ id: fieldOf(sum, sum.inputs[0]?.id ?? ""), says: `It cannot be worked out: ${fault}` })),
        told: [],
      };
};

/** The worked example of a sum, with what the figure makes of it now. */
export const exampleOf = (sum: Sum): Tried => tried(sum, (id) => sum.example.given[id] ?? "");

/** Everything that a figure says in words. */
export const figureTexts = ({ says, sums, sources }: FigurePage): readonly string[] => [
  says,
  ...sums.flatMap(({ title, formula }) => [title, ...formula]),
  ...sources.map(({ cite, paragraph }) => `${cite} ${paragraph ?? ""}`.trim()),
];
