import { type Changes, changesBetween, type Replanned } from "../compare/plans.ts";
import type { Visit } from "../model/visit.ts";
import type { Plan } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { Block, Labelled } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { howWords, type PlanInput, provesWords } from "./protections.ts";
import { capital, refRange } from "./words.ts";

/** References of several kinds: tests, then questions, requests and assumptions, each in runs. */
export const ranges = (refs: readonly string[]): string =>
  ["T", "Q", "R", "K"]
    .map((letter) => refRange(refs.filter((ref) => ref.startsWith(letter))))
    .filter((range) => range !== "")
    .join(", ");

/** How a test is proven and what of its loop, in words. */
export const wayWords = (protection: Replanned["after"], rulebook: Rulebook): string =>
  protection.decision.outcome === "combination"
    ? `${howWords(protection, rulebook)} (${provesWords(protection).replace(/\.$/, "").toLowerCase()})`
    : howWords(protection, rulebook);

/** Tests that changed alike stand together. */
const replannedItems = ({ replanned }: Changes, rulebook: Rulebook): readonly Labelled[] => {
  const alike = new Map<string, string[]>();
  for (const { before, after } of replanned) {
    const words = SAY.with.insteadOf(wayWords(after, rulebook), wayWords(before, rulebook));
    alike.set(words, [...(alike.get(words) ?? []), after.ref]);
  }
  return [...alike].map(([text, refs]) => ({ label: ranges(refs), text: capital(text) }));
};

/** What reads otherwise, by what of it does: "figures: T9, T10; day: R21". */
const alteredWords = (altered: Changes["altered"]): string => {
  const alike = new Map<string, string[]>();
  for (const { ref, respects } of altered) {
    const words = respects.join(" and ");
    alike.set(words, [...(alike.get(words) ?? []), ref]);
  }
  return [...alike].map(([words, refs]) => `${words}: ${ranges(refs)}`).join("; ");
};

/** What a reader of the last letter finds otherwise in this one. */
export interface Told {
  /** The references that are new or read otherwise, for the mark in the margin. */
  readonly changed: readonly string[];
  readonly blocks: readonly Block[];
}

/** Requests that stand in the plan and were confirmed with the last letter: asked there, and no more here. */
const confirmedSince = ({ letters, confirmed }: Visit, { requests }: Plan): readonly string[] => {
  const last = letters.at(-1)?.number;
  const fresh = new Set(confirmed.filter(({ letter }) => letter === last).map(({ request }) => request));
  return requests.flatMap(({ ref }) => (fresh.has(ref) ? [ref] : []));
};

/** Something that the vessel answered to the last letter and the office did not take over, in words. */
export interface NotTaken {
  readonly ref: string;
  readonly said: string;
  readonly because?: string;
}

/** What was answered and not taken over, so that nobody has to find out by himself; alike ones together. */
export const notTakenBlocks = (notTaken: readonly NotTaken[]): readonly Block[] => {
  const alike = new Map<string, string[]>();
  for (const { ref, said, because = "" } of notTaken) {
    const words = SAY.with.notTakenOver(said.replace(/\.$/, ""), because.replace(/\.$/, ""));
    alike.set(words, [...(alike.get(words) ?? []), ref]);
  }
  if (alike.size === 0) return [];
  return [
    { kind: "heading", text: SAY.headings.notTakenOver },
    { kind: "labelled", items: [...alike].map(([text, refs]) => ({ label: ranges(refs), text })) },
  ];
};

/**
 * What no longer stands in the plan, by what became of it. A letter that ends the exchange puts tests off, and has things that were confirmed for them:
 * neither of these is merely "no longer asked".
 */
const goneItems = (gone: readonly string[], former: Plan, { confirmed }: Visit, putOff: ReadonlySet<string> | undefined) => {
  const photographs = new Set(former.requests.flatMap(({ kind, ref }) => (kind === "photograph" ? [ref] : [])));
  const things = confirmed.map(({ request }) => request).filter((ref) => !photographs.has(ref));
  const had = new Set(putOff === undefined ? [] : things);
  const tests = gone.filter((ref) => putOff?.has(ref) === true);
  const kept = gone.filter((ref) => had.has(ref));
  return [
    [SAY.headings.anotherTime, tests],
    [SAY.labels.confirmedNotNeeded, kept],
    [SAY.labels.gone, gone.filter((ref) => !tests.includes(ref) && !kept.includes(ref))],
  ] as const;
};

/** What the list tells besides the two plans. */
interface AlsoTold {
  /** Tests that a letter puts off which ends the exchange. */
  readonly putOff?: ReadonlySet<string>;
  /** Tests that the vessel agreed to since. */
  readonly agreed?: readonly string[];
}

/** The list of what changed since the plan of the last letter; nothing where there was none. */
export const changesTold = (
  former: Plan | undefined,
  { plan, read, rulebook }: PlanInput,
  { putOff, agreed: agreedSince = [] }: AlsoTold = {},
): Told => {
  if (former === undefined) return { changed: [], blocks: [] };
  const changes = changesBetween(former, plan);
  // What was agreed to is agreed no more where it is planned otherwise now.
  const agreed = agreedSince.filter((ref) => !changes.replanned.some(({ after }) => after.ref === ref));
  const confirmed = confirmedSince(read.visit, plan);
  const heading: Block = { kind: "heading", text: SAY.headings.changed };
  const items: readonly Labelled[] = [
    ...replannedItems(changes, rulebook),
    ...(
      [
        [SAY.labels.nowSettled, ranges(changes.settled)],
        [SAY.labels.nowAgreed, ranges(agreed)],
        [SAY.labels.nowConfirmed, ranges(confirmed)],
        [SAY.labels.added, ranges(changes.added)],
        [SAY.labels.altered, alteredWords(changes.altered)],
        ...goneItems(changes.gone, former, read.visit, putOff).map(([label, refs]) => [label, ranges(refs)] as const),
      ] as const
    )
      .filter(([, text]) => text !== "")
      .map(([label, text]) => ({ label, text: `${capital(text)}.` })),
  ];
  if (items.length === 0) return { changed: [], blocks: [heading, { kind: "paragraph", text: SAY.notes.nothingChanged }] };
  const changed = [
    ...new Set([
      ...changes.added,
      ...changes.altered.map(({ ref }) => ref),
      ...changes.settled,
      ...changes.replanned.map(({ after }) => after.ref),
      ...confirmed,
    ]),
  ];
  return {
    changed,
    blocks: [
      heading,
      ...(changed.length === 0 ? [] : [{ kind: "paragraph" as const, text: SAY.notes.barInTheMargin, tone: "quiet" as const }]),
      { kind: "labelled", items },
    ],
  };
};
