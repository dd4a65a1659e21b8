import type { Result } from "../kernel/result.ts";
import type { ExchangeStore } from "./exchanges.ts";
import type { HistoryStore } from "./histories.ts";
import type { PeopleStore } from "./people.ts";
import type { PlanStore } from "./plans.ts";
import type { PolicyStore } from "./policies.ts";
import type { ReviewStore } from "./reviews.ts";
import type { RunningStore } from "./running.ts";

/** A JSON value as it is kept. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/** Who does something, and when by the office's clock: a UTC instant in ISO 8601. */
export interface Act {
  readonly who: string;
  readonly when: string;
}

/** An answer with the change that it came by. */
export interface StoredAnswer extends Act {
  /** Undefined where it was taken back. */
  readonly value?: Json;
  readonly version: number;
}

/** A visit as it is kept. Pointers into it name sets by their ids, in place of their numbers. */
export interface StoredVisit {
  readonly id: string;
  readonly version: number;
  readonly owner: string;
  readonly frame: Json;
  readonly frameVersion: number;
  /** Ids of the sets in their order. */
  readonly sets: readonly number[];
  readonly answers: ReadonlyMap<string, StoredAnswer>;
  readonly changedAt: string;
  readonly changedBy: string;
}

/** One line of a list of visits. */
export interface VisitLine {
  readonly id: string;
  readonly vessel: string;
  readonly owner: string;
  readonly version: number;
  readonly frame: Json;
  readonly changedAt: string;
  readonly changedBy: string;
  /** How far the exchange of letters is; left out before the first. */
  readonly standing?: Standing;
}

/** How far the exchange of letters of a visit is, as its list tells it. */
export interface Standing {
  readonly stage: "waiting for the reply" | "reply to take in" | "next letter to send" | "settled" | "not settled";
  /** The number of the last letter that went out. */
  readonly letter: number;
  /** The next day by which somebody is waited for, and for what; left out where nobody is. */
  readonly due?: { readonly day: string; readonly what: "reply" | "confirmation" };
}

/** One answer to be kept; without a value it is taken back. */
export interface Write {
  readonly at: string;
  readonly value?: Json;
  /** The version of the answer that the writer saw; 0 where there was none. */
  readonly seen: number;
}

/** A write that met an answer newer than the one its writer saw. Both values are told, neither is lost. */
export interface Conflict {
  readonly at: string;
  readonly yours: Json | undefined;
  readonly theirs: StoredAnswer;
}

export interface Saved {
  readonly version: number;
  /** What was not kept, because somebody else had answered meanwhile; all else was. */
  readonly conflicts: readonly Conflict[];
}

/** The frame of a visit as it shall be: what of its file is no answer, and the ids of its sets. */
export interface Frame {
  readonly vessel: string;
  readonly frame: Json;
  readonly sets: readonly number[];
}

/** A letter that was downloaded, with what it was made from. */
export interface Made extends Act {
  readonly id: string;
  readonly visit: string;
  readonly version: number;
  readonly rulebook: string;
  readonly file: string;
  readonly plan: string;
  readonly pdf: Uint8Array;
}

/** What a person typed on a page and what could not be kept as an answer: JSON of the page's own. */
export interface TypedPage {
  readonly text: string;
  readonly when: string;
}

/** What became of one test aboard, as it was entered once; without a value it was taken back. */
export interface StoredResult extends StoredAnswer {
  /** Pointer of the protection, with the id of its set. */
  readonly at: string;
}

export interface Audited extends Act {
  readonly act: string;
  readonly subject: string;
  readonly detail: string;
}

/** Which entries of the log are wanted. */
export interface AuditAsked {
  /** Who did it, or whom it is about. */
  readonly person?: string;
  readonly act?: string;
  readonly subject?: string;
  /** The number of an entry: only older ones. */
  readonly before?: number;
  readonly limit: number;
}

/** What the office keeps. Every write is whole or not at all; what it acknowledged is on the disk. */
export interface Store extends HistoryStore, PeopleStore, ExchangeStore, PlanStore, PolicyStore, ReviewStore, RunningStore {
  readonly createVisit: (id: string, owner: string, frame: Frame, answers: readonly Omit<Write, "seen">[], by: Act) => Promise<void>;
  /** Those of one owner, of several, or all; the last changed first, or by deadline. */
  readonly listVisits: (asked: {
    readonly owner?: string | readonly string[];
    /** What the vessel's name holds, in whatever case. */
    readonly named?: string;
    readonly limit: number;
    readonly offset?: number;
    /** A plain date; where it is given, the list goes by the next day due, the longest overdue before all, then by the day of the visit. */
    readonly today?: string;
  }) => Promise<readonly VisitLine[]>;
  readonly visit: (id: string) => Promise<StoredVisit | null>;
  /** Keeps how far the exchange of a visit is; no change of the visit. */
  readonly keepStanding: (id: string, standing: Standing) => Promise<void>;
  /** Keeps answers; those that somebody else answered meanwhile are told as conflicts. Fails where there is no such visit. */
  readonly saveAnswers: (id: string, writes: readonly Write[], by: Act) => Promise<Result<Saved>>;
  /** Keeps the frame, and answers that come with it. Fails where there is no such visit, or where the frame changed since the version seen. */
  readonly saveFrame: (
    id: string,
    frame: Frame,
    seen: number,
    by: Act,
    answers?: readonly Omit<Write, "seen">[],
  ) => Promise<Result<{ readonly version: number }>>;
  /** Everything that was ever answered at a pointer, the latest first. */
  readonly history: (id: string, at: string) => Promise<readonly StoredAnswer[]>;
  /** Keeps what a person typed on a page, in place of what he typed there before; null forgets it. */
  readonly keepTyped: (page: string, text: string | null, by: Act) => Promise<void>;
  readonly typed: (page: string, who: string) => Promise<TypedPage | null>;
  /** Everything that a person typed on pages of a visit: pages whose name begins with its id and a space. */
  readonly typedOf: (visit: string, who: string) => Promise<readonly (TypedPage & { readonly page: string })[]>;
  /**
   * Keeps what became of tests aboard, each beside every earlier entry of its protection; no change of the visit. What somebody else entered meanwhile
   * is told as a conflict. Fails where there is no such visit.
   */
  readonly keepResults: (visit: string, writes: readonly Write[], by: Act) => Promise<Result<readonly Conflict[]>>;
  /** Every entry of a visit, of each protection the latest first. */
  readonly resultsOf: (visit: string) => Promise<readonly StoredResult[]>;
  readonly keepMade: (made: Made) => Promise<void>;
  readonly madeOf: (visit: string) => Promise<readonly Omit<Made, "file" | "plan" | "pdf">[]>;
  readonly made: (id: string) => Promise<Made | null>;
  readonly audit: (entry: Audited) => Promise<void>;
  /** The latest entries first. */
  readonly audited: (limit: number) => Promise<readonly Audited[]>;
  /** The latest entries first, with their numbers: those by or about a person, of an act, about something, before a number. */
  readonly auditedWhere: (asked: AuditAsked) => Promise<readonly (Audited & { readonly id: number })[]>;
  /** What was ever done, each once, in alphabetical order. */
  readonly auditedActs: () => Promise<readonly string[]>;
  readonly close: () => Promise<void>;
}
