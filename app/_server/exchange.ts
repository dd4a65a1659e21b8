import type { FileLine } from "../../components/exchange/ReplyHead.tsx";
import type { SentLetter } from "../../lib/store/exchanges.ts";
import type { Office } from "../../lib/usecases/office.ts";
import { turnedAway, type WritingVisit } from "./gate.ts";
import { namesIn } from "./words.ts";

/** A letter that went out for a visit; null where it is another visit's, or none. */
export const sentOfVisit = async ({ store }: Office, visit: string, id: string): Promise<SentLetter | null> => {
  const sent = await store.sent(id);
  return sent?.visit === visit ? sent : null;
};

/** A write on the reply to one letter of a visit. */
export const onLetter =
  (act: (writing: WritingVisit, sent: SentLetter, page: string) => Promise<Response>) =>
  async (writing: WritingVisit): Promise<Response> => {
    const { office, params, stored, request } = writing;
    const sent = await sentOfVisit(office, stored.id, String(params["sent"] ?? ""));
    return sent === null
      ? turnedAway(request, 404, "there is no such letter")
      : act(writing, sent, `/visits/${stored.id}/exchange/${sent.id}`);
  };

/** What whoever did something with a reply is called: people of the office by their names, others as they were named then. */
export const whoIn = async (office: Office): Promise<(who: string) => string> => {
  const known = new Set((await office.accounts.people()).map(({ id }) => id));
  const nameOf = await namesIn(office);
  return (who) => (known.has(who) ? nameOf(who) : who);
};

/** The files that came with the reply to a letter, as a page names them. */
export const filesOf = async ({ store }: Office, { id, visit }: SentLetter): Promise<readonly FileLine[]> =>
  (await store.attachmentsOf(id)).map((file) => ({
    href: `/visits/${visit}/files/${file.id}`,
    what: file.what,
    name: file.name,
    size: file.size,
  }));
