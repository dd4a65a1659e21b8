import { answerWords } from "../../flow/questions.ts";
import { takenWords } from "../../letter/alike.ts";
import { optionWords } from "../../letter/protections.ts";
import { agreementSaid, answerSaid, confirmationSaid, inOneLine, valueSaid } from "../../letter/said.ts";
import { longDate, refRange } from "../../letter/words.ts";
import type { FactSpec } from "../../model/fact.ts";
import type { Reply } from "../../model/reply.ts";
import type { Asked } from "../../plan/asked.ts";
import { capital, listAnd } from "../../plan/say.ts";
import type { Plan } from "../../plan/schema.ts";
import type { Weighed } from "../../reply/weigh.ts";
import type { Rulebook } from "../../rulebook/types.ts";

/** One thing that a letter asked, in words. */
export interface AskedWords {
  readonly ref: string;
  readonly kind: "question" | "request" | "test" | "fact";
  /** The set that a test or a fact is of; empty for all else. */
  readonly set: string;
  readonly what: string;
  /** How a test was planned, by when a thing was to be confirmed, what a fact was taken to be. */
  readonly detail: string;
}

/** Everything that a letter asked, in its order; then what it took as known and a reply says to be otherwise. */
export const askedInWords = (
  { questions, requests, tests, known }: Asked,
  { corrections = {} }: Pick<Reply, "corrections">,
): readonly AskedWords[] => [
  // A question names its set by itself.
  ...questions.map(({ ref, text }): AskedWords => ({ ref, kind: "question", set: "", what: text, detail: "" })),
  ...requests.map(
    ({ ref, text, confirmBy }): AskedWords => ({
      ref,
      kind: "request",
      set: "",
      what: capital(text),
      detail: `to be confirmed by ${longDate(confirmBy)}`,
    }),
  ),
  ...tests.map(
    ({ ref, set, name, way }): AskedWords => ({
      ref,
      kind: "test",
      set,
      what: capital(name),
      detail: way === "" ? "no acceptable way was left" : `planned: ${way}`,
    }),
  ),
  ...known
    .filter(({ ref }) => corrections[ref] !== undefined)
    .map((fact): AskedWords => ({ ref: fact.ref, kind: "fact", set: fact.set, what: fact.name, detail: `taken as ${takenWords(fact)}` })),
];

export const methodName = (rulebook: Rulebook, kind: string, id: string): string =>
  rulebook.protections.find((entry) => entry.kind === kind)?.methods.find((method) => method.id === id)?.name ?? id;

/** What a reply says, by reference, in words. What it does not answer is left out. */
export const repliedInWords = (
  reply: Pick<Reply, "questions" | "requests" | "tests" | "corrections">,
  { questions, requests, tests, known }: Asked,
  rulebook: Rulebook,
): ReadonlyMap<string, string> => {
  const told: (readonly [string, string])[] = [];
  for (const question of questions) {
    const answer = reply.questions[question.ref];
    if (answer !== undefined) told.push([question.ref, answerSaid(question, answer)]);
  }
  for (const request of requests) {
    const confirmation = reply.requests[request.ref];
    if (confirmation !== undefined) told.push([request.ref, inOneLine(confirmationSaid(request, confirmation))]);
  }
  for (const test of tests) {
    const agreement = reply.tests[test.ref];
    if (agreement !== undefined)
      told.push([test.ref, inOneLine(agreementSaid(agreement, (method) => methodName(rulebook, test.kind, method)))]);
  }
  for (const fact of known) {
    const correction = reply.corrections?.[fact.ref];
    if (correction !== undefined) told.push([fact.ref, `In fact: ${valueSaid(fact, correction)}`]);
  }
  return new Map(told);
};

/** What the words for a weighed thing are made from. */
export interface Telling {
  readonly plan: Plan;
  readonly rulebook: Rulebook;
  readonly specAt: (at: string) => FactSpec | undefined;
}

const factWords = (at: string, value: Parameters<typeof answerWords>[1], { specAt }: Telling): string => {
  const spec = specAt(at);
  return spec === undefined ? String(typeof value === "object" ? value.value : value) : answerWords({ spec }, value);
};

/** What each test that needs a thing is proven by once that is refused. */
const insteadOf = (ref: string, { plan, rulebook }: Telling): readonly string[] => {
  const kinds = new Map(plan.sets.flatMap(({ protections }) => protections.map((one) => [one.ref, one.kind] as const)));
  const { ifRefused = [] } = plan.requests.find((request) => request.ref === ref) ?? {};
  return ifRefused.map(
    ({ protection, to, unproven }) =>
      `${protection}: ${optionWords(kinds.get(protection) ?? "", { methods: to, unproven, when: true }, rulebook)}`,
  );
};

const dateWords = ({ by = "", inTime, write }: Weighed, telling: Telling): string => {
  const from = longDate(telling.plan.visit.window.from);
  if (inTime === true) return `In time: the visit begins on ${from}. Taken, it counts as confirmed.`;
  const counts = write === undefined ? "not confirmed" : factWords(write.at, write.value, telling);
  return `${longDate(by)} is not in time: the visit begins on ${from}. Taken, this counts: ${counts}.`;
};

const SAID: Readonly<Record<Weighed["kind"], string>> = {
  answer: "Answer",
  correction: "Correction",
  "will be found out": "Not known yet",
  confirmed: "Confirmed",
  refused: "Refused",
  "another date": "Another date",
  "proposed instead": "Proposed instead",
  agreed: "Agreed",
  "another way": "Another way",
};

/** What a weighed thing is called. */
export const weighedName = ({ kind }: Weighed): string => SAID[kind];

const wasWords = ({ was, write }: Weighed, telling: Telling): string =>
  was === undefined || write === undefined
    ? ""
    : `Was known as: ${factWords(write.at, was, telling)}. Now: ${factWords(write.at, write.value, telling)}.`;

/** What becomes of agreements that the same reply makes impossible, told with what is refused. */
const agreedThoughWords = ({ agreedTo = [] }: Weighed): readonly string[] => {
  if (agreedTo.length === 0) return [];
  const [whose, agreements, them] =
    agreedTo.length === 1
      ? ["whose planned way needs", "this agreement counts", "it"]
      : ["whose planned ways need", "these agreements count", "them"];
  return [
    `The same reply agrees to ${refRange(agreedTo)}, ${whose} this. Taken, ${agreements} for nothing, and the next letter asks for ${them} again.`,
  ];
};

/** What a weighed thing means for the visit, sentence by sentence; none where it says all by itself. */
export const weighedWords = (weighed: Weighed, telling: Telling): readonly string[] => {
  const was = wasWords(weighed, telling);
  const own = was === "" ? [] : [was];
  switch (weighed.kind) {
    case "another date":
      return [dateWords(weighed, telling), ...agreedThoughWords(weighed)];
    case "refused": {
      const instead = insteadOf(weighed.ref, telling);
      return [
        ...own,
        ...(instead.length === 0 ? [] : [`Then it is decided instead: ${instead.join("; ")}.`]),
        ...agreedThoughWords(weighed),
      ];
    }
    case "proposed instead":
      return ["Taken, it counts as confirmed with these words."];
    case "will be found out":
      return ["The question stays open."];
    case "agreed":
      return [
        ...(weighed.words === undefined ? [] : ["With a remark: read whether it is a condition."]),
        ...(weighed.without === undefined ? [] : [`Counts only where ${listAnd(weighed.without)}, which this way needs, is left.`]),
      ];
    default:
      return own;
  }
};
