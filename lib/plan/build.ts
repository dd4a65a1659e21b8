import { type Engine, newEngine } from "../decide/engine.ts";
import { type Facts, impossibleAt, type LeadOf } from "../decide/knowledge.ts";
import { type DecidedProtection, decideVisit } from "../decide/visit.ts";
import { canonical, digestOf } from "../kernel/digest.ts";
import { newRemembered } from "../kernel/remembered.ts";
import type { Condition } from "../logic/condition.ts";
import { NO, OPEN } from "../logic/kleene.ts";
import { type Known, leftOutOf } from "../model/channels.ts";
import { channelsBy, usBasisShutOut } from "../model/contradictions.ts";
import { type FactSpec, resolve } from "../model/fact.ts";
import { RULE_BASIS, TACHOMETER_ERROR } from "../model/facts/visit.ts";
import type { Policy } from "../model/policy.ts";
import type { ReadVisit } from "../model/read.ts";
import { type Reference, referenceOf, withReferences } from "../model/references.ts";
import { withLocalRules } from "../rulebook/ruleBases.ts";
import type { FigurePart, Rulebook } from "../rulebook/types.ts";
import { type PlacedFact, placedFacts, truthsIn } from "./answers.ts";
import { type Dates, datesOf } from "./dates.ts";
import { effortOnSet } from "./effort.ts";
import { isVessels, knownFacts } from "./known.ts";
import { planProtection } from "./protections.ts";
import { draftQuestions, planQuestion } from "./questions.ts";
import { photographKey, photographsWanted, planRequests, wantedKey } from "./requests.ts";
import type { Names } from "./say.ts";
import type { Plan } from "./schema.ts";
import type { Tellings } from "./tellings.ts";

/** Plans visits by one rulebook. Tables are prepared once for each set of parts that a policy lets stay open. */
export interface Planner {
  readonly rulebook: Rulebook;
  readonly digest: string;
  readonly known: Known;
  readonly plan: (read: ReadVisit) => Plan;
  /** The core's facts and engine for a visit; for what explains or compares. */
  readonly core: (read: ReadVisit) => { readonly engine: Engine; readonly facts: Facts };
}

export const knownOf = (rulebook: Rulebook): Known => ({
  facts: rulebook.facts,
  protections: rulebook.protections.map(({ kind, methods, applies, onWish }) => ({
    kind,
    methods: methods.map(({ id }) => id),
    applies,
    onWish: onWish === true,
  })),
});

const factsOf = (read: ReadVisit, known: Known, dates: Dates): Facts => {
  const { visit, sets, channels } = read;
  const named = channelsBy(visit.references, channels);
  const insisted = visit.deviations.flatMap(({ protection, method }) => {
    const channel = named.get(protection);
    return channel === undefined ? [] : [[channel, method] as const];
  });
  const shut = usBasisShutOut(visit);
  return {
    sets,
    answers: new Map([...read.answers, [TACHOMETER_ERROR, visit.policy.tachometerError]]),
    insisted: new Map(insisted),
    inTime: dates.inTime,
    leftOut: new Set(leftOutOf(known, visit.policy)),
    ...(shut === null ? {} : { shutOut: new Map([[RULE_BASIS, [shut.basis]]]) }),
  };
};

const openOf = (placed: readonly PlacedFact[], facts: Facts, leads: LeadOf): Plan["open"] =>
  placed
    .filter(({ spec, applies, answer }) => answer === undefined && applies !== NO && !spec.at.startsWith("/policy/"))
    .map(({ spec, at }) => {
      const { domain, unit, use } = spec;
      if (domain.kind === "number") return { at, from: domain.from, to: domain.to, ...(unit === undefined ? {} : { unit }), use };
      const impossible = impossibleAt(facts, leads, spec.at);
      return { at, answers: domain.values.filter((value) => !impossible.includes(value)), use };
    });

const visitPart = ({ visit, answers }: ReadVisit, dates: Dates): Plan["visit"] => ({
  ...(visit.visit.reference === undefined ? {} : { reference: visit.visit.reference }),
  vessel: visit.visit.vessel.name,
  ...(visit.visit.vessel.imo === undefined ? {} : { imo: visit.visit.vessel.imo }),
  place: visit.visit.place.name,
  window: visit.visit.window,
  preparedOn: visit.preparedOn,
  replyBy: dates.replyBy,
  ruleBasis: String(answers.get(RULE_BASIS) ?? "not known"),
});

interface Numbered {
  readonly references: readonly Reference[];
  readonly refOf: (channel: string) => string;
  readonly questionRef: (at: string) => string;
  readonly requestRef: (key: string) => string;
}

const numbered = (
  given: readonly Reference[],
  channels: readonly string[],
  questions: readonly string[],
  requests: readonly string[],
): Numbered => {
  const references = withReferences(withReferences(withReferences(given, "T", channels), "Q", questions), "R", requests);
  return {
    references,
    refOf: (channel) => referenceOf(references, "T", channel),
    questionRef: (at) => referenceOf(references, "Q", at),
    requestRef: (key) => referenceOf(references, "R", key),
  };
};

const namesFor = (placed: readonly PlacedFact[], questions: ReadonlySet<string>, refs: Numbered): Names => {
  const specs = new Map<string, FactSpec>(placed.map(({ at, spec }) => [at, spec]));
  return { specAt: (at) => specs.get(at), refAt: (at) => (questions.has(at) ? refs.questionRef(at) : undefined) };
};

interface Building {
  readonly engine: Engine;
  readonly digest: string;
  readonly known: Known;
  readonly tellings: Tellings | null;
}

