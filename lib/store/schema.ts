import type { Generated } from "kysely";

/** Tables as both databases hold them. Times are UTC instants in ISO 8601; what is nested is JSON text. */
export interface Tables {
  readonly visit: VisitRow;
  readonly answer: AnswerRow;
  readonly made: MadeRow;
  readonly audit: AuditRow;
  readonly user: UserRow;
  readonly session: SessionRow;
  readonly people_changes: PeopleChangesRow;
  readonly person: PersonRow;
  readonly absence: AbsenceRow;
  readonly invitation: InvitationRow;
  readonly failed_try: FailedTryRow;
  readonly typed: TypedRow;
  readonly sent: SentRow;
  readonly delivery: DeliveryRow;
  readonly reply_link: ReplyLinkRow;
  readonly reply: ReplyRow;
  readonly reply_entry: ReplyEntryRow;
  readonly attachment: AttachmentRow;
  readonly result: ResultRow;
  readonly policy_version: PolicyVersionRow;
  readonly policy_act: PolicyActRow;
  readonly kept_plan: KeptPlanRow;
  readonly signature: SignatureRow;
  readonly review_event: ReviewEventRow;
  readonly review_comment: ReviewCommentRow;
  readonly settled_finding: SettledFindingRow;
  readonly what_if: WhatIfRow;
  readonly what_if_plan: WhatIfPlanRow;
  readonly told_once: ToldOnceRow;
  readonly under_way: UnderWayRow;
  readonly pace: PaceRow;
}

/** A letter that went out. */
export interface SentRow {
  readonly id: string;
  readonly visit: string;
  readonly number: number;
  readonly made: string;
  readonly mark: string;
  readonly reply_by: string;
  /** JSON. */
  readonly recipients: string;
  /** JSON of what the letter asked, as its reader was asked it. */
  readonly asked: string;
  readonly who: string;
  readonly sent_at: string;
  readonly kind: string;
  /** References of the requests that it asked, with a space between. */
  readonly requests: string;
}

/** What became of the mail to one recipient of a letter, each time it was tried. */
export interface DeliveryRow {
  readonly sent: string;
  readonly address: string;
  readonly tried_at: string;
  readonly how: string;
  readonly detail: string;
}

/** A private link to a reply; of its code only the digest is kept. */
export interface ReplyLinkRow {
  readonly mark: string;
  readonly sent: string;
  readonly recipient: string;
  readonly made_at: string;
  readonly expires_at: string;
  readonly withdrawn_at: string | null;
}

/** The reply to a letter: how often it was filled in, as what it was confirmed, what became of it. */
export interface ReplyRow {
  readonly sent: string;
  readonly version: number;
  readonly confirmed_at: string | null;
  readonly confirmed_by: string | null;
  readonly reply: string | null;
  readonly taken_at: string | null;
  readonly taken_by: string | null;
  readonly outcome: string | null;
}

/** What was filled in at one reference once. Rows are only ever added. */
export interface ReplyEntryRow {
  readonly sent: string;
  readonly ref: string;
  readonly version: number;
  readonly value: string | null;
  readonly who: string;
  readonly saved_at: string;
  /** The key of the page that it was sent from; null where it told none. */
  readonly post: string | null;
}

/** What became of one test aboard, as it was entered once. Rows are only ever added. */
export interface ResultRow {
  readonly visit: string;
  /** Pointer of the protection, with the id of its set. */
  readonly at: string;
  /** Counts the entries of this protection. */
  readonly version: number;
  /** JSON; null where the record was taken back. */
  readonly value: string | null;
  readonly who: string;
  readonly saved_at: string;
}

/** A file that came with the reply to a letter. */
export interface AttachmentRow {
  readonly id: string;
  readonly sent: string;
  readonly what: string;
  readonly name: string;
  readonly type: string;
  readonly size: number;
  readonly digest: string;
  readonly content: Buffer;
  readonly who: string;
  readonly added_at: string;
}

/** An account as the library for accounts keeps it; only what is read here. The table is there once accounts were opened. */
export interface UserRow {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly role: string | null;
  /** Text in one database, a date in the other. */
  readonly createdAt: string | Date;
}

/** A sign-in as that library keeps it. */
export interface SessionRow {
  readonly id: string;
  readonly userId: string;
}

/** One row that counts every change of people, so that two of them never pass each other. */
export interface PeopleChangesRow {
  readonly id: number;
  readonly count: number;
}

/** What of a person changed since his account was made: how often, and whether it has ended. No row: nothing. */
export interface PersonRow {
  readonly id: string;
  readonly version: number;
  readonly ended_at: string | null;
  readonly ended_by: string | null;
}

/** Days on which somebody is away, and who stands in for him. */
export interface AbsenceRow {
  readonly id: string;
  readonly person: string;
  readonly from_day: string;
  readonly to_day: string;
  readonly stands_in: string;
  readonly told_by: string;
  readonly told_at: string;
  /** When it was ended early or taken back; null where it was not. */
  readonly over_at: string | null;
  readonly over_by: string | null;
}

/** A one-time link that makes an account; its code is kept nowhere. */
export interface InvitationRow {
  readonly mark: string;
  readonly role: string;
  readonly invited_by: string;
  /** Milliseconds since 1970, as text, so that both databases give it back alike. */
  readonly made_at: string;
  readonly used_at: string | null;
  /** Whose password it sets; null where it makes an account. */
  readonly for_person: string | null;
}

/** A failed try to sign in, at the door of an account or of a network address. */
export interface FailedTryRow {
  readonly id: string;
  readonly door: string;
  readonly tried_at: string;
}

