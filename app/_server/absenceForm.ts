import type { Member, PersonFault } from "../../lib/access/people.ts";
import { isDate } from "../../lib/figures/workingDays.ts";
import type { Result } from "../../lib/kernel/result.ts";
import { longDate } from "../../lib/letter/words.ts";
import { said, textIn, type WritingPerson } from "./gate.ts";

/** An absence as it was typed, to be shown again with what is wrong. */
export interface TypedAbsence {
  readonly from: string;
  readonly to: string;
  readonly standsIn: string;
}

const MOST = 60;

/** What was typed, as the address of the page tells it. */
export const typedAbsence = (typed: string | undefined): TypedAbsence => {
  const [from = "", to = "", standsIn = ""] = (typed ?? "").split("\n");
  return { from, to, standsIn };
};

const dayFault = (field: "from" | "to", label: string, given: string): PersonFault | null =>
  isDate(given) ? null : { field, says: `${label}: given ${given === "" ? "nothing" : `“${given}”`}; wanted a day such as 2026-12-03` };

const wordsOf = ({ from, to }: TypedAbsence): string => (from === to ? longDate(from) : `${longDate(from)} to ${longDate(to)}`);

type Changed = Result<true, PersonFault>;

const fail = (problem: PersonFault): Changed => ({ ok: false, faults: [problem] });

/** Tells or ends an absence of a person by what a form holds; the page to go on to, with what it shall say. */
export const absenceBy = async ({ form, office, by, log }: WritingPerson, member: Member, page: string): Promise<string> => {
  const about = { person: member.id, seen: Number(textIn(form, "seen")) };
  const over = textIn(form, "over");
  const [from = "", to = "", standsIn = ""] = ["from", "to", "standsIn"].map((name) => textIn(form, name).trim().slice(0, MOST));
  const typed = { from, to, standsIn };
  const day = dayFault("from", "First day", from) ?? dayFault("to", "Last day", to);
  const changed =
    over !== ""
      ? await office.accounts.endAbsence(about, over, by)
      : day !== null
        ? fail(day)
        : await office.accounts.tellAbsence(about, office.world.newId(), typed, by);
  if (!changed.ok) {
    const { field = "", says = "" } = changed.faults[0] ?? {};
    return `${page}?${said(office, { problem: says, field, ...(over === "" ? { typed: [from, to, standsIn].join("\n") } : {}) })}`;
  }
  if (over !== "") {
    await log("absence ended", member.id);
    return `${page}?${said(office, { done: "The absence is over. Nobody stands in any more." })}`;
  }
  const name = (await office.accounts.people()).find(({ id }) => id === standsIn)?.name ?? "";
  await log("absence told", member.id, `${wordsOf(typed)}, ${name} stands in`);
  return `${page}?${said(office, { done: `The absence is kept: ${wordsOf(typed)}. ${name} stands in.` })}`;
};
