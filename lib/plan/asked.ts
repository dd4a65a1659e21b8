import { type FactSpec, said } from "../model/fact.ts";
import { LOCAL_RULES } from "../model/facts/visit.ts";
import type { ReadVisit } from "../model/read.ts";
import { referenceOf } from "../model/references.ts";
import type { Protection, Rulebook } from "../rulebook/types.ts";
import { type Unit, type UnitSystem, unitsOffered } from "../units/units.ts";
import { isVessels, knownFacts, knownWords } from "./known.ts";
import { askedNowOf, kindOf, setIn } from "./places.ts";
import { namesIn, partWords } from "./readable.ts";
import { capital } from "./say.ts";
import type { Plan, PlanProtection, PlanRequest } from "./schema.ts";

/** A value that can be answered, with the words for it. */
export interface Choice {
  readonly value: string;
  readonly label: string;
}

/** A question as the vessel is asked it, on a page, in a form, by e-mail. */
export interface AskedQuestion {
  readonly ref: string;
  readonly at: string;
  /** The set it is about; empty where it is about the whole plant. */
  readonly set: string;
  readonly text: string;
  readonly why: string;
  readonly look?: string;
  /** Whether an answer decides how something is tested; else it fills in a detail. */
  readonly decides: boolean;
  /** Empty for a number. */
  readonly choices: readonly Choice[];
  /** Of a number that has one. */
  readonly unit?: Unit;
  readonly units: readonly Unit[];
}

/** A thing, person, paper or condition that the vessel is asked to arrange. */
export interface AskedRequest {
  readonly ref: string;
  readonly text: string;
  readonly kind: PlanRequest["kind"];
  readonly actor: PlanRequest["actor"];
  readonly confirmBy: string;
  readonly late: boolean;
  readonly neededFor: readonly string[];
  /** Only later ways would need it: it is asked whether it could be had, and nothing is ordered yet. Letters of before do not tell it. */
  readonly later?: true;
  /** It is reserved now all the same, since its lead time does not wait. */
  readonly hold?: true;
  /** Pointer of the fact that a confirmation answers; undefined where none does. */
  readonly at?: string;
  /** How it can be had: the ways to say "yes" where these differ; empty where "yes" is enough. */
  readonly had: readonly Choice[];
  /** The answer that a refusal gives to the fact. */
  readonly refused?: string;
  /** The questions that it answers, where it is a photograph. */
  readonly answers?: readonly string[];
  /** What is done instead where it cannot be had; left out where it is known to be had, or answers no fact. */
  readonly instead?: readonly Instead[];
}

/** Tests that another way is planned for where a request is refused. */
export interface Instead {
  readonly tests: readonly string[];
  /** Empty where no acceptable way is left. */
  readonly way: string;
}

/** A test as planned, for the vessel to agree or to propose another way. */
export interface AskedTest {
  readonly ref: string;
  readonly at: string;
  readonly kind: string;
  readonly set: string;
  readonly name: string;
  /** How it is planned; empty where no acceptable way is left. */
  readonly way: string;
  readonly settled: boolean;
  /** Methods that are fit as things stand and are not planned already. */
  readonly others: readonly Choice[];
  /** Whether a method that is not planned hangs on what is not known yet. */
  readonly hangs?: true;
}

/** A fact that the letter takes as known, for the vessel to say what it is in fact. */
export interface AskedKnown extends Pick<AskedQuestion, "ref" | "at" | "set" | "choices" | "unit" | "units"> {
  readonly name: string;
  /** What it was taken to be, in words and as the file has it. */
  readonly told: string;
  readonly value: string | number;
  /** Nobody gave it: the office takes it so. */
  readonly ours: boolean;
}

/** All that a letter asks of the vessel. */
export interface Asked {
  readonly questions: readonly AskedQuestion[];
  readonly requests: readonly AskedRequest[];
  readonly tests: readonly AskedTest[];
  /** Nothing of it is asked: it can be said to be otherwise. */
  readonly known: readonly AskedKnown[];
}

const setNameIn = (at: string, { sets }: Plan): string => {
  const set = setIn(at);
  return set === undefined ? "" : (sets[set]?.name ?? "");
};

