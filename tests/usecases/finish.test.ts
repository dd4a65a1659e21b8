import { readdirSync } from "node:fs";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Mail } from "../../lib/outside/mail.ts";
import type { SentLetter } from "../../lib/store/exchanges.ts";
import { finishLeft, finishSending, neverHandedOver, sendingAct } from "../../lib/usecases/exchange/finish.ts";
import { openLink } from "../../lib/usecases/exchange/reply.ts";
import { sendLetter } from "../../lib/usecases/exchange/send.ts";
import { type SendingOffice, sendingOffice, TO } from "./sending.ts";

let it: SendingOffice;
beforeAll(async () => {
  it = await sendingOffice();
});
afterAll(() => it.office.store.close());

const FROM = "anna@office.example";
const by = { who: "anna", when: "2026-04-07T08:00:00.000Z" };

/** Sends a letter of a visit of its own, and is stopped when its first mail is handed over. */
const stoppedLetter = async (): Promise<SentLetter> => {
  const id = await it.loaded("old-mechanical");
  let mails = 0;
  const stopped: typeof it.office.post = {
    ...it.office.post,
    send: (mail) => {
      mails += 1;
      return mails > 1 ? Promise.reject(new Error("stopped")) : it.office.post.send(mail);
    },
  };
  const toSend = { kind: "letter", to: TO, units: "metric", from: FROM } as const;
  await expect(sendLetter({ ...it.office, post: stopped }, await it.storedOf(id), toSend, by)).rejects.toThrow("stopped");
  const [letter] = await it.office.store.sentOf(id);
  if (letter === undefined) throw new Error("no letter");
  return letter;
};

test("mails that the program was stopped at are handed over once, with links that open, when the letter is sent again", async () => {
  const { office, outbox, at } = it;
  const { store } = office;
  at(by.when);
  const letter = await stoppedLetter();
  // What is kept with the letter is kept whole: its links, and that a reply is waited for.
  expect((await store.linksOf(letter.id)).length).toBe(TO.length);
  expect((await store.listVisits({ limit: 9 })).find((line) => line.id === letter.visit)?.standing?.stage).toBe("waiting for the reply");
  const before = await store.deliveriesOf(letter.id);
  expect(neverHandedOver(letter, before, "2026-04-07T08:00:30.000Z")).toEqual([]);
  expect(neverHandedOver(letter, before, "2026-04-07T08:05:00.000Z").map(({ address }) => address)).toEqual(
    TO.slice(1).map(({ address }) => address),
  );
  const done = await finishSending(office, letter, FROM, by);
  expect(done?.deliveries.map(({ address, how }) => [address, how])).toEqual(TO.slice(1).map(({ address }) => [address, "outbox"]));
  expect(await openLink(store, done?.links[0]?.link.split("/").at(-1) ?? "", by.when)).not.toBeNull();
  expect(await finishSending(office, letter, FROM, by)).toBeNull();
  expect(readdirSync(outbox).length).toBe(TO.length);
});

test("what is left goes out by itself once nobody is at it, and the log tells it", async () => {
  const { office, outbox, at } = it;
  const people = async () => [{ id: "anna", name: "Anna", email: FROM }];
  const finishing = { ...office, accounts: { people } };
  at(by.when);
  const letter = await stoppedLetter();
  const mails = readdirSync(outbox).length;
  const tries = async (when: string): Promise<number> => {
    at(when);
    await finishLeft(finishing);
    return readdirSync(outbox).length - mails;
  };
  // Whoever sends may still be at it, by the clock or by what he says himself.
  expect(await tries("2026-04-07T08:00:19.000Z")).toBe(0);
  await office.store.beginAct(sendingAct(letter), "another copy", office.clock(), office.clock() + 15_000);
  expect(await tries("2026-04-07T08:00:30.000Z")).toBe(0);
  expect(await tries("2026-04-07T08:00:36.000Z")).toBe(1);
  expect(await tries("2026-04-07T08:00:46.000Z")).toBe(1);
  expect(JSON.stringify(await office.store.audited(9))).toContain(
    "mails that were left when the program was stopped, to Chief engineer Łukasz",
  );
  // Who never had an account here, or is long past, is not written for.
  at(by.when);
  await stoppedLetter();
  const after = readdirSync(outbox).length;
  at("2026-04-07T09:00:00.000Z");
  await finishLeft({ ...office, accounts: { people: async () => [] } });
  at("2026-04-15T09:00:00.000Z");
  await finishLeft(finishing);
  expect(readdirSync(outbox).length).toBe(after);
});

test("the mails of a letter that ends the exchange go out by themselves too, and say and hold the same as the first", async () => {
  const { office, at } = it;
  at(by.when);
  const id = await it.loaded("old-mechanical");
  await it.sent(id, by);
  const accounts = { people: async () => [{ id: "anna", name: "Anna", email: FROM }] };
  at("2026-04-07T09:10:00.000Z");
  await finishLeft({ ...office, accounts });
  const ends = { who: "anna", when: "2026-04-07T10:00:00.000Z" };
  at(ends.when);
  const mails: Mail[] = [];
  const post = (most: number): typeof office.post => ({
    ...office.post,
    send: (mail) => {
      if (mails.length >= most) return Promise.reject(new Error("stopped"));
      mails.push(mail);
      return office.post.send(mail);
    },
  });
  const toSend = { kind: "not settled", to: TO, units: "metric", from: { name: "Anna", address: FROM } } as const;
  await expect(sendLetter({ ...office, post: post(1) }, await it.storedOf(id), toSend, ends)).rejects.toThrow("stopped");
  at("2026-04-07T10:00:30.000Z");
  await finishLeft({ ...office, post: post(9), accounts });
  const [first, second] = mails.map((mail) =>
    JSON.parse(JSON.stringify(mail).replaceAll(/The superintendent|Chief engineer Łukasz/g, "N")),
  );
  expect(mails.map(({ to }) => to)).toEqual(TO.map((one) => [one]));
  expect(second).toEqual({ ...first, to: second.to, called: second.called, messageId: String(first.messageId).replace(".1@", ".2@") });
  expect(JSON.stringify(second)).not.toContain("/reply/");
  expect((await office.store.deliveriesOf((await office.store.sentOf(id)).at(-1)?.id ?? "")).map(({ how }) => how)).toEqual([
    "outbox",
    "outbox",
  ]);
});
