import { namesIn } from "../plan/readable.ts";
import type { Plan, PlanRequest } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { Block } from "./blocks.ts";
import { shortOnlyIf } from "./conditions.ts";
import { capital, longDate, methodWords, openWords, refRange, refsOf, testsIn, unbroken } from "./words.ts";

const kindOf = (plan: Plan, ref: string): string =>
  plan.sets.flatMap(({ protections }) => protections).find((protection) => protection.ref === ref)?.kind ?? "";

/** What is decided instead where a request is refused, tests of one outcome together. */
const refusalWords = ({ at, ifRefused }: PlanRequest, plan: Plan, rulebook: Rulebook): string => {
  if (at === undefined) return "";
  if (ifRefused.length === 0) return "nothing changes";
  const outcomes = new Map<string, string[]>();
  for (const { protection, to, unproven } of ifRefused) {
    const words =
      to.length === 0 ? "no acceptable way is left" : `${methodWords(rulebook, kindOf(plan, protection), to)}${openWords(unproven)}`;
    outcomes.set(words, [...(outcomes.get(words) ?? []), protection]);
  }
  return [...outcomes].map(([words, refs]) => `${testsIn(refs)}: ${words}`).join("\n");
};

const textOf = (request: PlanRequest, plan: Plan, rulebook: Rulebook): string => {
  const condition = request.neededBy.length === 0 ? shortOnlyIf(request.onlyIf, namesIn(plan, rulebook)) : null;
  const parts = [
    `${request.count === undefined || request.count === 1 ? "" : `${request.count} × `}${request.text}`,
    ...(request.late === true ? ["By our reckoning its lead time can no longer be kept; please say if it can be had all the same"] : []),
    ...(request.hold === true ? ["Hold: please reserve now, cancel if not needed"] : []),
    ...(request.notBefore === undefined ? [] : [`Do not order before ${refRange(request.notBefore)} answered`]),
    ...(condition === null ? [] : [`Wanted ${condition}`]),
  ];
  return `${parts.map(capital).join(". ")}.`;
};

/** Requests for the same thing of several sets, settled by the same day, are one row. */
const grouped = (requests: readonly PlanRequest[]): readonly (readonly PlanRequest[])[] => {
  const groups = new Map<string, PlanRequest[]>();
  for (const request of requests) {
    const key = `${request.need}|${request.confirmBy}|${request.hold === true}|${request.notBefore?.join() ?? ""}`;
    groups.set(key, [...(groups.get(key) ?? []), request]);
  }
  return [...groups.values()];
};

const SETS = / \(([^()]*)\)(?=;|$)/;

/** The text of one row; where it is of several sets, these stand behind the references at its end. */
const rowText = (requests: readonly PlanRequest[], plan: Plan, rulebook: Rulebook): string => {
  const [first] = requests;
  if (first === undefined) return "";
  if (requests.length === 1) return textOf(first, plan, rulebook);
  const sets = requests.map(({ ref, text }) => `${ref} ${SETS.exec(text)?.[1] ?? ""}`.trim()).join(", ");
  const { onlyIf: _, ...plain } = { ...first, text: first.text.replace(SETS, "") };
  return `${textOf(plain, plan, rulebook)} ${sets}.`;
};

const wantedFor = (requests: readonly PlanRequest[]): string =>
  testsIn(requests.flatMap(({ neededBy, laterFor }) => (neededBy.length > 0 ? neededBy : (laterFor ?? []))));

const whoAndWhen = (requests: readonly PlanRequest[]): string =>
  requests[0] === undefined ? "" : `${capital(requests[0].actor)}\n${unbroken(longDate(requests[0].confirmBy))}`;

const pricedTable = (requests: readonly PlanRequest[], plan: Plan, rulebook: Rulebook): Block => ({
  kind: "table",
  columns: [
    { title: "Reference", share: 10 },
    { title: "Please arrange", share: 34 },
    { title: "Who, by when", share: 18 },
    { title: "For", share: 10 },
    { title: "If it cannot be", share: 28 },
  ],
  rows: grouped(requests).map((group) => [
    refsOf(group),
    rowText(group, plan, rulebook),
    whoAndWhen(group),
    wantedFor(group),
    capital([...new Set(group.map((request) => refusalWords(request, plan, rulebook)).filter((words) => words !== ""))].join("\n")),
  ]),
});

/** Requests that nothing hangs on: they have no price of a refusal to show. */
const plainTable = (title: string, requests: readonly PlanRequest[], plan: Plan, rulebook: Rulebook): Block => ({
  kind: "table",
  compact: true,
  columns: [
    { title: "Reference", share: 10 },
    { title, share: 58 },
    { title: "Who, by when", share: 19 },
    { title: "For", share: 13 },
  ],
  rows: grouped(requests).map((group) => [refsOf(group), rowText(group, plan, rulebook), whoAndWhen(group), wantedFor(group)]),
});

const photographTable = (requests: readonly PlanRequest[]): Block => ({
  kind: "table",
  compact: true,
  columns: [
    { title: "Reference", share: 10 },
    { title: "Please send", share: 55 },
    { title: "Answers (no need to write these)", share: 35 },
  ],
  rows: requests.map(({ ref, text, answers, neededBy }) => [
    ref,
    `${capital(text)}.`,
    `${refRange(answers ?? [])}${neededBy.length === 0 ? "" : `, for ${refRange(neededBy)}`}`,
  ]),
});

/** The requests in full: what the plan needs with the price of each refusal, what later ways would need, and photographs. */
export const requestBlocks = (plan: Plan, rulebook: Rulebook): readonly Block[] => {
  const photographs = plan.requests.filter(({ kind }) => kind === "photograph");
  const later = plan.requests.filter(
    (request) => !photographs.includes(request) && request.neededBy.length === 0 && request.ifRefused.length === 0,
  );
  const rest = plan.requests.filter((request) => !photographs.includes(request) && !later.includes(request));
  const open = new Set(plan.open.map(({ at }) => at));
  const priced = rest.filter(({ at }) => at !== undefined && open.has(at));
  // What is known to be aboard or coming is only to be had ready.
  const plain = rest.filter(({ at }) => at === undefined || !open.has(at));
  if (plan.requests.length === 0) return [{ kind: "paragraph", text: "Nothing has to be arranged." }];
  return [
    ...(priced.length === 0 ? [] : [pricedTable(priced, plan, rulebook)]),
    ...(plain.length === 0
      ? []
      : [
          { kind: "subheading", text: "People, papers and the state of the plant" } as const,
          plainTable("Please have ready and confirm", plain, plan, rulebook),
        ]),
    ...(later.length === 0
      ? []
      : [
          {
            kind: "subheading",
            text: "For later ways only",
            note: "Not to be ordered yet, unless marked “hold”. If it cannot be had, the first ways stay as they are.",
          } as const,
          plainTable("Could this be had?", later, plan, rulebook),
        ]),
    ...(photographs.length === 0
      ? []
      : [
          {
            kind: "subheading",
            text: "Photographs",
            note: `Chief engineer, by ${longDate(photographs[0]?.confirmBy ?? plan.visit.replyBy)}.`,
          } as const,
          photographTable(photographs),
        ]),
  ];
};