const entryOf = (kind: string, rulebook: Rulebook): Protection | undefined => rulebook.protections.find((one) => one.kind === kind);

const methodName = (id: string, entry: Protection | undefined): string => entry?.methods.find((method) => method.id === id)?.name ?? id;

const wayOf = (methods: readonly string[], entry: Protection | undefined): string =>
  methods.map((id) => methodName(id, entry)).join(" and ");

const testOf = (protection: PlanProtection, set: string, rulebook: Rulebook): AskedTest => {
  const { ref, at, kind, decision, verdicts } = protection;
  const entry = entryOf(kind, rulebook);
  const notPlanned = verdicts.filter(({ method }) => !decision.methods.includes(method));
  return {
    ref,
    at,
    kind,
    set,
    name: entry?.name ?? kind,
    way: wayOf(decision.methods, entry),
    settled: decision.state === "settled",
    others: notPlanned
      .filter(({ verdict }) => verdict === "fit")
      .map(({ method }) => ({ value: method, label: methodName(method, entry) })),
    ...(notPlanned.some(({ verdict }) => verdict === "depends") ? { hangs: true as const } : {}),
  };
};

/** What can be answered to a fact, and in which units. */
const answerable = (spec: FactSpec): Pick<AskedQuestion, "choices" | "unit" | "units"> => {
  // Which words of its own the office goes by is not for the vessel to say.
  const values = spec.domain.kind === "choice" ? spec.domain.values.filter((value) => value !== LOCAL_RULES) : [];
  return {
    choices: values.map((value) => ({ value, label: capital(said(spec, value)) })),
    ...(spec.unit === undefined ? {} : { unit: spec.unit }),
    units: spec.unit === undefined ? [] : unitsOffered(spec.unit),
  };
};

/** What a letter takes as known, and in which units it tells it. */
export interface TakenAsKnown {
  readonly read: Pick<ReadVisit, "answers" | "given" | "sets">;
  readonly units: UnitSystem;
}

/** The sets that share a thing, by name, where there are several groups of sister sets; empty where it is everybody's. */
const sharersOf = (at: string, plan: Plan, { sets }: TakenAsKnown["read"]): string => {
  const letter = /^\/support\/sisters\/([A-Z])\//.exec(at)?.[1];
  if (letter === undefined || new Set(sets.map(({ sisters }) => sisters)).size < 2) return "";
  return plan.sets.flatMap(({ name }, place) => (sets[place]?.sisters === letter ? [name] : [])).join(", ");
};

/** What is taken as known and is the vessel's to say. What a request of the letter asks for is said there and not twice. */
const knownOf = (plan: Plan, rulebook: Rulebook, requests: readonly PlanRequest[], { read, units }: TakenAsKnown): readonly AskedKnown[] =>
  knownFacts(plan, read, rulebook).flatMap(({ at, spec, answer, ours }): readonly AskedKnown[] => {
    if (!isVessels(at) || requests.some((request) => request.at === at)) return [];
    const about = rulebook.protections.find(({ kind }) => kind === kindOf(at))?.name;
    return [
      {
        ref: referenceOf(plan.references, "K", at),
        at,
        set: setIn(at) === undefined ? sharersOf(at, plan, read) : setNameIn(at, plan),
        // What leans on the fact before it says little by itself.
        name: capital(about !== undefined && / that /.test(spec.name) ? `${about}: ${spec.name}` : spec.name),
        told: knownWords({ spec, answer }, units),
        value: answer,
        ours,
        ...answerable(spec),
      },
    ];
  });

/** What is done instead where a request is refused, tests of one way together. */
const insteadOf = ({ ifRefused }: PlanRequest, plan: Plan, rulebook: Rulebook): readonly Instead[] => {
  const kinds = new Map(plan.sets.flatMap(({ protections }) => protections.map(({ ref, kind }) => [ref, kind] as const)));
  const ways = new Map<string, string[]>();
  for (const { protection, to, unproven } of ifRefused) {
    const open = to.length === 0 || unproven.length === 0 ? "" : ` (stays open: ${partWords(unproven)})`;
    const way = `${wayOf(to, entryOf(kinds.get(protection) ?? "", rulebook))}${open}`;
    ways.set(way, [...(ways.get(way) ?? []), protection]);
  }
  return [...ways].map(([way, tests]) => ({ tests, way }));
};

