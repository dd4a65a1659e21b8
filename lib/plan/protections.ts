import type { Engine } from "../decide/engine.ts";
import { wouldOpen } from "../decide/openers.ts";
import type { Remaining } from "../decide/protection.ts";
import { type DecidedProtection, pointed } from "../decide/visit.ts";
import type { Condition } from "../logic/condition.ts";
import { NO, type Truth, YES } from "../logic/kleene.ts";
import { conjunction, disjunction, possibleIn, residual } from "../logic/residual.ts";
import { resolve } from "../model/fact.ts";
import type { Method, Protection, RuleBasis, Rulebook } from "../rulebook/types.ts";
import type { FigureInput } from "./figures/index.ts";
import { listAnd, type Names, nameOf } from "./say.ts";
import type { PlanProtection } from "./schema.ts";
import type { Tellings } from "./tellings.ts";

const OUTCOMES = { combination: "combination", "does not apply": "does not apply", "nothing left": "nothing acceptable" } as const;

/** Where none of the values that make it hold is taken: only what `applies` conditions are made of. */
const opposite = (condition: Condition, valuesAt: (at: string) => readonly string[]): Condition => {
  if (condition === true) return { any: [] };
  if ("all" in condition) return { any: condition.all.map((part) => opposite(part, valuesAt)) };
  if ("any" in condition) return conjunction(condition.any.map((part) => opposite(part, valuesAt)));
  if ("is" in condition) return { at: condition.at, is: valuesAt(condition.at).filter((value) => !condition.is.includes(value)) };
  return condition;
};

/** When one of the remaining is the decision, provided that none before it is; in pointers of the visit file. */
const whenOf = (decided: DecidedProtection, { outcome, options }: Remaining): Condition => {
  const { prepared, knowledge } = decided;
  const { frame, applies } = prepared.compiled;
  if (outcome === "nothing left") return true;
  if (outcome === "does not apply") {
    const valuesAt = (at: string): readonly string[] => {
      const index = frame.indexOf.get(at) ?? -1;
      const domain = frame.variables[index]?.domain;
      return domain?.kind === "choice" ? domain.values.filter((_, position) => ((knowledge.masks[index] ?? 0) >> position) & 1) : [];
    };
    return pointed(opposite(residual(frame, applies, knowledge), valuesAt), decided);
  }
  const conditions = options.map(({ conjuncts }) =>
    conjunction(
      conjuncts.map((place) => {
        const literal = prepared.literals[place];
        return literal === undefined ? true : residual(frame, literal, knowledge);
      }),
    ),
  );
  return pointed(disjunction(conditions, possibleIn(frame, knowledge)), decided);
};

const verdictsFor = (decided: DecidedProtection, names: Names): PlanProtection["verdicts"] => {
  const { prepared, set, sisters } = decided;
  return prepared.compiled.methods.map(({ method: { id: method, technique, basis } }, place) => {
    const verdict = decided.verdicts[place];
    if (verdict?.verdict === "barred") {
      const { bar, otherwise, basis: barredBy } = verdict.clause;
      return { method, technique, verdict: "barred" as const, bar, reason: otherwise, basis: barredBy };
    }
    if (verdict?.verdict === "depends") {
      const open = verdict.open.map((index) => resolve(prepared.compiled.frame.variables[index]?.at ?? "", set, sisters));
      const reason = `hangs on ${listAnd(open.map((at) => nameOf(at, names)))}`;
      return { method, technique, verdict: "depends" as const, open, reason, basis };
    }
    return { method, technique, verdict: "fit" as const, reason: "everything it needs is known to hold", basis };
  });
};

const deviationOf = ({ insistence }: DecidedProtection, reason: string | undefined): Pick<PlanProtection, "deviation"> =>
  insistence === null
    ? {}
    : {
        deviation: { method: insistence.method, refused: insistence.refused, reason: insistence.refused ? insistence.why : (reason ?? "") },
      };

const notesOf = ({ notes = [] }: Protection, truth: (when: Condition) => Truth): PlanProtection["notes"] =>
  notes.filter(({ when }) => truth(when) === YES).map(({ text, basis }) => ({ text, basis }));

export interface ProtectionContext {
  readonly ruleBasis: RuleBasis | null;
  /** The truth of a condition of the rulebook for the set of a protection. */
  readonly truthFor: (decided: DecidedProtection, when: Condition) => Truth;
  /** Whether a condition can hold on one set or another. */
  readonly canHoldAnywhere: (when: Condition) => boolean;
  readonly engine: Engine;
  readonly rulebook: Rulebook;
  /** Where each fact stands in the rulebook. */
  readonly positions: ReadonlyMap<string, number>;
  readonly names: Names;
  readonly refOf: (channel: string) => string;
  /** Works figures out; null where nothing is told beside the decisions. */
  readonly figuresOf: Tellings["figuresOf"] | null;
  readonly figureInput: (decided: DecidedProtection) => FigureInput;
  readonly deviationReason: (channel: string) => string | undefined;
}

