import { namesIn } from "../plan/readable.ts";
import type { Plan, PlanRequest } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { Block } from "./blocks.ts";
import { capital, longDate, methodWords, openWords, refRange, shortOnlyIf } from "./words.ts";

const kindOf = (plan: Plan, ref: string): string =>
  plan.sets.flatMap(({ protections }) => protections).find((protection) => protection.ref === ref)?.kind ?? "";

/** What is decided instead where a request is refused, tests of one outcome together. */
const refusalWords = ({ at, ifRefused }: PlanRequest, plan: Plan, rulebook: Rulebook): string => {
  if (at === undefined) return "";
  if (ifRefused.length === 0) return "the first way stays as it is";
  const outcomes = new Map<string, string[]>();
  for (const { protection, to, unproven } of ifRefused) {
    const words =
      to.length === 0 ? "no acceptable way is left" : `${methodWords(rulebook, kindOf(plan, protection), to)}${openWords(unproven)}`;
    outcomes.set(words, [...(outcomes.get(words) ?? []), protection]);
  }
  return [...outcomes].map(([words, refs]) => `${refRange(refs)}: ${words}`).join(". ");
};

const textOf = (request: PlanRequest, plan: Plan, rulebook: Rulebook): string => {
  const names = namesIn(plan, rulebook);
  const condition = request.neededBy.length === 0 ? shortOnlyIf(request.onlyIf, names) : null;
  const parts = [
    `${request.count === undefined || request.count === 1 ? "" : `${request.count} × `}${request.text}`,
    ...(request.hold === true ? ["Hold: please reserve now, cancel if not needed"] : []),
    ...(request.notBefore === undefined ? [] : [`Do not order before ${refRange(request.notBefore)} answered`]),
    ...(request.answers === undefined ? [] : [`Answers ${refRange(request.answers)}: no need to write these`]),
    ...(request.neededBy.length === 0 ? [condition === null ? "For a later way, if the first falls" : capital(condition)] : []),
  ];
  return `${parts.map(capital).join(". ")}.`;
};

/** Requests for the same thing of several sets, settled by the same day, are one row. */
const grouped = (plan: Plan): readonly (readonly PlanRequest[])[] => {
  const groups = new Map<string, PlanRequest[]>();
  for (const request of plan.requests) {
    const key = `${request.need}|${request.confirmBy}|${request.neededBy.length === 0}|${request.hold === true}`;
    groups.set(key, [...(groups.get(key) ?? []), request]);
  }
  return [...groups.values()];
};

const rowOf = (requests: readonly PlanRequest[], plan: Plan, rulebook: Rulebook): readonly string[] => {
  const [first] = requests;
  if (first === undefined) return [];
  const bare = first.text.replace(/ \([^()]*\)(?=;|$)/, "");
  const sets = requests.map(({ ref, text }) => `${ref} ${/ \(([^()]*)\)(?=;|$)/.exec(text)?.[1] ?? ""}`).join(", ");
  const text = requests.length === 1 ? textOf(first, plan, rulebook) : `${textOf({ ...first, text: bare }, plan, rulebook)} ${sets}.`;
  const refusals = [...new Set(requests.map((request) => refusalWords(request, plan, rulebook)).filter((words) => words !== ""))];
  return [
    refRange(requests.map(({ ref }) => ref)),
    text,
    `${capital(first.actor)}, ${longDate(first.confirmBy)}`,
    refRange(requests.flatMap(({ neededBy, laterFor }) => (neededBy.length > 0 ? neededBy : (laterFor ?? [])))),
    refusals.join(". "),
  ];
};

/** The requests in full, with what each refusal would cost. */
export const requestBlocks = (plan: Plan, rulebook: Rulebook): readonly Block[] => {
  if (plan.requests.length === 0) return [{ kind: "paragraph", text: "Nothing has to be arranged." }];
  return [
    {
      kind: "table",
      columns: [
        { title: "Reference", share: 9 },
        { title: "Please arrange", share: 38 },
        { title: "Who, by when", share: 16 },
        { title: "For", share: 10 },
        { title: "If it cannot be", share: 27 },
      ],
      rows: grouped(plan).map((requests) => rowOf(requests, plan, rulebook)),
    },
  ];
};