/** The references of the requests that the vessel confirmed, as a visit file holds them. */
export const confirmedIn = ({ confirmed }: { readonly confirmed: readonly { readonly request: string }[] }): ReadonlySet<string> =>
  new Set(confirmed.map(({ request }) => request));

const NONE: ReadonlySet<string> = new Set();

/** Whether only later ways would need what is asked; a photograph answers questions whatever the ways are. Pure. */
export const isForLater = ({ kind, neededBy }: Pick<PlanRequest, "kind" | "neededBy">): boolean =>
  kind !== "photograph" && neededBy.length === 0;

/**
 * The requests that are still asked: all but the confirmed ones. Letter, form, reply page and calendar go by this alone, so that what was
 * confirmed is asked by none of them. Pure.
 */
export const stillAsked = ({ requests }: Pick<Plan, "requests">, confirmed: ReadonlySet<string>): readonly PlanRequest[] =>
  requests.filter(({ ref }) => !confirmed.has(ref));

/**
 * What a plan asks of the vessel, in the order of the plan, and what it takes as known where that is given. Tests that do not apply are not asked,
 * nor are requests that are confirmed already. Pure.
 */
export const askedOf = (plan: Plan, rulebook: Rulebook, confirmed: ReadonlySet<string> = NONE, taken?: TakenAsKnown): Asked => {
  const names = namesIn(plan, rulebook);
  const requests = stillAsked(plan, confirmed);
  const open = new Set(plan.open.map(({ at }) => at));
  return {
    questions: plan.questions.flatMap(({ ref, at, text, why, decides }): readonly AskedQuestion[] => {
      const spec = names.specAt(at);
      if (spec === undefined) return [];
      return [
        {
          ref,
          at,
          set: setNameIn(at, plan),
          text,
          why,
          ...(spec.look === undefined ? {} : { look: spec.look }),
          decides: decides.length > 0,
          ...answerable(spec),
        },
      ];
    }),
    requests: requests.map((request): AskedRequest => {
      const { ref, text, kind, actor, confirmBy, late, neededBy, laterFor, hold, at, refusedIs, ifRefused, answers } = request;
      const spec = at === undefined ? undefined : names.specAt(at);
      const had = spec?.domain.kind === "choice" ? spec.domain.values.filter((value) => value !== refusedIs) : [];
      return {
        ref,
        text,
        kind,
        actor,
        confirmBy,
        late: late === true,
        neededFor: neededBy.length > 0 ? neededBy : (laterFor ?? []),
        ...(isForLater(request) ? { later: true as const } : {}),
        ...(isForLater(request) && hold === true ? { hold: true as const } : {}),
        ...(at === undefined ? {} : { at }),
        had: spec === undefined ? [] : had.map((value) => ({ value, label: capital(said(spec, value)) })),
        ...(refusedIs === undefined ? {} : { refused: refusedIs }),
        ...(answers === undefined ? {} : { answers }),
        // What is known to be had has no price of a refusal to tell; nor has what only later ways would need.
        ...(at !== undefined && open.has(at) && neededBy.length + ifRefused.length > 0
          ? { instead: insteadOf(request, plan, rulebook) }
          : {}),
      };
    }),
    tests: plan.sets.flatMap(({ name, protections }) =>
      protections.filter(({ applies }) => applies !== "no").map((protection) => testOf(protection, name, rulebook)),
    ),
    known: taken === undefined ? [] : knownOf(plan, rulebook, requests, taken),
  };
};

/** What the letter itself asks of it: questions that wait for the next letter are left out, as they are there, and no photograph cites them. Pure. */
export const askedInLetter = (asked: Asked): Asked => {
  const questions = askedNowOf(asked.questions);
  const now = new Set(questions.map(({ ref }) => ref));
  return {
    ...asked,
    questions,
    requests: asked.requests.map(({ answers, ...request }) =>
      answers === undefined ? request : { ...request, answers: answers.filter((ref) => now.has(ref)) },
    ),
  };
};
