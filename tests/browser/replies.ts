import type { Reply } from "../../lib/model/reply.ts";
import type { Asked } from "../../lib/plan/asked.ts";
import type { SentLetter } from "../../lib/store/exchanges.ts";
import { askedThen } from "../../lib/usecases/exchange/askedStored.ts";
import { confirmReply } from "../../lib/usecases/exchange/reply.ts";
import type { SendingWorld } from "../../lib/usecases/exchange/send.ts";
import { sentNow } from "./sent.ts";
import type { Served } from "./server.ts";

/** Sends the letter of a visit as it stands, with what it asked. */
export const letterSent = async (
  served: Served,
  visit: string,
  render?: SendingWorld["render"],
): Promise<{ readonly letter: SentLetter; readonly asked: Asked }> => {
  const { letter } = await sentNow(served, visit, render);
  return { letter, asked: askedThen(letter.asked) };
};

/** The first question that is answered by a choice, and the first that is answered by a number. */
export const questionsIn = ({ questions }: Asked) => {
  const choice = questions.find(({ choices }) => choices.length > 0);
  const number = questions.find(({ choices }) => choices.length === 0);
  if (choice === undefined) throw new Error("nothing is asked");
  return { choice, number };
};

/** A reply with something of every kind: an answer, a refusal, another thing, a remark, a way that is fit and one in words only. */
export const mixedReply = ({ mark }: SentLetter, asked: Asked): Reply => {
  const { choice } = questionsIn(asked);
  const [yes, instead, ...more] = asked.requests;
  const [fit] = asked.tests.filter(({ others }) => others.length > 0);
  const [agreed, remark, words] = asked.tests.filter(({ ref }) => ref !== fit?.ref);
  return {
    format: "forehail reply 1",
    letter: mark,
    by: { name: "Łukasz Wrona", role: "Chief engineer" },
    questions: { [choice.ref]: { says: "answer", value: choice.choices[0]?.value ?? "" } },
    requests: {
      [yes?.ref ?? ""]: { says: "yes", words: "on board since May" },
      [instead?.ref ?? ""]: { says: "instead", words: "our own gauge, calibrated last year" },
      ...Object.fromEntries(more.slice(0, 1).map(({ ref }) => [ref, { says: "by another date" as const, by: "2099-01-01" }])),
    },
    tests: {
      [agreed?.ref ?? ""]: { says: "agreed" },
      [remark?.ref ?? ""]: { says: "agreed", words: "if the sea allows" },
      [words?.ref ?? ""]: { says: "another way", words: "as the yard did it" },
      ...(fit === undefined ? {} : { [fit.ref]: { says: "another way" as const, method: fit.others[0]?.value ?? "" } }),
    },
    remarks: "We sail on the 12th.",
  };
};

/** A letter with a reply that waits to be taken in. */
export const replyConfirmed = async (served: Served, visit: string, replyOf: typeof mixedReply = mixedReply): Promise<SentLetter> => {
  const { letter, asked } = await letterSent(served, visit);
  const by = { who: "Chief engineer", when: served.office.world.now() };
  const confirmed = await confirmReply(served.office.store, letter, replyOf(letter, asked), by);
  if (!confirmed.ok) throw new Error(JSON.stringify(confirmed.faults));
  return letter;
};
