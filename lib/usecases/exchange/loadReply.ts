import * as z from "zod";
import { digestOf } from "../../kernel/digest.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import type { Fault } from "../../model/fault.ts";
import { replySchema } from "../../model/reply.ts";
import type { LetterAsked } from "../../reply/fromForm.ts";
import { replyFromMail } from "../../reply/fromMail.ts";
import { replyFromPdf } from "../../reply/fromPdf.ts";
import { pageFieldsOf } from "../../reply/pageFields.ts";
import type { ReadForm } from "../../reply/readForm.ts";
import type { Reading } from "../../reply/values.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { SentLetter } from "../../store/exchanges.ts";
import type { Act, Store } from "../../store/store.ts";
import { vesselOf } from "../visits/visitDraft.ts";
import { askedThen } from "./askedStored.ts";
import { readingOf } from "./fillStep.ts";
import { markBegins } from "./letterMark.ts";
import { confirmReply, type Filled, fieldsByRef, fillIn, saysNothing } from "./reply.ts";

/** The ways in which a reply comes that is not filled in on the vessel's page, as the record tells them. */
export const CAME = { form: "from the filled form", mail: "from the vessel’s e-mail" } as const;

const fault = z.object({ at: z.string(), given: z.string(), wanted: z.string() });
const told = z.object({ line: z.number(), text: z.string(), why: z.union([z.string(), z.array(fault).readonly()]) });
const trySchema = z.object({
  way: z.enum(["form", "mail"]),
  /** The name of the file, for showing only; empty for a message. */
  file: z.string(),
  /** Left out where it could not be read. */
  reply: replySchema.optional(),
  faults: z.array(fault).readonly(),
  /** Lines of a message that were not taken, or not all of them. */
  told: z.array(told).readonly(),
  /** Whether what stands in a form was put onto the reply's pages, to be mended there. */
  onPages: z.boolean().optional(),
});
const readSchema = trySchema.extend({
  /** A later try that came to nothing: what was read before it still waits. */
  tried: trySchema.optional(),
});

/** What was read from a form or a message, to be looked at before it is confirmed. */
export type ReadReply = Readonly<z.infer<typeof readSchema>>;

const mailSchema = z.object({ text: z.string(), name: z.string(), role: z.string() });

/** A message as it was pasted, and who wrote it. */
export type PastedMail = Readonly<z.infer<typeof mailSchema>>;

interface Office {
  readonly store: Store;
  readonly rulebook: Rulebook;
}

type Which = Pick<SentLetter, "id" | "visit">;

const readPage = ({ id, visit }: Which): string => `${visit} reply-read ${id}`;
const mailPage = ({ id, visit }: Which): string => `${visit} reply-mail ${id}`;

/** What a person had read last of a reply to a letter; null where nothing is kept. */
export const readKept = async (store: Store, sent: SentLetter, who: string): Promise<ReadReply | null> => {
  const kept = await store.typed(readPage(sent), who);
  const read = readSchema.safeParse(JSON.parse(kept?.text ?? "null"));
  return read.success ? read.data : null;
};

/** Keeps what was read; a try that came to nothing beside what was read before it and waits, so that it is not lost. Null forgets both. */
const keepRead = async (store: Store, sent: SentLetter, read: ReadReply | null, by: Act): Promise<void> => {
  const before = read === null || read.reply !== undefined ? null : await readKept(store, sent, by.who);
  const kept = before?.reply === undefined || read === null ? read : { ...before, tried: read };
  await store.keepTyped(readPage(sent), kept === null ? null : JSON.stringify(kept), by);
};

/** A message as a person pasted it; null where there is none. */
export const mailKept = async (store: Store, sent: SentLetter, who: string): Promise<PastedMail | null> => {
  const kept = await store.typed(mailPage(sent), who);
  const read = mailSchema.safeParse(JSON.parse(kept?.text ?? "null"));
  return read.success ? read.data : null;
};

/** Keeps a message as a person pasted it. */
export const keepMail = (store: Store, sent: Which, mail: PastedMail, by: Act): Promise<void> =>
  store.keepTyped(mailPage(sent), JSON.stringify(mail), by);

/** Tells what was read from anything else: what is confirmed is what was shown. */
export const readMark = (read: ReadReply): string => digestOf(read);

/** Whose visits may be named to somebody: of some owners, or of all. */
export type Visible = { readonly owner?: string | readonly string[] };

/** So many visits are looked through for that of a strange form. */
const MOST_VISITS = 2_000;

/** Names the letter of another visit by its mark, where it is one of the visits that may be named. */
const elsewhereAmong = async (store: Store, visible: Visible): Promise<NonNullable<LetterAsked["elsewhere"]>> => {
  const visits = await store.listVisits({ ...visible, limit: MOST_VISITS });
  return (mark) => {
    const number = Number(/^[^-]+-(\d+)-/.exec(mark)?.[1] ?? 0);
    const visit = visits.find(({ id }) => mark.startsWith(markBegins(id, number)));
    const vessel = visit === undefined ? "" : vesselOf(visit.frame as object);
    return vessel === "" ? undefined : `letter ${number} to ${vessel}, which is another visit`;
  };
};

const askedBy = async (store: Store, { mark, asked, visit, number }: SentLetter): Promise<LetterAsked> => {
  const all = await store.sentOf(visit);
  const marks = (which: (other: number) => boolean): readonly string[] => all.filter((one) => which(one.number)).map((one) => one.mark);
  return { mark, asked: askedThen(asked), earlier: marks((other) => other < number), later: marks((other) => other > number) };
};

