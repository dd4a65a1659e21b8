import type { Visit } from "../model/visit.ts";
import { confirmedIn, stillAsked } from "../plan/asked.ts";
import { namesIn } from "../plan/readable.ts";
import type { Plan, PlanRequest } from "../plan/schema.ts";
import { CERTIFIED } from "../rulebook/needs.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { Block } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { shortOnlyIf } from "./conditions.ts";
import { OTHER_WAYS, optionWords, otherWays } from "./protections.ts";
import { capital, longDate, refRange, refsOf, testsIn } from "./words.ts";

/** What is done instead, in words; where the plan of the test names that way already, only where. */
const insteadWords = ({ protection: ref, to, unproven }: PlanRequest["ifRefused"][number], plan: Plan, rulebook: Rulebook): string => {
  if (to.length === 0) return "no acceptable way is left";
  const protection = plan.sets.flatMap(({ protections }) => protections).find((own) => own.ref === ref);
  if (protection === undefined) return "";
  const words = optionWords(protection.kind, { methods: to, unproven, when: true }, rulebook);
  const label = OTHER_WAYS[otherWays(protection, rulebook).indexOf(words)];
  return label === undefined ? words : SAY.with.asAbove(label);
};

/** The tests that a request is for: those of the first ways, else those of later ways. */
export const testsFor = ({ neededBy, laterFor }: PlanRequest): readonly string[] => (neededBy.length > 0 ? neededBy : (laterFor ?? []));

/** What is decided instead where a request is refused, tests of one outcome together; the other tests that it is for stand before. */
const pricedWords = (request: PlanRequest, plan: Plan, rulebook: Rulebook): readonly string[] => {
  const { ifRefused } = request;
  const priced = new Set(ifRefused.map(({ protection }) => protection));
  const rest = testsFor(request).filter((ref) => !priced.has(ref));
  const outcomes = new Map<string, string[]>();
  for (const refused of ifRefused) {
    const words = insteadWords(refused, plan, rulebook);
    outcomes.set(words, [...(outcomes.get(words) ?? []), refused.protection]);
  }
  return [
    ...(rest.length === 0 ? [] : [SAY.with.ifNot(testsIn(rest), "nothing changes")]),
    ...[...outcomes].map(([words, refs]) => SAY.with.ifNot(testsIn(refs), words)),
  ];
};

