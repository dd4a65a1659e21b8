import { failure, type Result, success } from "../../kernel/result.ts";
import type { Erased } from "../../store/privacy/erase.ts";
import type { FoundPerson } from "../../store/privacy/privacy.ts";
import { insteadOf } from "../../store/privacy/sought.ts";
import type { Act } from "../../store/store.ts";
import type { Office } from "../office.ts";
import { policyInForce } from "../policy/inForce.ts";
import { noticeOf } from "./notice.ts";

/** What a supervisor asks for on the page of a person. */
export interface ErasureAsked {
  /** An e-mail address, or the exact name where there is no address. */
  readonly who: string;
  /** The same, typed once more. */
  readonly again: string;
  /** Who takes over the open visits of an account that has not ended; empty for nobody. */
  readonly takesOver: string;
  /** Ticks of texts from which the name goes too, and ids of files that go. */
  readonly texts: readonly string[];
  readonly files: readonly string[];
}

/** What is wrong, with the field of the form; an empty one where it is of none. */
export interface ErasureFault {
  readonly field: string;
  readonly says: string;
}

export interface Erasure extends Erased {
  /** What the person is called from now on. */
  readonly called: string;
  /** Mails deleted from the outbox; null where the outbox could not be written to. */
  readonly mails: number | null;
  /** What became of the visits of an account that was ended with this, and of whom he was to stand in for. */
  readonly ended: { readonly visits: readonly string[]; readonly stoodInFor: readonly string[] } | null;
}

type World = Pick<Office, "privacy" | "accounts" | "post" | "world" | "store"> & { readonly letters: Pick<Office["letters"], "render"> };

const fault = (says: string, field = ""): Result<never, ErasureFault> => failure({ field, says });

const same = (one: string, other: string): boolean => one.trim().toLowerCase() === other.trim().toLowerCase();

const MARK = 8;

const newMark = ({ world }: Pick<World, "world">): string => world.newId().replaceAll("-", "").slice(0, MARK);

/** Ends the account of a person if it has not; the faults are those of ending it. */
const endIfOpen = async (
  { accounts }: World,
  { sought }: FoundPerson,
  takesOver: string,
  by: Act,
): Promise<Result<Erasure["ended"], ErasureFault>> => {
  const member = (await accounts.people()).find(({ id, ended }) => sought.accounts.includes(id) && ended === undefined);
  if (member === undefined) return success(null);
  return accounts.endAccount({ person: member.id, seen: member.version }, takesOver === "" ? null : takesOver, by);
};

/** The PDF that takes the place of letters; made beforehand, since no write waits for a layout. */
const noticeFor = async ({ store, letters, world }: World, { letters: named }: FoundPerson): Promise<Result<Uint8Array, ErasureFault>> => {
  if (named.length === 0) return success(new Uint8Array());
  const day = world.now().slice(0, 10);
  const { plan } = (await policyInForce(store, day)).policy;
  const { name, address, contact } = plan.office;
  const made = await letters.render(noticeOf({ name, address, contact: contact ?? "" }, plan.paper, day));
  return made.ok
    ? made
    : fault(`The page that takes the place of letters could not be made: ${made.faults.join("; ")}; nothing was erased`);
};

const forgetMails = async ({ post }: World, emails: readonly string[]): Promise<number | null> => {
  let count = 0;
  for (const email of emails) {
    const done = await post.forget(email);
    if (!done.ok) return null;
    count += done.value;
  }
  return count;
};

/**
 * Takes a person out of everything that the office keeps: an account ends, name and address are replaced, letters that name him give way to a page that
 * says so. Fails, with nothing erased, where what was typed once more differs, where the account cannot be ended, where nobody stands by it any more.
 */
export const erasePerson = async (office: World, asked: ErasureAsked, by: Act): Promise<Result<Erasure, ErasureFault>> => {
  if (asked.again.trim() === "") return fault(`Once more: given nothing; wanted ${asked.who}`, "again");
  if (!same(asked.again, asked.who)) return fault(`Once more: given “${asked.again.trim()}”; wanted ${asked.who}`, "again");
  const search = await office.privacy.find(asked.who);
  if (search === null) return fault("Nobody stands by this anywhere. Perhaps somebody else erased the person meanwhile");
  if ("several" in search) return fault("Several people bear this name: look for the e-mail address of one");
  const notice = await noticeFor(office, search.one);
  if (!notice.ok) return notice;
  const ended = await endIfOpen(office, search.one, asked.takesOver, by);
  if (!ended.ok) return ended;
  const instead = insteadOf(newMark(office));
  const erasing = { texts: new Set(asked.texts), files: new Set(asked.files), notice: notice.value, instead };
  const erased = await office.privacy.erase(asked.who, erasing, by);
  if (!erased.ok) return fault(`Not erased: ${erased.faults.join("; ")}`);
  const mails = await forgetMails(office, search.one.sought.emails);
  return success({ ...erased.value, called: instead.name, mails, ended: ended.value });
};

/** Why mails still lie in the outbox, in words. */
export const mailsWords = (mails: number | null): string =>
  mails === null
    ? "Mails to this address may still lie in the outbox, which could not be written to."
    : `Mails deleted from the outbox: ${mails}.`;