const planWith = ({ engine, digest, known, tellings }: Building, read: ReadVisit): Plan => {
  const { rulebook } = engine;
  const { visit } = read;
  const dates = datesOf(visit);
  const facts = factsOf(read, known, dates);
  const decided = decideVisit(engine, facts);
  const placed = placedFacts(rulebook.facts, read);
  const drafts = draftQuestions(decided, placed);
  const refs = numbered(
    visit.references,
    read.channels,
    drafts.map(({ fact }) => fact.at),
    [...decided.wanted.map(wantedKey), ...[...photographsWanted(drafts).keys()].map(photographKey)],
  );
  const names = namesFor(placed, new Set(drafts.map(({ fact }) => fact.at)), refs);
  const ruleBasisId = typeof read.answers.get(RULE_BASIS) === "string" ? String(read.answers.get(RULE_BASIS)) : undefined;
  const ruleBasis = rulebook.ruleBases.find(({ id }) => id === ruleBasisId) ?? null;
  const channels = channelsBy(visit.references, read.channels);
  const reasons = new Map(visit.deviations.map(({ protection, reason }) => [channels.get(protection), reason]));
  const truths = truthsIn(rulebook.facts, read);
  const context = {
    engine,
    ruleBasis,
    rulebook,
    positions: new Map(rulebook.facts.map(({ at }, position) => [at, position])),
    names,
    refOf: refs.refOf,
    deviationReason: (channel: string) => reasons.get(channel),
    truthFor: ({ set }: DecidedProtection, when: Condition) => truths[set]?.(when) ?? OPEN,
    canHoldAnywhere: (when: Condition) => truths.some((truth) => truth(when) !== NO),
    figuresOf: tellings?.figuresOf ?? null,
    figureInput: ({ set, sisters, remaining, prepared }: DecidedProtection) => ({
      mayUse: (part: FigurePart) =>
        prepared.compiled.methods.some(
          ({ method }) => method.figures?.includes(part) === true && remaining.some(({ methods }) => methods.includes(method.id)),
        ),
      answer: (template: string) => read.answers.get(resolve(template, set, sisters)),
      answers: read.answers,
      set,
      visit,
      ruleBasis,
    }),
  };
  const setNames = visit.sets.map(({ name }) => name);
  const sets = visit.sets.map(({ name, role }, set) => ({
    name,
    role,
    protections: decided.protections
      .filter((protection) => protection.set === set)
      .map((protection) => planProtection(protection, context)),
    minutes: effortOnSet(decided, read, set).minutes,
    figures: tellings?.setFigures(decided, read, set) ?? [],
  }));
  const taken = knownFacts({ sets }, read, rulebook).flatMap(({ at }) => (isVessels(at) ? [at] : []));
  return {
    format: "forehail plan 1",
    rulebook: { version: rulebook.version, digest },
    visit: visitPart(read, dates),
    open: openOf(placed, facts, engine.leads),
    sets,
    ...(ruleBasis === null
      ? {}
      : { rules: { procedure: [...ruleBasis.procedure], limits: ruleBasis.limits, intervals: ruleBasis.intervals } }),
    figures: tellings?.visitFigures(decided, read) ?? [],
    leftOut: leftOutOf(known, visit.policy).map((kind) => ({
      kind,
      why: visit.policy.leaveOut.includes(kind) ? "left out by the office for this visit" : "proven only where the office wishes it",
    })),
    questions: drafts.map((draft) =>
      planQuestion(draft, {
        names,
        refOf: refs.refOf,
        questionRef: refs.questionRef,
        setName: (set) => setNames[set] ?? "",
        protections: decided.protections,
      }),
    ),
    requests: planRequests({
      rulebook,
      decided,
      dates,
      drafts,
      answers: read.answers,
      isOpen: (at) => !read.answers.has(at),
      ruleBasis: ruleBasisId,
      refOf: refs.refOf,
      questionRef: refs.questionRef,
      requestRef: refs.requestRef,
      setNames,
      groups: new Set(read.sets.map(({ sisters }) => sisters)).size,
    }),
    findings: tellings?.findingsOf({ read, ruleBasis }) ?? [],
    warnings:
      tellings?.warningsOf({
        read,
        rulebook,
        decided,
        placed,
        ruleBasis,
        refOf: refs.refOf,
        minutes: visit.sets.reduce((sum, _, set) => sum + effortOnSet(decided, read, set).minutes, 0),
      }) ?? [],
    references: withReferences(refs.references, "K", taken),
  };
};

/** For so many policies that tell other rules or other parts that may stay open, what was decided is remembered. */
const ENGINES = 16;

/**
 * A planner that tells besides what `tellings` work out: figures, findings, warnings, and with them verdicts, cautions and notes. Without them
 * it decides, asks and requests the same, and tells none of these: enough for a page that follows what is typed.
 */
export const plannerWith = (rulebook: Rulebook, tellings: Tellings | null): Planner => {
  const digest = digestOf(rulebook);
  const known = knownOf(rulebook);
  const engines = newRemembered<Engine>(ENGINES);
  const engineFor = ({ mayStayOpen, localRules }: Policy): Engine => {
    const key = `${[...mayStayOpen].sort().join()}${localRules === undefined ? "" : canonical(localRules)}`;
    return engines(key, () => newEngine(withLocalRules(rulebook, localRules), mayStayOpen));
  };
  return {
    rulebook,
    digest,
    known,
    plan: (read) => planWith({ engine: engineFor(read.visit.policy), digest, known, tellings }, read),
    core: (read) => ({ engine: engineFor(read.visit.policy), facts: factsOf(read, known, datesOf(read.visit)) }),
  };
};