/** A request in full: how many of what, whether it is late or to be held, what it waits for and when it is wanted at all. */
export const requestWords = (request: PlanRequest, plan: Plan, rulebook: Rulebook): string => {
  const condition = request.neededBy.length === 0 ? shortOnlyIf(request.onlyIf, namesIn(plan, rulebook)) : null;
  const parts = [
    `${request.count === undefined || request.count === 1 || request.kind === "condition" ? "" : `${request.count} × `}${request.text}`,
    ...(request.late === true ? ["Late"] : []),
    ...(request.hold === true ? [SAY.notes.hold] : []),
    ...(request.notBefore === undefined ? [] : [SAY.with.notBefore(refRange(request.notBefore))]),
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
  if (requests.length === 1) return requestWords(first, plan, rulebook);
  const sets = requests.map(({ ref, text }) => `${ref} ${SETS.exec(text)?.[1] ?? ""}`.trim()).join(", ");
  const { onlyIf: _, ...plain } = { ...first, text: first.text.replace(SETS, "") };
  return `${requestWords(plain, plan, rulebook)} ${sets}.`;
};

/** By who acts by which day, so that this is said once. */
const byActor = (requests: readonly PlanRequest[]): ReadonlyMap<string, readonly PlanRequest[]> => {
  const tables = new Map<string, PlanRequest[]>();
  for (const request of requests) {
    const key = `${capital(request.actor)}, by ${longDate(request.confirmBy)}`;
    tables.set(key, [...(tables.get(key) ?? []), request]);
  }
  return tables;
};

/** What a row is wanted for; where it still has to be found, with the price of its not being found. */
const purposeOf = (group: readonly PlanRequest[], plan: Plan, rulebook: Rulebook, priced: (request: PlanRequest) => boolean): string =>
  group.some(priced)
    ? [...new Set(group.flatMap((request) => pricedWords(request, plan, rulebook)))].join("\n")
    : testsIn(group.flatMap(testsFor));

/** Rows without a price that are wanted for the same tests are one, so that the tests are read once. */
const rowsOf = (
  own: readonly PlanRequest[],
  plan: Plan,
  rulebook: Rulebook,
  priced: (request: PlanRequest) => boolean,
): readonly string[][] => {
  const rows = new Map<string, { readonly groups: (readonly PlanRequest[])[]; readonly purpose: string }>();
  for (const group of grouped(own)) {
    const purpose = purposeOf(group, plan, rulebook, priced);
    const key = group.some(priced) ? refsOf(group) : purpose;
    const row = rows.get(key) ?? { groups: [], purpose };
    row.groups.push(group);
    rows.set(key, row);
  }
  return [...rows.values()].map(({ groups, purpose }) => {
    // A request that shares its row is led in by its reference; those of several sets have theirs at their end.
    const texts = groups.map((group) => {
      const text = rowText(group, plan, rulebook);
      return groups.length > 1 && group.length === 1 ? `${refsOf(group)} ${text}` : text;
    });
    return [refsOf(groups.flat()), texts.join(" "), purpose];
  });
};

/** One table for each who acts by one day. */
const tables = (
  requests: readonly PlanRequest[],
  plan: Plan,
  rulebook: Rulebook,
  priced: (request: PlanRequest) => boolean,
): readonly Block[] =>
  [...byActor(requests)].map(([title, own]) => ({
    kind: "table",
    compact: true,
    columns: [
      { title: SAY.columns.reference, share: 10 },
      ...(own.some(priced)
        ? [
            { title, share: 57 },
            { title: SAY.columns.forAndIfNot, share: 33 },
          ]
        : [
            { title, share: 72 },
            { title: SAY.columns.forTests, share: 18 },
          ]),
    ],
    rows: rowsOf(own, plan, rulebook, priced),
  }));

/** From so many instruments on, that their certificates must be in date is said once. */
const MANY_CERTIFICATES = 3;

/** What is still asked: what the plan needs with the price of each refusal, and what later ways would need. */
const openBlocks = (requests: readonly PlanRequest[], plan: Plan, rulebook: Rulebook): readonly Block[] => {
  const asked = requests.filter(({ kind }) => kind !== "photograph");
  const certified = asked.filter(({ text }) => text.endsWith(CERTIFIED));
  const once = certified.length >= MANY_CERTIFICATES;
  const things = once ? asked.map((request) => ({ ...request, text: request.text.replace(CERTIFIED, "") })) : asked;
  const later = things.filter((request) => request.neededBy.length === 0 && request.ifRefused.length === 0);
  const rest = things.filter((request) => !later.includes(request));
  const open = new Set(plan.open.map(({ at }) => at));
  // What is known to be aboard or coming is only to be had ready: it has no price of a refusal to show.
  const priced = ({ at }: PlanRequest): boolean => at !== undefined && open.has(at);
  if (things.length === 0)
    return [{ kind: "paragraph", text: requests.length < plan.requests.length ? SAY.notes.nothingMore : SAY.notes.nothingToArrange }];
  return [
    ...(once ? [{ kind: "paragraph" as const, text: SAY.with.certificates(refsOf(certified)) }] : []),
    ...tables(rest, plan, rulebook, priced),
    ...(later.length === 0
      ? []
      : [
          {
            kind: "subheading",
            text: SAY.headings.laterWays,
            note: SAY.notes.notToBeOrdered,
          } as const,
          ...tables(later, plan, rulebook, () => false),
        ]),
  ];
};

/** How a request was confirmed: with which letter, by which day, in which words. */
export type Confirmation = Visit["confirmed"][number];

/** "with letter 2, by 20 March 2026: “our own gauge”". */
export const confirmedWords = ({ letter, by, words }: Confirmation): string =>
  SAY.with.confirmedWith(letter, by === undefined ? "" : SAY.with.byDate(longDate(by)), words ?? "");

/** What was confirmed before: to be kept ready, and asked no more. That it was late once does not matter any more. */
const confirmedBlocks = (confirmed: readonly Confirmation[], plan: Plan, rulebook: Rulebook): readonly Block[] => {
  const rows = plan.requests.flatMap(({ late: _, ...request }) => {
    const found = confirmed.find((one) => one.request === request.ref);
    if (found === undefined) return [];
    return [
      [
        request.ref,
        requestWords(request, plan, rulebook),
        capital(request.actor),
        capital(confirmedWords(found)),
        testsIn(testsFor(request)),
      ],
    ];
  });
  if (rows.length === 0) return [];
  return [
    { kind: "subheading", text: SAY.headings.confirmed, note: SAY.notes.keepReady },
    {
      kind: "table",
      compact: true,
      columns: [
        { title: SAY.columns.reference, share: 10 },
        { title: SAY.columns.what, share: 40 },
        { title: SAY.columns.whoActs, share: 14 },
        { title: SAY.columns.confirmed, share: 24 },
        { title: SAY.columns.forTests, share: 12 },
      ],
      rows,
    },
  ];
};

/**
 * The requests in full: what the plan needs with the price of each refusal, what later ways would need, and what is confirmed already. Photographs
 * that are still wanted stand with the questions that they answer.
 */
export const requestBlocks = (plan: Plan, rulebook: Rulebook, confirmed: readonly Confirmation[]): readonly Block[] => [
  ...openBlocks(stillAsked(plan, confirmedIn({ confirmed })), plan, rulebook),
  ...confirmedBlocks(confirmed, plan, rulebook),
];
