import type { Given } from "../flow/draft.ts";
import { type FactSpec, IN_TIME, NOT_KNOWN } from "../model/fact.ts";
import { answerOf } from "../model/read.ts";
import type { Reply, ReplyAgreement, ReplyAnswer, ReplyConfirmation, ReplyCorrection } from "../model/reply.ts";
import type { Asked, AskedKnown, AskedQuestion, AskedRequest, AskedTest } from "../plan/asked.ts";
import type { Plan, PlanProtection } from "../plan/schema.ts";
import { formatQuantity, type UnitSystem } from "../units/units.ts";

type Verdict = PlanProtection["verdicts"][number];

/**
 * One thing that a reply says, weighed against what is known: what it is, whether it can be taken as it is ("plain") or is for the inspector
 * to decide, and what taking it would write.
 */
export interface Weighed {
  readonly ref: string;
  readonly kind:
    | "answer"
    | "correction"
    | "will be found out"
    | "confirmed"
    | "refused"
    | "another date"
    | "proposed instead"
    | "agreed"
    | "another way";
  readonly plain: boolean;
  /** The answer that it gives to a fact. */
  readonly write?: { readonly at: string; readonly value: Given };
  /** What the fact was known as, where the reply says otherwise. */
  readonly was?: Given;
  /** The day that is named. */
  readonly by?: string;
  /** Whether another date that is named is early enough for the visit. */
  readonly inTime?: boolean;
  /** The vessel's own words. */
  readonly words?: string;
  readonly contact?: string;
  /** Of a test that is agreed to: what its way needs and the same reply does not give in time. */
  readonly without?: readonly string[];
  /** Of a request that is not met in time: the tests that are agreed to all the same though they need it. */
  readonly agreedTo?: readonly string[];
  /** The method that is proposed, and what the engine says of it as things stand. */
  readonly proposal?: { readonly method: string; readonly verdict?: Verdict };
}

/** What a reply is weighed against: the letter that it answers, and what is known now. */
export interface Weighing {
  readonly asked: Asked;
  readonly plan: Plan;
  readonly answers: ReadonlyMap<string, Given>;
  /** What a fact is; where it is given, numbers are compared across units. */
  readonly specAt?: (at: string) => FactSpec | undefined;
}

const known = (at: string, { answers }: Weighing): Given | undefined => {
  const given = answers.get(at);
  return given === NOT_KNOWN ? undefined : given;
};

const same = (one: Given, other: Given): boolean => JSON.stringify(one) === JSON.stringify(other);

/** A fact that a reply gives: new, said already, or otherwise than it was known. */
const giving = (ref: string, at: string, value: Given, kind: Weighed["kind"], weighing: Weighing): Weighed => {
  const was = known(at, weighing);
  const write = { at, value };
  if (was === undefined || same(was, value)) return { ref, kind, plain: true, write };
  // Somebody knew it otherwise: which of the two is right is for a person to say.
  return { ref, kind: kind === "answer" ? "correction" : kind, plain: false, write, was };
};

const weighAnswer = ({ ref, at }: AskedQuestion, answer: ReplyAnswer, weighing: Weighing): Weighed =>
  answer.says === "answer"
    ? giving(ref, at, answer.value, "answer", weighing)
    : { ref, kind: "will be found out", plain: true, ...(answer.by === undefined ? {} : { by: answer.by }) };

const own = ({ words, contact, by }: ReplyConfirmation): Pick<Weighed, "words" | "contact" | "by"> => ({
  ...(words === undefined ? {} : { words }),
  ...(contact === undefined ? {} : { contact }),
  ...(by === undefined ? {} : { by }),
});

/**
 * How a thing is had that is said to be had: as it was said, else "in time" where that is a way, since "yes" alone does not say that it is
 * aboard and who plans with the later of the two is safe; else the only way there is.
 */
const hadAs = ({ had }: AskedRequest, said: string | undefined): string | undefined =>
  said ?? had.find(({ value }) => value === IN_TIME)?.value ?? had[0]?.value;