/** What a person typed on a page that could not be kept as answers, or not yet. */
export interface TypedRow {
  readonly who: string;
  readonly page: string;
  readonly text: string;
  readonly kept_at: string;
}

/** One visit; what of its file is no answer stands in `frame`. */
export interface VisitRow {
  readonly id: string;
  /** Counts every change; a write tells which it saw. */
  readonly version: number;
  readonly owner: string;
  readonly vessel: string;
  readonly frame: string;
  /** The version at which the frame was last changed. */
  readonly frame_version: number;
  /** Ids of the sets in their order, as a JSON list. An id is never used again, so that an answer never comes to stand on another set. */
  readonly sets: string;
  readonly created_at: string;
  readonly changed_at: string;
  readonly changed_by: string;
  /** JSON of how far the exchange is; null before the first letter. */
  readonly standing: string | null;
  /** The next day by which somebody is waited for; null where nobody is. */
  readonly due_on: string | null;
  /** The first day of the visit as its frame tells it; null where it tells none. */
  readonly begins_on: string | null;
  /** Its last day. */
  readonly ends_on: string | null;
}

/** One answer as it was given once. Rows are only ever added; the latest of a pointer counts. */
export interface AnswerRow {
  readonly visit: string;
  /** Pointer with the id of the set in place of its number. */
  readonly at: string;
  readonly version: number;
  /** JSON; null where the answer was taken back. */
  readonly value: string | null;
  readonly who: string;
  readonly saved_at: string;
}

/** A letter that was downloaded, with what it was made from. */
export interface MadeRow {
  readonly id: string;
  readonly visit: string;
  readonly version: number;
  readonly who: string;
  readonly made_at: string;
  readonly rulebook: string;
  readonly file: string;
  readonly plan: string;
  readonly pdf: Buffer;
}

/** What was done, by whom; neither changed nor deleted by the program. */
export interface AuditRow {
  readonly id: Generated<number>;
  readonly done_at: string;
  readonly who: string;
  readonly act: string;
  readonly subject: string;
  readonly detail: string;
}

/** A policy of the office as it was written once. Rows are only ever added. */
export interface PolicyVersionRow {
  readonly number: number;
  /** JSON. */
  readonly policy: string;
  /** Why it was written. */
  readonly note: string;
  readonly who: string;
  readonly written_at: string;
}

/** What became of a policy, once. Rows are only ever added. */
export interface PolicyActRow {
  /** Counts what was decided of all policies, in its order. */
  readonly number: number;
  readonly version: number;
  readonly act: string;
  /** A plain date; null where it was dropped. */
  readonly takes_effect: string | null;
  readonly note: string;
  readonly who: string;
  readonly done_at: string;
}

/** The plan of a visit as it last stood when a letter was made of it or its review was asked for. */
export interface KeptPlanRow {
  readonly visit: string;
  /** Rises with every plan that is kept, so that a reader knows what is new to him. */
  readonly seq: number;
  readonly version: number;
  readonly why: string;
  /** Whose visit it was then. */
  readonly owner: string;
  readonly who: string;
  readonly kept_at: string;
  readonly rulebook: string;
  readonly rule_basis: string;
  readonly vessel: string;
  /** JSON: the visit file. */
  readonly file: string;
  /** JSON: ids of the sets as they stood in that file. */
  readonly sets: string;
  /** JSON. */
  readonly decisions: string;
}

/** The facts that a mark stands for. */
export interface SignatureRow {
  readonly mark: string;
  /** JSON. */
  readonly facts: string;
}

/** What was done about the review of a plan. Rows are only ever added. */
export interface ReviewEventRow {
  readonly visit: string;
  readonly number: number;
  readonly act: string;
  /** Of the visit, as it was looked at. */
  readonly version: number;
  readonly who: string;
  readonly done_at: string;
  readonly words: string;
  /** JSON: what of the plan was approved. */
  readonly marks: string;
}

/** What was said of a plan or of one of its tests. Rows are only ever added. */
export interface ReviewCommentRow {
  readonly id: string;
  readonly visit: string;
  /** Pointer of the protection with the id of its set; empty where it is of the whole plan. */
  readonly at: string;
  readonly who: string;
  readonly said_at: string;
  readonly words: string;
}

/** How a finding was settled. Rows are only ever added. */
export interface SettledFindingRow {
  readonly finding: string;
  readonly number: number;
  readonly how: string;
  readonly words: string;
  readonly who: string;
  readonly settled_at: string;
  /** What it was about, in words: it may no longer be found. */
  readonly about: string;
  /** JSON: the choices that it covers. */
  readonly covers: string;
}

/** Something that is tried on past plans. */
export interface WhatIfRow {
  readonly id: string;
  /** JSON. */
  readonly about: string;
  readonly who: string;
  readonly made_at: string;
  /** JSON: the visits whose plans it is tried on. */
  readonly plans: string;
}

/** What it would change of one plan. */
export interface WhatIfPlanRow {
  readonly what_if: string;
  readonly visit: string;
  /** JSON. */
  readonly outcome: string;
}

/** What is told to one person once: hidden by a key that is kept nowhere. Instants are milliseconds since 1970. */
export interface ToldOnceRow {
  readonly mark: string;
  readonly person: string;
  readonly hidden: string;
  readonly until: number;
}

/** What one copy of the program is doing, so that no other does it at once. */
export interface UnderWayRow {
  readonly act: string;
  readonly holder: string;
  readonly until: number;
  /** Hidden; null while it is being done. */
  readonly outcome: string | null;
}

/** How fast a door was used: the instant at which all uses so far are worked off. */
export interface PaceRow {
  readonly door: string;
  readonly due: number;
}