/** What is known when a reply is read. It may have been written some days ago, but not before its letter. */
const readingFor = ({ rulebook }: Office, { when }: SentLetter): Reading => readingOf(rulebook, when.slice(0, 10));

/** So many faults are kept to be shown; whoever altered a form has one for every field. */
const MOST_FAULTS = 60;

export interface FilledForm {
  readonly bytes: Uint8Array;
  /** The name of its file. */
  readonly file: string;
  /** Who answers where the form does not say; empty where that is not known. */
  readonly name: string;
  /** Among which visits the form of another one is named; left out, it is named nowhere. */
  readonly visible?: Visible;
}

/**
 * Puts what stands in a form that could not be read whole onto the reply's pages, where it is mended by whoever keys it in. What was filled in there already
 * stays as it is.
 */
const putOnPages = async (
  { store, readForm }: Office & { readonly readForm: ReadForm },
  sent: SentLetter,
  bytes: Uint8Array,
  by: Act,
): Promise<boolean> => {
  const form = await readForm(bytes);
  if (form.found !== "fields") return false;
  const asked = askedThen(sent.asked);
  const fields = pageFieldsOf(new Map(form.fields.map(({ name, value }) => [name, value])), asked);
  const there = new Set((await store.entriesOf(sent.id)).map(({ ref }) => ref));
  const filled = [...fieldsByRef(asked)].flatMap(([ref, names]): readonly Filled[] => {
    const own = names.flatMap((name) => ((fields.get(name) ?? "").trim() === "" ? [] : [[name, fields.get(name) ?? ""] as const]));
    return own.length === 0 || there.has(ref) ? [] : [{ ref, fields: Object.fromEntries(own), seen: 0 }];
  });
  return (await fillIn(store, sent, filled, { who: CAME.form, when: by.when })).ok;
};

/** Reads a filled form and keeps what was read, or everything that is wrong with it, to be looked at. Nothing of it is taken in. */
export const readFilledForm = async (
  office: Office & { readonly readForm: ReadForm },
  sent: SentLetter,
  { bytes, file, name, visible }: FilledForm,
  by: Act,
): Promise<ReadReply> => {
  const elsewhere = visible === undefined ? {} : { elsewhere: await elsewhereAmong(office.store, visible) };
  const letter = { ...(await askedBy(office.store, sent)), ...elsewhere };
  const who = name.trim() === "" ? {} : { by: { name: name.trim() } };
  const reply = await replyFromPdf(bytes, letter, office.readForm, { ...readingFor(office, sent), ...who });
  const read: ReadReply = {
    way: "form",
    file,
    told: [],
    ...(reply.ok ? { reply: reply.value, faults: [] } : { faults: reply.faults.slice(0, MOST_FAULTS) }),
  };
  // A fault at a reference is one of an answer, in a form that is this letter's.
  const mendable = !reply.ok && reply.faults.every(({ at, given }) => at !== "" && !given.startsWith("an altered form"));
  if (mendable && (await putOnPages(office, sent, bytes, by))) {
    const mended: ReadReply = { ...read, onPages: true };
    await keepRead(office.store, sent, mended, by);
    return mended;
  }
  await keepRead(office.store, sent, read, by);
  return read;
};

/** Reads a pasted message and keeps it as it was pasted, with what was understood of it and what was not. Nothing of it is taken in. */
export const readPastedMail = async (office: Office, sent: SentLetter, mail: PastedMail, by: Act): Promise<ReadReply> => {
  await keepMail(office.store, sent, mail, by);
  const letter = await askedBy(office.store, sent);
  const role = mail.role.trim();
  const who = { name: mail.name.trim(), ...(role === "" ? {} : { role }) };
  const result = replyFromMail(mail.text, letter, who, readingFor(office, sent));
  const nothing: Fault = { at: "", given: "a message in which nothing was understood", wanted: "lines such as “Q3: dry” or “R5: yes”" };
  const read: ReadReply = !result.ok
    ? { way: "mail", file: "", faults: result.faults, told: [] }
    : saysNothing(result.value.reply)
      ? { way: "mail", file: "", faults: [nothing], told: result.value.told }
      : { way: "mail", file: "", reply: result.value.reply, faults: [], told: result.value.told };
  await keepRead(office.store, sent, read, by);
  return read;
};

/** What of a reply that was read and not confirmed says otherwise than the one that was confirmed, in its order. Pure. */
export const saysOtherwise = (read: ReadonlyMap<string, string>, confirmed: ReadonlyMap<string, string>): readonly string[] =>
  [...read].flatMap(([ref, says]) => (says !== "" && confirmed.get(ref) !== says ? [ref] : []));

/** Forgets what was read; a message stays as it was pasted. */
export const putAside = (store: Store, sent: SentLetter, by: Act): Promise<void> => keepRead(store, sent, null, by);

/**
 * Confirms what was read as the vessel's reply, told by whom and how it came. Fails where it is not what was shown, where nothing could be read, or where
 * the reply was confirmed already.
 */
export const confirmRead = async (
  store: Store,
  sent: SentLetter,
  { name, shown }: { readonly name: string; readonly shown: string },
  by: Act,
): Promise<Result<ReadReply>> => {
  const read = await readKept(store, sent, by.who);
  if (read?.reply === undefined) return failure("There is nothing read that could be confirmed; read it again");
  if (readMark(read) !== shown) return failure("Something else was read meanwhile; look at what is shown now, then confirm it");
  const confirmed = await confirmReply(store, sent, read.reply, { who: `${name}, ${CAME[read.way]}`, when: by.when });
  if (!confirmed.ok) return failure("The reply to this letter was confirmed already");
  await keepRead(store, sent, null, by);
  await store.keepTyped(mailPage(sent), null, by);
  return success(read);
};
