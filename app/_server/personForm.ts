import type { Member } from "../../lib/access/people.ts";
import { said, see, textIn, turnedAway, type WritingPerson } from "./gate.ts";

/** A change of one person: what his page shall say then. */
export type PersonActed = Parameters<typeof said>[1];

/** A write about the person of its address, which goes back to his page where it does not answer itself. */
export const aboutPerson =
  (act: (writing: WritingPerson, member: Member) => Promise<PersonActed | Response>) =>
  async (writing: WritingPerson): Promise<Response> => {
    const id = String(writing.params["person"] ?? "");
    const member = (await writing.office.accounts.people()).find((one) => one.id === id);
    if (member === undefined) return turnedAway(writing.request, 404, "there is no such person");
    const acted = await act(writing, member);
    return acted instanceof Response ? acted : see(`/people/${id}?${said(writing.office, acted)}`);
  };

/** Which version of a person a form showed. */
export const seenIn = ({ form }: WritingPerson): number => Number(textIn(form, "seen") || "-1");
