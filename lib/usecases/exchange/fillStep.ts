import { OWN, questionFields, requestFields, testFields } from "../../letter/formFields.ts";
import { NOT_KNOWN } from "../../model/fact.ts";
import type { Fault } from "../../model/fault.ts";
import { specsBy } from "../../model/places.ts";
import type { Asked } from "../../plan/asked.ts";
import { replyFromFields } from "../../reply/fromForm.ts";
import { askedAt, type ReplyStep } from "../../reply/steps.ts";
import { toldFilled } from "../../reply/told.ts";
import type { Reading } from "../../reply/values.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Entry } from "../../store/exchanges.ts";
import { type Filled, fieldsByRef, fieldsOf, REMARKS, WHO } from "./reply.ts";

/** References under which a page of the reply keeps what is filled in on it. */
export const refsOn = ({ kind, refs }: ReplyStep): readonly string[] => (kind === "start" ? [WHO] : kind === "check" ? [REMARKS] : refs);

/** What a rulebook says of a fact at a place, for reading an answer to it. */
export const readingOf = ({ facts }: Rulebook, today: string): Reading => ({ specAt: specsBy(facts), today });

/** The versions of what a page showed, as it carries them: "Q1=3 Q2=0". */
export const seenText = (refs: readonly string[], entries: readonly Entry[]): string => {
  const versions = new Map(entries.map(({ ref, version }) => [ref, version]));
  return refs.map((ref) => `${ref}=${versions.get(ref) ?? 0}`).join(" ");
};

const seenIn = (text: string): ReadonlyMap<string, number> =>
  new Map(
    text.split(" ").flatMap((part): readonly (readonly [string, number])[] => {
      const [, ref, version] = /^([A-Za-z]+\d*)=(\d{1,9})$/.exec(part) ?? [];
      return ref === undefined ? [] : [[ref, Number(version)]];
    }),
  );

/** A page of the reply as it was posted. */
export interface PostedStep {
  /** What a field of the page holds; null where the page has none of that name. */
  readonly field: (name: string) => string | null;
  /** The versions that it showed, as `seenText` wrote them. */
  readonly seen: string;
  /** The key of the page. */
  readonly post: string;
}

/** Names of fields that say "if …" of an answer other than the one that is given: what stands in them is of no consequence. */
const idleIn = (asked: Asked, ref: string, field: PostedStep["field"]): readonly string[] => {
  const [question, request] = [questionFields(ref), requestFields(ref)];
  const chosen = asked.questions.some((one) => one.ref === ref && one.choices.length > 0) ? (field(question.answer) ?? "") : "";
  const says = field(request.says) ?? "";
  return [
    ...(chosen === "" || chosen === NOT_KNOWN ? [] : [question.by]),
    ...(says === "" || says === "by another date" ? [] : [request.by]),
    ...(says === "" || says === "yes" ? [] : [request.had]),
  ];
};

/**
 * What a posted page fills in, by reference; places that it does not hold are left as they are. Which places it holds is told by itself as well: a page
 * that was open while the program was renewed may have been divided otherwise. Pure.
 */
export const filledIn = (asked: Asked, step: ReplyStep, { field, seen, post }: PostedStep): readonly Filled[] => {
  const names = fieldsByRef(asked);
  const versions = seenIn(seen);
  return [...new Set([...refsOn(step), ...versions.keys()])].flatMap((ref): readonly Filled[] => {
    const idle = idleIn(asked, ref, field);
    const own = (names.get(ref) ?? []).flatMap((name) => {
      const text = field(name);
      return text === null ? [] : [[name, idle.includes(name) ? "" : text] as const];
    });
    return own.length === 0 ? [] : [{ ref, fields: Object.fromEntries(own), seen: versions.get(ref) ?? 0, post }];
  });
};

/** The same with every test of the page agreed to of which nothing else was said; one without a way is passed over. Pure. */
export const allAgreed = (asked: Asked, filled: readonly Filled[]): readonly Filled[] => {
  const tests = new Set(asked.tests.flatMap(({ ref, way }) => (way === "" ? [] : [ref])));
  return filled.map((one) =>
    tests.has(one.ref) && Object.values(one.fields).every((text) => text.trim() === "")
      ? { ...one, fields: { ...one.fields, [testFields(one.ref).says]: "agreed" } }
      : one,
  );
};

const NAMELESS = { name: "-" };

/** What is wrong with what is filled in at some places, by reference. Pure. */
export const faultsAt = (asked: Asked, refs: readonly string[], entries: readonly Entry[], reading: Reading): readonly Fault[] => {
  const fields = new Map([...fieldsOf(entries)].filter(([name]) => name !== OWN.remarks || refs.includes(REMARKS)));
  const read = replyFromFields(fields, { mark: "-", asked: askedAt(asked, refs) }, reading, NAMELESS);
  return read.ok ? [] : read.faults;
};

/** Something at a reference, in words. */
export interface SaidAt {
  readonly ref: string;
  readonly says: string;
}

/** So many faults are told whole beside what was saved; of more only where they are. */
const TOLD_WHOLE = 2;

/**
 * What a page says of itself once the script saved it: when, what was kept though it cannot be read, and what was not kept because somebody else had
 * filled it in otherwise. Pure.
 */
export const savedWords = (when: string, wrong: readonly SaidAt[], others: readonly SaidAt[]): string =>
  [
    `Saved at ${when.slice(11, 16)} UTC.`,
    ...(wrong.length === 0
      ? []
      : [
          `Kept as typed, but not understood yet: ${wrong.map(({ ref, says }) => (wrong.length > TOLD_WHOLE ? ref : `${ref} (${says})`)).join(", ")}.`,
        ]),
    ...(others.length === 0
      ? []
      : [
          `Not kept, since somebody else filled it in otherwise meanwhile: ${others.map(({ ref }) => ref).join(", ")}. Go on, and it is told.`,
        ]),
  ].join(" ");

/**
 * What somebody else filled in meanwhile, in the words of the page. A link is often shared: whose link it was is known, not who filled it in.
 * Pure.
 */
export const otherWords = (asked: Asked, entry: Entry): string => {
  const [told] = toldFilled(askedAt(asked, [entry.ref]), fieldsOf([entry]));
  const own = told?.says ?? [...fieldsOf([entry]).values()].filter((text) => text !== "").join(", ");
  const what = own === "" ? "has emptied this meanwhile" : `has filled this in otherwise meanwhile: “${own}”`;
  return `Somebody else ${what} (through the link of ${entry.who}). Yours is shown and not saved: saving again keeps yours`;
};
