import { type FactSpec, said } from "../model/fact.ts";
import { namesIn } from "../plan/readable.ts";
import type { Plan, PlanQuestion } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { Block } from "./blocks.ts";
import { shortOnlyIf } from "./words.ts";

/** A question that can decide one of the first ways is needed now; others only if those fall. */
const FIRST_RANKS = 2;

const rankOf = ({ decides }: PlanQuestion): number => Math.min(...decides.map(({ rank }) => rank));

/** The choices to tick; where they are many, room to name one. */
const choicesOf = (spec: FactSpec): string => {
  const { domain, unit } = spec;
  if (spec.at.endsWith("/approvedStep")) return "none / the step is: ………";
  if (domain.kind === "choice") return domain.values.map((value) => said(spec, value)).join(" / ");
  return unit === undefined ? "number" : `…… ${unit}`;
};

interface Grouped {
  readonly spec: FactSpec;
  readonly questions: PlanQuestion[];
}

/** The same question of several sets is one row. */
const grouped = (questions: readonly PlanQuestion[], plan: Plan, rulebook: Rulebook): readonly Grouped[] => {
  const names = namesIn(plan, rulebook);
  const groups = new Map<string, Grouped>();
  for (const question of questions) {
    const spec = names.specAt(question.at);
    if (spec === undefined) continue;
    const group = groups.get(spec.at) ?? { spec, questions: [] };
    group.questions.push(question);
    groups.set(spec.at, group);
  }
  return [...groups.values()];
};

const setNameOf = (at: string, plan: Plan): string => plan.sets[Number(/^\/sets\/(\d+)\//.exec(at)?.[1] ?? -1)]?.name ?? "";

const boundaryWords = (question: PlanQuestion): string => / What counts: (.*)$/.exec(question.text)?.[1] ?? "";

const rowOf = ({ spec, questions }: Grouped, plan: Plan, rulebook: Rulebook, photographed: ReadonlySet<string>): readonly string[] => {
  const names = namesIn(plan, rulebook);
  const refs = questions.map(({ ref, at }) => [ref, setNameOf(at, plan)].filter((part) => part !== "").join(" ")).join(", ");
  const boundaries = [...new Set(questions.map(boundaryWords).filter((text) => text !== ""))];
  const conditions = [...new Set(questions.map(({ onlyIf }) => shortOnlyIf(onlyIf, names) ?? ""))];
  const [only] = conditions;
  const notes = [
    ...(boundaries.length === 1 ? [`What counts: ${boundaries[0]}`] : []),
    ...(conditions.length === 1 && only !== undefined && only !== "" ? [`Asked ${only}.`] : []),
    ...(spec.look === undefined ? [] : [`Look: ${spec.look}.`]),
    ...(questions.every(({ ref }) => photographed.has(ref)) ? ["A photograph answers it."] : []),
  ];
  return [refs, [spec.question, ...notes].join(" "), choicesOf(spec)];
};

const COLUMNS = [
  { title: "Reference", share: 20 },
  { title: "Question", share: 52 },
  { title: "Answer", share: 28 },
] as const;

/** The questions in full: those needed now, those only needed if the first ways fall, and the details. */
export const questionBlocks = (plan: Plan, rulebook: Rulebook): readonly Block[] => {
  const photographed = new Set(plan.requests.flatMap(({ answers }) => answers ?? []));
  const deciding = plan.questions.filter(({ decides }) => decides.length > 0);
  const parts: readonly (readonly [string, string, readonly PlanQuestion[]])[] = [
    [
      "Needed now",
      "These decide how we test. “Not known” is an answer too; then say by when you will know.",
      deciding.filter((question) => rankOf(question) <= FIRST_RANKS),
    ],
    [
      "Needed only if the first ways fall",
      "An answer now saves a letter later.",
      deciding.filter((question) => rankOf(question) > FIRST_RANKS),
    ],
    [
      "Figures and details",
      "They go into the figures and steps of the methods above.",
      plan.questions.filter(({ decides }) => decides.length === 0),
    ],
  ];
  const blocks = parts.flatMap(([title, why, questions]): readonly Block[] =>
    questions.length === 0
      ? []
      : [
          { kind: "subheading", text: title, note: why },
          {
            kind: "table",
            columns: COLUMNS,
            rows: grouped(questions, plan, rulebook).map((group) => rowOf(group, plan, rulebook, photographed)),
          },
        ],
  );
  return blocks.length === 0 ? [{ kind: "paragraph", text: "No question is open." }] : blocks;
};