/** How a thing is known to be had already: a bare "yes" says nothing against it. */
const knownHad = ({ at, had }: AskedRequest, weighing: Weighing): string | undefined => {
  const was = at === undefined ? undefined : known(at, weighing);
  return had.find(({ value }) => value === was)?.value;
};

const weighConfirmation = (request: AskedRequest, confirmation: ReplyConfirmation, weighing: Weighing): Weighed => {
  const { ref, at, refused } = request;
  const more = own(confirmation);
  const { says, had, by } = confirmation;
  if (says === "instead") return { ref, kind: "proposed instead", plain: false, ...more };
  if (says === "no")
    return at === undefined || refused === undefined
      ? { ref, kind: "refused", plain: false, ...more }
      : // A refusal can cost a test its way: it is never taken among what is plain.
        { ...giving(ref, at, refused, "refused", weighing), plain: false, ...more };
  const inTime = by !== undefined && by <= weighing.plan.visit.window.from;
  // "Yes, by the day after the visit" gives nothing to the visit.
  const otherDay = says === "by another date" || (by !== undefined && !inTime);
  const value = !otherDay || inTime ? hadAs(request, had ?? knownHad(request, weighing)) : refused;
  if (otherDay)
    return {
      ref,
      kind: "another date",
      plain: false,
      inTime,
      ...(at === undefined || value === undefined ? {} : { write: { at, value } }),
      ...more,
    };
  if (at === undefined || value === undefined) return { ref, kind: "confirmed", plain: true, ...more };
  return { ...giving(ref, at, value, "confirmed", weighing), ...more };
};

/** Whether a reply leaves the visit without a thing: refused, or had only after it has begun. */
export const isLost = ({ kind, inTime }: Weighed): boolean => kind === "refused" || inTime === false;

interface AgreementWeighing extends Weighing {
  readonly lost: readonly string[];
}

const weighAgreement = ({ ref, at }: AskedTest, { says, method, words }: ReplyAgreement, { plan, lost }: AgreementWeighing): Weighed => {
  const more = words === undefined ? {} : { words };
  if (says === "agreed") {
    // Who agrees to a way and refuses what it needs has overlooked one of the two.
    // What only a later way would need is not missed by this one.
    const without = plan.requests.filter((request) => lost.includes(request.ref) && request.neededBy.includes(ref)).map((one) => one.ref);
    return { ref, kind: "agreed", plain: words === undefined, ...(without.length === 0 ? {} : { without }), ...more };
  }
  if (method === undefined) return { ref, kind: "another way", plain: false, ...more };
  const verdict = plan.sets
    .flatMap(({ protections }) => protections)
    .find((protection) => protection.at === at)
    ?.verdicts.find((one) => one.method === method);
  return { ref, kind: "another way", plain: false, proposal: { method, ...(verdict === undefined ? {} : { verdict }) }, ...more };
};

const SYSTEMS: readonly UnitSystem[] = ["metric", "us"];

/** Whether two values say the same of a fact. A number is taken as a letter writes it: whoever repeats what was rounded there corrects nothing. */
const alike = (spec: FactSpec | undefined, one: Given, other: Given): boolean => {
  if (same(one, other) || spec === undefined) return same(one, other);
  const [first, second] = [answerOf(spec, one), answerOf(spec, other)];
  if (typeof first !== "number" || typeof second !== "number") return false;
  const { unit } = spec;
  return unit === undefined
    ? first === second
    : SYSTEMS.some((system) => formatQuantity(first, unit, system) === formatQuantity(second, unit, system));
};

/** What was taken as known and is otherwise: never plain, since decisions were made by it. What only repeats it says nothing. */
const weighCorrection = (fact: AskedKnown, value: ReplyCorrection, { answers, specAt }: Weighing): readonly Weighed[] => {
  const { ref, at } = fact;
  // What nobody gave is what the letter took it to be.
  const was = answers.get(at) ?? fact.value;
  return alike(specAt?.(at), was, value) ? [] : [{ ref, kind: "correction", plain: false, write: { at, value }, was }];
};

