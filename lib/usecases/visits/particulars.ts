import { missingIn, type ParticularFault, particulars, textOf, withParticulars } from "../../flow/particulars.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { text } from "../../model/text.ts";
import { FORMAT } from "../../model/visit.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Act, Store, StoredVisit } from "../../store/store.ts";
import { type PolicyInForce, policyInForce } from "../policy/inForce.ts";
import { LETTERS, sistersAt } from "./sets.ts";
import { openVisit, storedFrame } from "./visitDraft.ts";
import { policyTakenOver } from "./visitPolicy.ts";

/** More than any ship has; a file may hold up to sixty. */
const MOST_SETS = 24;
const LONGEST_NAME = 60;

/** A page's fields as texts, by pointer. */
export type Texts = Readonly<Record<string, string>>;

/** Everything that a page of particulars shows of a frame. */
export const textsOf = (frame: object): Texts =>
  Object.fromEntries(particulars.flatMap(({ fields }) => fields.map((field) => [field.at, textOf(frame, field)] as const)));

/** The names of sets as they were written, one a line. Fails where there are none or too many, or one is too long. */
export const setNames = (written: string): Result<readonly string[], ParticularFault> => {
  const names = written
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== "");
  const fault = (says: string): Result<never, ParticularFault> => failure({ at: "/sets", says: `Generating sets: ${says}` });
  if (names.length === 0) return fault("given none; wanted at least one name, for example Generator 1");
  if (names.length > MOST_SETS) return fault(`given ${names.length}; wanted at most ${MOST_SETS}`);
  const twice = names.find((name, place) => names.findIndex((other) => other.toLowerCase() === name.toLowerCase()) !== place);
  if (twice !== undefined) return fault(`given “${twice}” twice; wanted a name of its own for each`);
  const unfit = names.map((name) => text(LONGEST_NAME).safeParse(name)).find((read) => !read.success);
  const long = names.find((name) => name.length > LONGEST_NAME);
  if (long === undefined && unfit?.success === false) return fault(unfit.error.issues[0]?.message ?? "wanted other names");
  return long === undefined ? success(names) : fault(`given “${long.slice(0, 40)}…”; wanted at most ${LONGEST_NAME} characters a name`);
};

interface Creating {
  /** The visit's id, given by the form that makes it, so that sending it twice makes one visit. */
  readonly id: string;
  readonly texts: Texts;
  readonly sets: string;
  /** Whether the sets are of one make and type, so that they share spares, tools and service engineer. */
  readonly alike: boolean;
}

/** The frame of a visit about which nothing is told yet but the office's policy. Nobody is a sister who was not said to be one. */
const newFrame = (names: readonly string[], alike: boolean, day: string, inForce: PolicyInForce): object => ({
  format: FORMAT,
  preparedOn: day,
  visit: {},
  ...(inForce.number === 0 ? {} : { policy: policyTakenOver(inForce, undefined) }),
  sets: names.map((name, place) => ({ name, sisters: alike ? LETTERS[0] : sistersAt(place) })),
});

/** Makes a visit of what is told of it. Every fault is told; nothing is kept where there is one. */
export const createVisit = async (
  { store, rulebook }: { readonly store: Store; readonly rulebook: Rulebook },
  { id, texts, sets, alike }: Creating,
  by: Act,
): Promise<Result<string, ParticularFault>> => {
  const names = setNames(sets);
  const day = by.when.slice(0, 10);
  const filled = withParticulars(
    newFrame(names.ok ? names.value : ["Generator 1"], alike, day, await policyInForce(store, day)),
    new Map(Object.entries(texts)),
    rulebook.facts,
  );
  const faults = [...(filled.ok ? [] : filled.faults), ...(names.ok ? [] : names.faults)];
  if (!filled.ok || faults.length > 0) return failure(...faults);
  const ids = names.ok ? names.value.map((_, place) => place + 1) : [];
  if ((await store.visit(id)) === null) await store.createVisit(id, by.who, storedFrame(filled.value, ids), [], by);
  return success(id);
};

/** What a person typed on a page of particulars, and what the page showed of the record. */
export interface TypedParticulars {
  readonly texts: Texts;
  readonly was: Texts;
}

const changedIn = ({ texts, was }: TypedParticulars): readonly (readonly [at: string, text: string])[] =>
  Object.entries(texts).filter(([at, text]) => text.trim() !== (was[at] ?? "").trim());

/** A page of particulars to be shown again: what was changed on it as typed, all else as the record has it now. */
export interface ShownParticulars {
  readonly texts: Texts;
  /** What the record holds in fields that somebody else changed meanwhile, and otherwise than it was typed here. */
  readonly theirs: Texts;
}

/** What was typed beside what the record holds now. Fields that nobody touched here follow the record. Pure. */
export const besideRecord = (now: Texts, typed: TypedParticulars): ShownParticulars => {
  const mine = changedIn(typed);
  return {
    texts: { ...now, ...Object.fromEntries(mine) },
    theirs: Object.fromEntries(
      mine.flatMap(([at, text]) => {
        const current = now[at] ?? "";
        return current !== (typed.was[at] ?? "").trim() && current !== text.trim() ? [[at, current] as const] : [];
      }),
    ),
  };
};

export type SavedParticulars = { readonly outcome: "saved" } | { readonly outcome: "meanwhile" };

/**
 * Keeps what was changed on a page of particulars: all of it or, where a field is at fault or somebody else gave another value meanwhile,
 * nothing. What somebody else changed in other fields stays.
 */
export const saveParticulars = async (
  { store, rulebook }: { readonly store: Store; readonly rulebook: Rulebook },
  stored: StoredVisit,
  typed: TypedParticulars,
  by: Act,
): Promise<Result<SavedParticulars, ParticularFault>> => {
  const { frame } = openVisit(stored).draft;
  const changed = withParticulars(frame, new Map(changedIn(typed)), rulebook.facts);
  if (!changed.ok) return changed;
  if (Object.keys(besideRecord(textsOf(frame), typed).theirs).length > 0) return success({ outcome: "meanwhile" });
  if (JSON.stringify(changed.value) === JSON.stringify(frame)) return success({ outcome: "saved" });
  const kept = await store.saveFrame(stored.id, storedFrame(changed.value, stored.sets), stored.frameVersion, by);
  return success({ outcome: kept.ok ? "saved" : "meanwhile" });
};

/** What a letter cannot be made without and is not told yet, in words. */
export const missingWords = (stored: StoredVisit): readonly string[] =>
  missingIn(stored.frame as object).map(({ label }) => label.toLowerCase());
