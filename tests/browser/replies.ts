import { join } from "node:path";
import { success } from "../../lib/kernel/result.ts";
import type { Reply } from "../../lib/model/reply.ts";
import { postOffice } from "../../lib/outside/postOffice.ts";
import type { Asked } from "../../lib/plan/asked.ts";
import type { SentLetter } from "../../lib/store/exchanges.ts";
import { askedThen } from "../../lib/usecases/exchange/askedStored.ts";
import { confirmReply } from "../../lib/usecases/exchange/reply.ts";
import { type SendingWorld, sendLetter } from "../../lib/usecases/exchange/send.ts";
import type { Served } from "./server.ts";

const TO = [{ name: "The superintendent", address: "super@owner.example" }];

/** Sends the letter of a visit as it stands; its paper is a few bytes where none is rendered. */
export const letterSent = async (
  { office, people, folder }: Served,
  visit: string,
  render: SendingWorld["render"] = (letter) => Promise.resolve(success(Uint8Array.from(Buffer.from(letter.title)))),
): Promise<{ readonly letter: SentLetter; readonly asked: Asked }> => {
  const { store, world, planner, url } = office;
  const stored = await store.visit(visit);
  if (stored === null) throw new Error("no visit");
  const by = { who: people.mara, when: world.now() };
  const sending = { store, world, planner, url, render, post: postOffice({}, join(folder, "outbox")) };
  const sent = await sendLetter(sending, stored, { to: TO, units: "metric", from: "mara@office.example" }, by);
  if (!sent.ok) throw new Error(sent.faults.join("; "));
  return { letter: sent.value.letter, asked: askedThen(sent.value.letter.asked) };
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
