import { readdirSync } from "node:fs";
import { afterAll, beforeAll, expect, test } from "vitest";
import { finishSending, neverHandedOver } from "../../lib/usecases/exchange/finish.ts";
import { openLink } from "../../lib/usecases/exchange/reply.ts";
import { sendLetter } from "../../lib/usecases/exchange/send.ts";
import { type SendingOffice, sendingOffice, TO } from "./sending.ts";

let it: SendingOffice;
beforeAll(async () => {
  it = await sendingOffice();
});
afterAll(() => it.office.store.close());

const FROM = "anna@office.example";

test("mails that the program was stopped at are handed over once, with links that open, when the letter is sent again", async () => {
  const { office, outbox, at } = it;
  const { store } = office;
  const id = await it.loaded("old-mechanical");
  const by = at("2026-04-07T08:00:00.000Z");
  let mails = 0;
  const stopped: typeof office.post = {
    ...office.post,
    send: (mail) => {
      mails += 1;
      return mails > 1 ? Promise.reject(new Error("stopped")) : office.post.send(mail);
    },
  };
  const toSend = { kind: "letter", to: TO, units: "metric", from: FROM } as const;
  await expect(sendLetter({ ...office, post: stopped }, await it.storedOf(id), toSend, by)).rejects.toThrow("stopped");
  const [letter] = await store.sentOf(id);
  if (letter === undefined) throw new Error("no letter");
  // What is kept with the letter is kept whole: its links, and that a reply is waited for.
  expect((await store.linksOf(letter.id)).length).toBe(TO.length);
  expect((await store.listVisits({ limit: 9 })).find((line) => line.id === id)?.standing?.stage).toBe("waiting for the reply");
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
