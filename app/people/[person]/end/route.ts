import type { Member } from "../../../../lib/access/people.ts";
import { textIn, type WritingPerson, writeOfPerson } from "../../../_server/gate.ts";
import { aboutPerson, type PersonActed, seenIn } from "../../../_server/personForm.ts";

const openAgain = async (writing: WritingPerson, { id, name }: Member): Promise<PersonActed> => {
  const opened = await writing.office.accounts.openAgain({ person: id, seen: seenIn(writing) }, writing.by);
  if (!opened.ok) return { problem: opened.faults[0]?.says ?? "", field: "" };
  await writing.log("account opened again", id);
  return { done: `The account of ${name} is open again.` };
};

export const POST = writeOfPerson(
  "POST /people/[person]/end",
  aboutPerson(async (writing, member) => {
    const { form, office, by, log } = writing;
    if (textIn(form, "act") === "open") return openAgain(writing, member);
    const { id, name } = member;
    const to = textIn(form, "takes-over");
    const ended = await office.accounts.endAccount({ person: id, seen: seenIn(writing) }, to === "" ? null : to, by);
    if (!ended.ok) {
      const { says = "", field = "" } = ended.faults[0] ?? {};
      await log("refused", id, `ending the account: ${says}`);
      return { problem: says, field };
    }
    const people = await office.accounts.people();
    const nameOf = (one: string): string => people.find((other) => other.id === one)?.name ?? "somebody";
    const { visits, stoodInFor } = ended.value;
    for (const visit of visits) await log("handed over", visit, `from ${name} to ${nameOf(to)}`);
    if (visits.length > 0) await log("visits taken over", to, `${visits.length} from ${name}`);
    for (const one of stoodInFor) await log("absence ended", one, `${name}, who was to stand in, has no account any more`);
    await log("account ended", id, visits.length === 0 ? "" : `${visits.length} open visits to ${nameOf(to)}`);
    return {
      done: [
        `The account of ${name} has ended, and so has every sign-in.`,
        ...(visits.length === 0 ? [] : [`Handed over to ${nameOf(to)}: ${visits.length === 1 ? "one visit" : `${visits.length} visits`}.`]),
        ...stoodInFor.map((one) => `${name} was to stand in for ${nameOf(one)}, who needs another: tell that absence anew.`),
      ].join(" "),
    };
  }),
);
