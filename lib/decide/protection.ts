import { leavesBelow } from "../logic/diagram.ts";
import type { Knowledge } from "../logic/frame.ts";
import { markRead, NO, type Truth, truthOf } from "../logic/kleene.ts";
import type { Part, Proves } from "../rulebook/types.ts";
import type { Engine } from "./engine.ts";
import { type Influence, influencesOf } from "./influence.ts";
import { doesNotApply, type Prepared } from "./prepared.ts";
import { type Live, restrict } from "./restrict.ts";
import { commonTo, type Option } from "./table.ts";
import { traceOf } from "./trace.ts";
import { type Verdict, verdictsOf } from "./verdict.ts";

/** What can still be chosen at one rank: neighbouring options with the same methods count as one. */
export interface Remaining {
  readonly outcome: "combination" | "does not apply" | "nothing left";
  readonly methods: readonly string[];
  readonly proves: Proves;
  readonly unproven: readonly Part[];
  /** What it needs however its other needs are met. */
  readonly needs: readonly string[];
  /** The options merged here, with their places among the prepared ones. */
  readonly options: readonly Option[];
}

export interface Insistence {
  readonly method: string;
  readonly refused: boolean;
  /** Why it was refused, in words; empty where it was not. */
  readonly why: string;
}

/** Everything the core says of one protection of one set. Indices are those of the protection's frame. */
export interface Decided {
  readonly kind: string;
  readonly prepared: Prepared;
  readonly knowledge: Knowledge;
  readonly live: Live;
  readonly applies: Truth;
  readonly remaining: readonly Remaining[];
  readonly verdicts: readonly Verdict[];
  readonly because: readonly number[];
  readonly influences: readonly Influence[];
  readonly insistence: Insistence | null;
}

const NOTHING: Proves = { sensing: "open", wiring: "open", logic: "open", final: "open" };
const ALL_PARTS: readonly Part[] = ["sensing", "wiring", "logic", "final"];

const special = (outcome: Remaining["outcome"], unproven: readonly Part[]): Remaining => ({
  outcome,
  methods: [],
  proves: NOTHING,
  unproven,
  needs: [],
  options: [],
});
const NOT_APPLICABLE = special("does not apply", []);
const NOTHING_LEFT = special("nothing left", ALL_PARTS);

const labelOf = (prepared: Prepared, place: number): string => prepared.options[place]?.methods.join("+") ?? `#${place}`;

/** What stands at one place of the table. */
export const remainingAt = (prepared: Prepared, place: number): Remaining => {
  const option = prepared.options[place];
  if (option === undefined) return place === doesNotApply(prepared) ? NOT_APPLICABLE : NOTHING_LEFT;
  const { methods, proves, unproven, needs } = option;
  return { outcome: "combination", methods, proves, unproven, needs, options: [option] };
};

const remembered = (label: (place: number) => string): ((place: number) => string) => {
  const known = new Map<number, string>();
  return (place) => {
    const found = known.get(place) ?? label(place);
    known.set(place, found);
    return found;
  };
};

interface Ranked {
  readonly remaining: readonly Remaining[];
  /** From an option's place to its rank among the remaining. */
  readonly rankOf: ReadonlyMap<number, number>;
}

const rankedOf = (prepared: Prepared, reached: ReadonlySet<number>): Ranked => {
  const remaining: Remaining[] = [];
  const rankOf = new Map<number, number>();
  let before = "";
  for (const place of [...reached].sort((a, b) => a - b)) {
    const option = prepared.options[place];
    const label = labelOf(prepared, place);
    const last = remaining[remaining.length - 1];
    if (option !== undefined && label === before && last !== undefined) {
      remaining[remaining.length - 1] = { ...last, needs: commonTo(last.needs, option.needs), options: [...last.options, option] };
    } else remaining.push(remainingAt(prepared, place));
    before = label;
    rankOf.set(place, remaining.length - 1);
  }
  return { remaining, rankOf };
};