/** The cautions of the chosen methods that are not out of place on this set. */
const cautionsOf = (
  chosen: readonly Method[],
  decided: DecidedProtection,
  { rulebook, truthFor, canHoldAnywhere }: ProtectionContext,
): readonly string[] => {
  const ids = new Set(chosen.flatMap((method) => method.cautions));
  return rulebook.cautions
    .filter(
      ({ id, when, onAnySet }) =>
        ids.has(id) && (when === undefined || (onAnySet === true ? canHoldAnywhere(when) : truthFor(decided, when) !== NO)),
    )
    .map(({ id }) => id);
};

/** Answers to one question that open the same methods are told together. */
const joined = (
  openers: ReturnType<typeof wouldOpen>,
): readonly { readonly fact: number; readonly values: string[]; readonly methods: readonly string[] }[] => {
  const together = new Map<string, { readonly fact: number; readonly values: string[]; readonly methods: readonly string[] }>();
  for (const { fact, value, to } of openers) {
    const key = `${fact}|${to.methods.join()}`;
    const entry = together.get(key) ?? { fact, values: [], methods: to.methods };
    entry.values.push(value);
    together.set(key, entry);
  }
  return [...together.values()];
};

/** What is decided of a protection, as the plan has it. */
type DecisionPart = Pick<PlanProtection, "applies" | "decision" | "options">;

const decisionPartOf = (
  decided: DecidedProtection,
  { engine, positions }: Pick<ProtectionContext, "engine" | "positions">,
): DecisionPart => {
  const { prepared, set, sisters, remaining, knowledge } = decided;
  const { frame, applies } = prepared.compiled;
  const [first] = remaining;
  const place = (template: string): number => positions.get(template) ?? 0;
  const named = decided.because.map((index) => frame.variables[index]?.at ?? "").sort((a, b) => place(a) - place(b));
  const at = (template: string): string => resolve(template, set, sisters);
  const openers = wouldOpen(engine, decided);
  return {
    applies:
      decided.applies === YES ? "yes" : decided.applies === NO ? "no" : { if: pointed(residual(frame, applies, knowledge), decided) },
    decision: {
      state: remaining.length === 1 ? "settled" : "proposed",
      outcome: OUTCOMES[first?.outcome ?? "nothing left"],
      methods: first?.methods ?? [],
      proves: first?.proves ?? { sensing: "open", wiring: "open", logic: "open", final: "open" },
      unproven: first?.unproven ?? [],
      because: named.map(at),
      ...(openers.length === 0
        ? {}
        : {
            wouldOpen: joined(openers).map(({ fact, values, methods }) => ({
              at: at(frame.variables[fact]?.at ?? ""),
              is: values,
              methods,
            })),
          }),
    },
    options: remaining.map((option) => ({ methods: option.methods, unproven: option.unproven, when: whenOf(decided, option) })),
  };
};

/** What was decided is remembered by the engine, and what the plan says of it with it, for each set it was decided for. */
const saidBefore = new WeakMap<DecidedProtection["core"], Map<string, DecisionPart>>();

const decisionPart = (decided: DecidedProtection, context: ProtectionContext): DecisionPart => {
  const { core, set, sisters } = decided;
  const sets = saidBefore.get(core) ?? new Map<string, DecisionPart>();
  saidBefore.set(core, sets);
  const key = `${set}|${sisters}`;
  const known = sets.get(key);
  if (known !== undefined) return known;
  const part = decisionPartOf(decided, context);
  sets.set(key, part);
  return part;
};

/** What is told of a protection beside its decision. */
type ToldPart = Pick<PlanProtection, "verdicts" | "figures" | "cautions" | "askedFor" | "notes">;

const UNTOLD: ToldPart = { verdicts: [], figures: [], cautions: [], askedFor: [], notes: [] };

const toldPart = (decided: DecidedProtection, context: ProtectionContext, figuresOf: Tellings["figuresOf"]): ToldPart => {
  const { kind, applies, prepared, remaining } = decided;
  const { protection } = prepared.compiled;
  const chosen = protection.methods.filter((method) => remaining[0]?.methods.includes(method.id));
  const none = applies === NO;
  return {
    verdicts: verdictsFor(decided, context.names),
    figures: none
      ? []
      : figuresOf(kind, context.figureInput(decided), (part) => chosen.some(({ figures }) => figures?.includes(part) === true)),
    cautions: cautionsOf(chosen, decided, context),
    askedFor: none
      ? []
      : (context.ruleBasis?.shows ?? []).flatMap(({ protection: of, text, basis }) => (of === kind ? [{ text, basis }] : [])),
    notes: none ? [] : notesOf(protection, (when) => context.truthFor(decided, when)),
  };
};

/** One protection of the plan. Beside its decision nothing is told where nothing is to be told. */
export const planProtection = (decided: DecidedProtection, context: ProtectionContext): PlanProtection => {
  const told = context.figuresOf === null ? UNTOLD : toldPart(decided, context, context.figuresOf);
  const { applies, decision, options } = decisionPart(decided, context);
  return {
    ref: context.refOf(decided.at),
    at: decided.at,
    kind: decided.kind,
    applies,
    decision,
    options,
    verdicts: told.verdicts,
    ...deviationOf(decided, context.deviationReason(decided.at)),
    figures: told.figures,
    cautions: told.cautions,
    askedFor: told.askedFor,
    notes: told.notes,
  };
};
