import { optionWords } from "../letter/protections.ts";
import { requestWords, testsFor } from "../letter/requests.ts";
import { refRange } from "../letter/words.ts";
import { capital } from "../plan/say.ts";
import type { Plan, PlanRequest } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";

/** One request as a row of a sheet, each cell as it is read; the day as YYYY-MM-DD. */
export interface RequestRow {
  readonly ref: string;
  readonly what: string;
  readonly kind: string;
  readonly actor: string;
  readonly confirmBy: string;
  readonly tests: string;
  readonly ifRefused: string;
  readonly state: string;
}

/** The heads of the columns, in the order of the cells. */
export const COLUMNS: Readonly<Record<keyof RequestRow, string>> = {
  ref: "Reference",
  what: "What",
  kind: "Kind",
  actor: "Who acts",
  confirmBy: "Confirm by",
  tests: "For tests",
  ifRefused: "If refused",
  state: "State",
};

export const KEYS = Object.keys(COLUMNS) as readonly (keyof RequestRow)[];

const testsWords = (request: PlanRequest): string => {
  const refs = testsFor(request);
  if (refs.length === 0) return "";
  return request.neededBy.length > 0 ? refRange(refs) : `${refRange(refs)}, later ways only`;
};

/** What is decided instead, by the names of the methods; tests of one outcome on one line. */
const refusedWords = ({ ifRefused, answers }: PlanRequest, plan: Plan, rulebook: Rulebook): string => {
  if (answers !== undefined && answers.length > 0) return `${refRange(answers)} answered in writing`;
  const kinds = new Map(plan.sets.flatMap(({ protections }) => protections.map(({ ref, kind }) => [ref, kind] as const)));
  const outcomes = new Map<string, string[]>();
  for (const { protection, to, unproven } of ifRefused) {
    const words = optionWords(kinds.get(protection) ?? "", { methods: to, unproven, when: true }, rulebook);
    outcomes.set(words, [...(outcomes.get(words) ?? []), protection]);
  }
  return [...outcomes].map(([words, refs]) => `${refRange(refs)}: ${words}`).join("\n");
};

/** The requests of a plan in its order, each with its state in the words that the caller gives by reference. Pure. */
export const requestRows = (plan: Plan, rulebook: Rulebook, states: ReadonlyMap<string, string>): readonly RequestRow[] =>
  plan.requests.map((request) => ({
    ref: request.ref,
    what: requestWords(request, plan, rulebook),
    kind: capital(request.kind),
    actor: capital(request.actor),
    confirmBy: request.confirmBy,
    tests: testsWords(request),
    ifRefused: refusedWords(request, plan, rulebook),
    state: states.get(request.ref) ?? "",
  }));
