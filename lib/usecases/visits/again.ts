import { type Draft, type Given, placedIn } from "../../flow/draft.ts";
import { answerWords } from "../../flow/questions.ts";
import { pathOf } from "../../flow/steps.ts";
import type { World } from "../../kernel/ports.ts";
import { NO } from "../../logic/kleene.ts";
import { NOT_KNOWN } from "../../model/fact.ts";
import { valueAt } from "../../model/fault.ts";
import { lasts } from "../../model/lasting.ts";
import type { PastResult } from "../../model/result.ts";
import { FORMAT } from "../../model/visit.ts";
import { capital } from "../../plan/say.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Act, Json, Store, StoredVisit } from "../../store/store.ts";
import { type PolicyInForce, policyInForce } from "../policy/inForce.ts";
import { storedPointer } from "./places.ts";
import { lastTimeOf } from "./results.ts";
import { openVisit, storedFrame } from "./visitDraft.ts";
import { policyTakenOver } from "./visitPolicy.ts";

/** An answer of a former visit that may still hold. */
export interface Former {
  readonly at: string;
  readonly name: string;
  readonly answer: string;
  /** Under which heading it is asked. */
  readonly where: string;
}

const lastingIn = (draft: Draft, { facts }: Rulebook): readonly (Former & { readonly given: Given })[] =>
  placedIn(draft, facts).flatMap(({ spec, at, set, applies }) => {
    const given = draft.answers.get(at);
    if (given === undefined || given === NOT_KNOWN || applies === NO || !lasts(spec)) return [];
    const where =
      set === null
        ? pathOf(spec.at, set) === "plant"
          ? "Plant"
          : "The whole visit"
        : String(valueAt(draft.frame, `/sets/${set}/name`) ?? `Set ${set + 1}`);
    return [{ at, name: capital(spec.name), answer: answerWords({ spec }, given), where, given }];
  });

/** The answers about the machinery of a former visit, of which one is asked whether they still hold. */
export const formerAnswers = (stored: StoredVisit, rulebook: Rulebook): readonly Former[] => lastingIn(openVisit(stored).draft, rulebook);

const TAKEN_OVER = ["vessel", "people"] as const;

/**
 * What a new visit of the same vessel takes over beside answers: the vessel, who writes and to whom, its sets, and what was found of each protection
 * last; neither place, days nor letters. The office's policy is that of the day on which it is begun.
 */
const frameFrom = (frame: object, day: string, lastTime: readonly PastResult[], inForce: PolicyInForce): object => {
  const {
    policy: former,
    sets,
    visit,
  } = frame as {
    readonly policy?: unknown;
    readonly sets?: unknown;
    readonly visit?: Readonly<Record<string, unknown>>;
  };
  const policy = policyTakenOver(inForce, former);
  return {
    format: FORMAT,
    preparedOn: day,
    visit: Object.fromEntries(TAKEN_OVER.flatMap((key) => (visit?.[key] !== undefined ? [[key, visit[key]] as const] : []))),
    ...(policy === undefined ? {} : { policy }),
    sets,
    ...(lastTime.length === 0 ? {} : { lastTime }),
  };
};

/** Starts a visit of the same vessel from a former one, with those of its lasting answers that still hold. Its id. */
export const startAgain = async (
  { store, rulebook, world }: { readonly store: Store; readonly rulebook: Rulebook; readonly world: World },
  stored: StoredVisit,
  holds: ReadonlySet<string>,
  by: Act,
  id: string = world.newId(),
): Promise<string> => {
  const { draft } = openVisit(stored);
  const ids = stored.sets.map((_, place) => place + 1);
  const answers = lastingIn(draft, rulebook)
    .filter(({ at }) => holds.has(at))
    .map(({ at, given }) => ({ at: storedPointer(at, ids), value: given as Json }));
  const lastTime = lastTimeOf(draft, stored, await store.resultsOf(stored.id));
  const day = by.when.slice(0, 10);
  const frame = frameFrom(draft.frame, day, lastTime, await policyInForce(store, day));
  if ((await store.visit(id)) === null) await store.createVisit(id, by.who, storedFrame(frame, ids), answers, by);
  return id;
};
