import { describe, expect, test } from "vitest";
import { MEANWHILE } from "../../lib/store/changes.ts";
import { CONFIRMED, type ReplyLink, type Sending, type SentLetter } from "../../lib/store/exchanges.ts";
import type { Store } from "../../lib/store/store.ts";
import { by, engines, FRAME, opened } from "./engines.ts";

const letter = (number: number, more: Partial<SentLetter> = {}): SentLetter => ({
  id: `s${number}`,
  visit: "v1",
  kind: "letter",
  number,
  made: `m${number}`,
  mark: `v1-${number}-0f0f`,
  replyBy: "2026-03-09",
  to: [{ name: "The superintendent", address: "super@owner.example" }],
  asked: { questions: [], requests: [], tests: [] },
  ...by("anna", number),
  ...more,
});

const link = (mark: string, more: Partial<ReplyLink> = {}): ReplyLink => ({
  mark,
  sent: "s1",
  recipient: "The superintendent",
  madeAt: by("anna", 1).when,
  expiresAt: "2026-04-01T00:00:00.000Z",
  ...more,
});

const sending = (sent: SentLetter, links: readonly ReplyLink[], seen = 99): Sending => ({
  sent,
  links,
  made: {
    id: sent.made,
    visit: "v1",
    version: 1,
    rulebook: "2.3.0 x",
    file: "{}",
    plan: "{}",
    pdf: Uint8Array.of(1, 2, 3),
    who: sent.who,
    when: sent.when,
  },
  frame: { ...FRAME, frame: { letters: sent.number } },
  seen,
});

describe.each(engines())("%s", (_, address) => {
  const withLetter = async (): Promise<Store> => {
    const store = await opened(address());
    await store.createVisit("v1", "anna", FRAME, [], by("anna"));
    expect(await store.keepSent(sending(letter(1), [link("a"), link("b", { recipient: "The chief engineer" })]))).toEqual({
      ok: true,
      value: letter(1),
    });
    return store;
  };

  test("a letter is sent once, whoever presses how often, and keeps its links", async () => {
    const store = await withLetter();
    const again = await Promise.all([
      store.keepSent(sending(letter(1, { id: "s9", made: "m9" }), [link("z")])),
      store.keepSent(sending(letter(2), [link("c", { sent: "s2" })])),
    ]);
    expect(again).toEqual([
      { ok: false, faults: ["letter 1 was sent already"] },
      { ok: true, value: letter(2) },
    ]);
    expect(await store.sentOf("v1")).toEqual([letter(1), letter(2)]);
    expect(await store.sent("s9")).toBeNull();
    // Nothing of a letter that was not sent is kept.
    expect(await store.link("z")).toBeNull();
    expect(await store.made("m9")).toBeNull();
    expect((await store.visit("v1"))?.frame).toEqual({ letters: 2 });
    expect(await store.keepSent(sending(letter(3), [], 0))).toEqual({ ok: false, faults: [MEANWHILE] });
    expect((await store.visit("v1"))?.version).toBe(3);
    expect((await store.linksOf("s1")).map(({ mark }) => mark)).toEqual(["a", "b"]);
    await store.close();
  });

  test("every try to deliver a letter is kept", async () => {
    const store = await withLetter();
    const first = { sent: "s1", address: "super@owner.example", when: by("anna", 1).when, how: "failed", detail: "no answer" } as const;
    const second = { ...first, when: by("anna", 2).when, how: "outbox", detail: "outbox/x.eml" } as const;
    await store.keepDelivery(first);
    await store.keepDelivery(second);
    expect(await store.deliveriesOf("s1")).toEqual([first, second]);
    await store.close();
  });

  test("a link is withdrawn and renewed by itself", async () => {
    const store = await withLetter();
    await store.withdrawLink("a", by("anna", 5).when);
    await store.withdrawLink("a", by("anna", 6).when);
    await store.keepLink(link("d"));
    expect(await store.link("a")).toEqual(link("a", { withdrawnAt: by("anna", 5).when }));
    expect(await store.link("b")).toEqual(link("b", { recipient: "The chief engineer" }));
    expect(await store.link("d")).toEqual(link("d"));
    expect(await store.link("none")).toBeNull();
    await store.close();
  });

  test("what is filled in is kept with who and when; what two fill in otherwise is told and loses neither", async () => {
    const store = await withLetter();
    const save = (ref: string, value: string | undefined, seen: number, who: string, minute: number) =>
      store.saveEntries("s1", [{ ref, seen, ...(value === undefined ? {} : { value }) }], by(who, minute));
    expect(await save("Q1", "dry", 0, "chief", 2)).toEqual({ ok: true, value: [] });
    expect(await save("Q1", "wet", 0, "super", 3)).toEqual({
      ok: true,
      value: [{ ref: "Q1", value: "dry", version: 1, ...by("chief", 2) }],
    });
    // The same again is no conflict, and is not kept twice.
    expect(await save("Q1", "dry", 0, "super", 4)).toEqual({ ok: true, value: [] });
    expect(await save("Q1", undefined, 1, "chief", 5)).toEqual({ ok: true, value: [] });
    expect(await save("R1", "yes", 0, "super", 6)).toEqual({ ok: true, value: [] });
    expect(await store.entriesOf("s1")).toEqual([
      { ref: "Q1", version: 4, ...by("chief", 5) },
      { ref: "R1", value: "yes", version: 5, ...by("super", 6) },
    ]);
    expect(await store.entriesOf("s2")).toEqual([]);
    await store.close();
  });

  test("a reply is confirmed once, even by two at once, and nothing is filled in after", async () => {
    const store = await withLetter();
    const both = await Promise.all([
      store.confirmReply("s1", { n: 1 }, by("chief", 7)),
      store.confirmReply("s1", { n: 2 }, by("super", 7)),
    ]);
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
    const { confirmed, taken } = await store.replyOf("s1");
    expect(confirmed).toEqual(both[0]?.ok ? { ...by("chief", 7), reply: { n: 1 } } : { ...by("super", 7), reply: { n: 2 } });
    expect(taken).toBeUndefined();
    expect(await store.saveEntries("s1", [{ ref: "Q1", value: "dry", seen: 0 }], by("chief", 8))).toEqual({
      ok: false,
      faults: [CONFIRMED],
    });
    expect(await store.entriesOf("s1")).toEqual([]);
    await store.close();
  });

  test("what became of a reply is kept once, and not before the reply is confirmed", async () => {
    const store = await withLetter();
    expect((await store.keepTaken("s1", {}, by("anna", 8))).ok).toBe(false);
    await store.confirmReply("s1", {}, by("chief", 7));
    expect((await store.keepTaken("s1", { took: ["Q1"] }, by("anna", 9))).ok).toBe(true);
    expect((await store.keepTaken("s1", {}, by("anna", 10))).ok).toBe(false);
    expect((await store.replyOf("s1")).taken).toEqual({ ...by("anna", 9), outcome: { took: ["Q1"] } });
    expect(await store.replyOf("s2")).toEqual({});
    await store.close();
  });
});