/** The first option that is possible, and all others that are, without the analysis of what hangs on what. */
const outcomeOf = (prepared: Prepared, knowledge: Knowledge) => {
  const live = restrict(prepared, knowledge);
  return { live, ranked: rankedOf(prepared, leavesBelow(live.diagram, live.root)) };
};

interface Insisted {
  readonly prepared: Prepared;
  readonly insistence: Insistence | null;
}

/** The table to decide by: the whole one, or the one with the inspector's method in every option, if that is allowed. */
const tableFor = (
  engine: Engine,
  whole: Prepared,
  knowledge: Knowledge,
  verdicts: readonly Verdict[],
  method: string | undefined,
): Insisted => {
  if (method === undefined) return { prepared: whole, insistence: null };
  const refuse = (why: string): Insisted => ({ prepared: whole, insistence: { method, refused: true, why } });
  const kind = whole.compiled.protection.kind;
  const position = whole.compiled.methods.findIndex((candidate) => candidate.method.id === method);
  const verdict = verdicts[position];
  if (verdict === undefined) return refuse("the rulebook has no such method for this protection");
  if (truthOf(whole.compiled.applies, knowledge) === NO) return refuse("the protection does not apply");
  if (verdict.verdict === "barred") return refuse(verdict.clause.otherwise);
  if (verdict.verdict === "depends") return refuse("it still depends on facts that are not known");
  const insisted = engine.prepared(kind, method);
  const possible = insisted === undefined ? [] : outcomeOf(insisted, knowledge).ranked.remaining;
  if (insisted === undefined || possible[0]?.outcome !== "combination") {
    return refuse("what it leaves unproven may not stay open under the office's policy");
  }
  return { prepared: insisted, insistence: { method, refused: false, why: "" } };
};

/** What is decided for one protection, without saying why: enough to price a refusal. */
export const chosenFor = (engine: Engine, kind: string, knowledge: Knowledge, method: string | undefined): Remaining => {
  const whole = engine.prepared(kind);
  if (whole === undefined) return NOTHING_LEFT;
  const verdicts = method === undefined ? [] : verdictsOf(whole.compiled, knowledge);
  const { prepared } = tableFor(engine, whole, knowledge, verdicts, method);
  return outcomeOf(prepared, knowledge).ranked.remaining[0] ?? NOTHING_LEFT;
};

/** Decides one protection: options left, verdicts, the facts it names, and what every open fact can still change. */
export const decideProtection = (engine: Engine, kind: string, knowledge: Knowledge, method: string | undefined): Decided | undefined => {
  const whole = engine.prepared(kind);
  if (whole === undefined) return undefined;
  const verdicts = verdictsOf(whole.compiled, knowledge);
  const { prepared, insistence } = tableFor(engine, whole, knowledge, verdicts, method);
  const { live, ranked } = outcomeOf(prepared, knowledge);
  const first = Math.min(...ranked.rankOf.keys());
  const influences =
    ranked.remaining.length < 2
      ? []
      : influencesOf(
          live,
          (place) => ranked.rankOf.get(place) ?? 0,
          remembered((place) => labelOf(prepared, place)),
        );
  const insistedOn = insistence !== null && !insistence.refused ? insistedFacts(whole, method, knowledge) : [];
  return {
    kind,
    prepared,
    knowledge,
    live,
    applies: truthOf(whole.compiled.applies, knowledge),
    remaining: ranked.remaining,
    verdicts,
    because: [...new Set([...insistedOn, ...traceOf(prepared, knowledge, first)])].sort((a, b) => a - b),
    influences,
    insistence,
  };
};

/** A deviation also rests on the facts that make its method fit. */
const insistedFacts = (prepared: Prepared, method: string | undefined, knowledge: Knowledge): readonly number[] => {
  const compiled = prepared.compiled.methods.find((candidate) => candidate.method.id === method);
  const seen = new Uint8Array(knowledge.masks.length);
  for (const { bound } of compiled?.clauses ?? []) markRead(bound, knowledge, seen);
  return [...seen].flatMap((mark, index) => (mark === 1 ? [index] : []));
};
