import { said } from "../model/fact.ts";
import { namesIn } from "../plan/readable.ts";
import type { PlanRequest } from "../plan/schema.ts";
import type { Block } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import type { Closing } from "./closed.ts";
import type { PlanInput } from "./protections.ts";
import { confirmedWords, requestWords, testsFor } from "./requests.ts";
import { capital, testsIn } from "./words.ts";

/** Whether a request is for a test that is done on this visit. A photograph only answers questions, which are answered. */
export const isArranged = ({ kind, neededBy }: PlanRequest, tested: ReadonlySet<string>): boolean =>
  kind !== "photograph" && neededBy.some((ref) => tested.has(ref));

/** What is known of the thing that a request asks for: "aboard, and in date on the day". */
const knownAs = ({ at }: PlanRequest, { plan, read, rulebook }: PlanInput): string => {
  const spec = at === undefined ? undefined : namesIn(plan, rulebook).specAt(at);
  const known = at === undefined ? undefined : read.answers.get(at);
  return spec === undefined || typeof known !== "string" ? "" : said(spec, known);
};

/** How a request stands: with which letter it was confirmed, in which words, how the thing is had, and whom to speak to. */
const standing = (request: PlanRequest, input: PlanInput, { confirmed }: Closing): string => {
  const found = input.read.visit.confirmed.find((one) => one.request === request.ref);
  const then = confirmed.find((one) => one.request === request.ref);
  const { contact } = then ?? {};
  if (found === undefined) return SAY.with.knownToBe(knownAs(request, input));
  // Only what the vessel said is said to be its word.
  const known = then?.how === true ? knownAs(request, input) : "";
  return [
    `${capital(confirmedWords(found))}.`,
    ...(known === "" ? [] : [`${capital(known)}.`]),
    ...(contact === undefined ? [] : [SAY.with.contact(contact)]),
  ].join("\n");
};

const testedIn = ({ plan }: PlanInput): ReadonlySet<string> =>
  new Set(plan.sets.flatMap(({ protections }) => protections.map(({ ref }) => ref)));

/** What is arranged for the tests of this visit, each request with its confirmation. */
export const arrangedBlocks = (input: PlanInput, closing: Closing): readonly Block[] => {
  const tested = testedIn(input);
  const { plan, rulebook } = input;
  const own = plan.requests.filter((request) => isArranged(request, tested) && !closing.open.requests.includes(request.ref));
  if (own.length === 0) return [{ kind: "paragraph", text: SAY.notes.nothingArranged }];
  return [
    {
      kind: "table",
      compact: true,
      columns: [
        { title: SAY.columns.reference, share: 10 },
        { title: SAY.columns.what, share: 36 },
        { title: SAY.columns.whoActs, share: 14 },
        { title: SAY.columns.confirmed, share: 28 },
        { title: SAY.columns.forTests, share: 12 },
      ],
      // What once was late, or had to wait for an answer, is confirmed now.
      rows: own.map(({ late: _, notBefore: __, ...request }) => [
        request.ref,
        requestWords(request, plan, rulebook),
        capital(request.actor),
        standing(request, input, closing),
        testsIn(testsFor(request).filter((ref) => tested.has(ref))),
      ]),
    },
  ];
};

/** What was confirmed and no test of this visit needs any more, so that nobody keeps it for us. */
export const notNeededBlocks = (input: PlanInput, { confirmed, open }: Closing): readonly Block[] => {
  const tested = testedIn(input);
  const needed = new Set(input.plan.requests.filter((request) => isArranged(request, tested)).map(({ ref }) => ref));
  const rest = confirmed.filter(({ request }) => !needed.has(request) && !open.requests.includes(request));
  if (rest.length === 0) return [];
  return [
    { kind: "subheading", text: SAY.headings.notNeeded, note: SAY.notes.notNeeded },
    {
      kind: "table",
      compact: true,
      columns: [
        { title: SAY.columns.reference, share: 10 },
        { title: SAY.columns.what, share: 90 },
      ],
      rows: rest.map(({ request, text }) => [request, `${capital(text)}.`]),
    },
  ];
};