/**
 * Weighs everything that a reply says, in the order of the letter. Nothing is taken by it. What the letter did not ask is not weighed: a reply is
 * read against its letter before. Pure.
 */
export const weigh = (reply: Reply, weighing: Weighing): readonly Weighed[] => {
  const { questions, requests, tests, known: taken } = weighing.asked;
  const confirmations = requests.flatMap((request) => {
    const confirmation = reply.requests[request.ref];
    return confirmation === undefined ? [] : [weighConfirmation(request, confirmation, weighing)];
  });
  const lost = confirmations.filter(isLost).map(({ ref }) => ref);
  const agreements = tests.flatMap((test) => {
    const agreement = reply.tests[test.ref];
    return agreement === undefined ? [] : [weighAgreement(test, agreement, { ...weighing, lost })];
  });
  const agreedThough = (request: string): readonly string[] =>
    agreements.flatMap(({ ref, without }) => (without?.includes(request) === true ? [ref] : []));
  return [
    ...questions.flatMap((question) => {
      const answer = reply.questions[question.ref];
      return answer === undefined ? [] : [weighAnswer(question, answer, weighing)];
    }),
    ...confirmations.map((one) => {
      const agreedTo = agreedThough(one.ref);
      return agreedTo.length === 0 ? one : { ...one, agreedTo };
    }),
    ...agreements,
    ...taken.flatMap((fact) => {
      const correction = reply.corrections?.[fact.ref];
      return correction === undefined ? [] : weighCorrection(fact, correction, weighing);
    }),
  ];
};

/** What taking in some of a reply writes into the visit. */
export interface TakenIn {
  readonly answers: readonly { readonly at: string; readonly value: Given }[];
  /** Requests that the vessel confirmed, with its words. */
  readonly confirmed: readonly { readonly request: string; readonly by?: string; readonly words?: string }[];
  /** Tests that the vessel agreed to as planned. */
  readonly agreed: readonly string[];
  /** Ways that the vessel proposed and the inspector takes. */
  readonly deviations: readonly {
    readonly protection: string;
    readonly method: string;
    readonly words?: string;
    /** Why the inspector takes it. */
    readonly reason?: string;
  }[];
  /** References of what is taken, whatever it writes. */
  readonly taken: readonly string[];
  /** References of what was said and is not taken. */
  readonly left: readonly string[];
  /** Why, by reference, where it was said. */
  readonly leftBecause?: Readonly<Record<string, string>>;
}

/** What of a request counts as confirmed once it is taken; another date does only where it is in time. */
const isHad = ({ kind, inTime }: Weighed): boolean =>
  kind === "confirmed" || kind === "proposed instead" || (kind === "another date" && inTime === true);

/** What of a weighed reply is written where these references are taken: answers, confirmations, agreements, deviations. Pure. */
export const takenIn = (weighed: readonly Weighed[], taken: ReadonlySet<string>): TakenIn => {
  // An agreement is void once it is taken in that what the way needs is not to be had.
  const own = weighed.filter(({ ref, without = [] }) => taken.has(ref) && !without.some((request) => taken.has(request)));
  const counts = new Set(own.map(({ ref }) => ref));
  return {
    answers: own.flatMap(({ write }) => write ?? []),
    confirmed: own
      .filter(isHad)
      .map(({ ref, by, words }) => ({ request: ref, ...(by === undefined ? {} : { by }), ...(words === undefined ? {} : { words }) })),
    agreed: own.filter(({ kind }) => kind === "agreed").map(({ ref }) => ref),
    deviations: own.flatMap(({ ref, proposal, words }) =>
      proposal === undefined ? [] : [{ protection: ref, method: proposal.method, ...(words === undefined ? {} : { words }) }],
    ),
    taken: own.map(({ ref }) => ref),
    left: weighed.filter(({ ref }) => !counts.has(ref)).map(({ ref }) => ref),
  };
};
