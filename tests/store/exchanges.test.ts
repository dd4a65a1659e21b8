import { sql } from "kysely";
import { describe, expect, test } from "vitest";
import { CONFIRMED, MEANWHILE } from "../../lib/store/changes.ts";
import { openDatabase } from "../../lib/store/database.ts";
import type { Attachment, ReplyLink, Sending, SentLetter, TakingReply } from "../../lib/store/exchanges.ts";
import type { Standing, Store } from "../../lib/store/store.ts";
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

const attachment = (id: string, more: Partial<Attachment> = {}): Attachment => ({
  id,
  sent: "s1",
  what: "certificate",
  name: "Zażółć.pdf",
  type: "application/pdf",
  size: 3,
  digest: `digest of ${id}`,
  ...by("chief", 2),
  ...more,
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

  const taking = (seen: number, more: Partial<TakingReply> = {}): TakingReply => ({
    visit: "v1",
    sent: "s1",
    seen,
    frame: { ...FRAME, frame: { confirmed: ["R1"] } },
    answers: [{ at: "/sets/1/a", value: "dry" }],
    outcome: { took: ["Q1"] },
    ...more,
  });

  test("a reply is taken into its visit once, whole or not at all, and not before it is confirmed", async () => {
    const store = await withLetter();
    const before = await store.visit("v1");
    const seen = before?.version ?? 0;
    expect((await store.takeReply(taking(seen), by("anna", 8))).ok).toBe(false);
    await store.confirmReply("s1", {}, by("chief", 7));
    expect(await store.takeReply(taking(seen - 1), by("anna", 8))).toEqual({ ok: false, faults: [MEANWHILE] });
    expect(await store.visit("v1")).toEqual(before);
    expect((await store.replyOf("s1")).taken).toBeUndefined();
    expect(await store.takeReply(taking(seen), by("anna", 9))).toEqual({ ok: true, value: { version: seen + 1 } });
    expect((await store.takeReply(taking(seen + 1), by("anna", 10))).ok).toBe(false);
    expect((await store.replyOf("s1")).taken).toEqual({ ...by("anna", 9), outcome: { took: ["Q1"] } });
    const after = await store.visit("v1");
    expect(after).toMatchObject({ version: seen + 1, frame: { confirmed: ["R1"] } });
    expect(after?.answers.get("/sets/1/a")?.value).toBe("dry");
    expect(await store.replyOf("s2")).toEqual({});
    await store.close();
  });

  test("two who take a reply in at once take it in once", async () => {
    const store = await withLetter();
    await store.confirmReply("s1", {}, by("chief", 7));
    const seen = (await store.visit("v1"))?.version ?? 0;
    const both = await Promise.all([store.takeReply(taking(seen), by("anna", 8)), store.takeReply(taking(seen), by("boris", 8))]);
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
    expect((await store.visit("v1"))?.version).toBe(seen + 1);
    await store.close();
  });

  test("that a reply was taken in is taken back as long as nothing else was changed", async () => {
    const store = await withLetter();
    const before = await store.visit("v1");
    const seen = before?.version ?? 0;
    const { outcome: _, ...back } = taking(seen + 1, { frame: { ...FRAME, frame: before?.frame ?? null }, answers: [{ at: "/sets/1/a" }] });
    await store.confirmReply("s1", {}, by("chief", 7));
    expect((await store.takeBackReply({ ...back, seen }, by("anna", 8))).ok).toBe(false);
    await store.takeReply(taking(seen), by("anna", 9));
    expect(await store.takeBackReply({ ...back, seen }, by("anna", 10))).toEqual({ ok: false, faults: [MEANWHILE] });
    expect((await store.replyOf("s1")).taken).toBeDefined();
    expect(await store.takeBackReply(back, by("anna", 11))).toEqual({ ok: true, value: { version: seen + 2 } });
    const again = await store.visit("v1");
    expect(again?.frame).toEqual(before?.frame);
    expect(again?.answers.get("/sets/1/a")?.value).toBeUndefined();
    expect((await store.replyOf("s1")).taken).toBeUndefined();
    expect((await store.takeReply(taking(seen + 2), by("anna", 12))).ok).toBe(true);
    await store.close();
  });

  test("what came from the same page before is its writer's own and overwritten; what came from another is told", async () => {
    const store = await withLetter();
    const save = (value: string, seen: number, minute: number, post?: string) =>
      store.saveEntries("s1", [{ ref: "Q1", value, seen, ...(post === undefined ? {} : { post }) }], by("chief", minute));
    expect(await save("dry", 0, 2, "page one")).toEqual({ ok: true, value: [] });
    // The page did not hear that it was kept, and sends again, with a change.
    expect(await save("wet", 0, 3, "page one")).toEqual({ ok: true, value: [] });
    const now = { ref: "Q1", value: "wet", version: 2, post: "page one", ...by("chief", 3) };
    expect(await save("none", 0, 4, "page two")).toEqual({ ok: true, value: [now] });
    expect(await save("none", 0, 5)).toEqual({ ok: true, value: [now] });
    expect(await store.entriesOf("s1")).toEqual([now]);
    // Who saw it may change it from any page; it is then that page's, and the first one's no more.
    expect(await save("none", 2, 6, "page two")).toEqual({ ok: true, value: [] });
    expect(await save("dry", 2, 7, "page one")).toMatchObject({ ok: true, value: [{ value: "none", post: "page two" }] });
    // Who left what he was shown as it was says nothing, whatever stands there now.
    expect(await save("wet", 2, 7, "page three")).toEqual({ ok: true, value: [] });
    expect(await store.entriesOf("s1")).toMatchObject([{ value: "none", post: "page two" }]);
    // What told no page is nobody's own, not even of another that told none.
    expect(await save("dry", 99, 8)).toEqual({ ok: true, value: [] });
    expect(await save("wet", 0, 9)).toMatchObject({ ok: true, value: [{ value: "dry" }] });
    await store.close();
  });

  test("a file is kept once for a letter, byte for byte, also by two at once, and told in the order in which files came", async () => {
    const store = await withLetter();
    await store.keepSent(sending(letter(2), []));
    const content = Uint8Array.from({ length: 256 }, (_, at) => at);
    const [one, same, earlier] = [attachment("b"), attachment("c", { digest: "digest of b" }), attachment("d", by("super", 1))];
    expect(await store.keepAttachment(one, content, 1000)).toEqual({ ok: true, value: true });
    expect(await store.keepAttachment(same, content, 1000)).toEqual({ ok: true, value: true });
    await Promise.all([store.keepAttachment(earlier, content, 1000), store.keepAttachment({ ...earlier, id: "e" }, content, 1000)]);
    const kept = await store.attachmentsOf("s1");
    expect(kept.map((file) => ({ ...file, id: file.id === "e" ? "d" : file.id }))).toEqual([earlier, one]);
    expect(await store.attachment("b")).toEqual({ ...one, content });
    expect(await store.attachment("c")).toBeNull();
    // The same file may come with the reply to another letter.
    const other = attachment("f", { sent: "s2", digest: "digest of b" });
    await store.keepAttachment(other, content, 1000);
    expect(await store.attachmentsOf("s2")).toEqual([other]);
    // Nor is it taken away by way of that one.
    await store.dropAttachment("s2", "b");
    expect(await store.attachment("b")).not.toBeNull();
    await store.close();
  });

  test("files of a letter never have more than the most together, even where two come at once; a file taken away makes room", async () => {
    const store = await withLetter();
    const keep = (id: string, size: number) => store.keepAttachment(attachment(id, { size }), Uint8Array.of(1), 10);
    expect((await keep("a", 4)).ok).toBe(true);
    const both = await Promise.all([keep("b", 6), keep("c", 6)]);
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
    expect(both.find(({ ok }) => !ok)).toEqual({ ok: false, faults: ["all files together: given 16 bytes; wanted at most 10"] });
    expect((await keep("d", 1)).ok).toBe(false);
    // One that is kept already is no more than it was.
    expect((await keep("a", 4)).ok).toBe(true);
    expect(await store.dropAttachment("s2", "a")).toEqual({ ok: false, faults: [CONFIRMED] });
    expect(await store.attachmentsOf("s1")).toHaveLength(2);
    expect(await store.dropAttachment("s1", "a")).toEqual({ ok: true, value: true });
    expect(await store.attachment("a")).toBeNull();
    expect((await keep("d", 4)).ok).toBe(true);
    await store.close();
  });

  test("files neither come nor go once the reply is confirmed", async () => {
    const store = await withLetter();
    await store.keepAttachment(attachment("a"), Uint8Array.of(1, 2, 3), 10);
    await store.confirmReply("s1", {}, by("chief", 7));
    const shut = { ok: false, faults: [CONFIRMED] };
    expect(await store.keepAttachment(attachment("b"), Uint8Array.of(4), 10)).toEqual(shut);
    expect(await store.dropAttachment("s1", "a")).toEqual(shut);
    expect(await store.attachmentsOf("s1")).toEqual([attachment("a")]);
    await store.close();
  });

  test("how far the exchange is stands in the list of visits, which goes by the next day due, the longest overdue before all", async () => {
    const store = await opened(address());
    const waiting = (day: string): Standing => ({ stage: "waiting for the reply", letter: 1, due: { day, what: "reply" } });
    const standings: readonly (Standing | undefined)[] = [
      waiting("2026-03-09"),
      undefined,
      waiting("2026-03-05"),
      waiting("2026-03-10"),
      { stage: "settled", letter: 2 },
      waiting("2026-03-05"),
    ];
    for (const [place, standing] of standings.entries()) {
      await store.createVisit(`v${place}`, place === 5 ? "ilse" : "anna", FRAME, [], by("anna", place));
      if (standing !== undefined) await store.keepStanding(`v${place}`, standing);
    }
    const idsOn = async (today?: string, owner?: string) =>
      (await store.listVisits({ limit: 9, ...(today === undefined ? {} : { today }), ...(owner === undefined ? {} : { owner }) })).map(
        ({ id }) => id,
      );
    expect(await idsOn()).toEqual(["v5", "v4", "v3", "v2", "v1", "v0"]);
    for (const today of ["2026-03-04", "2026-03-05", "2026-03-10"])
      expect(await idsOn(today)).toEqual(["v5", "v2", "v0", "v3", "v4", "v1"]);
    expect(await idsOn("2026-03-11", "anna")).toEqual(["v2", "v0", "v3", "v4", "v1"]);
    expect((await store.listVisits({ limit: 1, offset: 2, today: "2026-03-10" })).map(({ id, standing }) => [id, standing])).toEqual([
      ["v0", standings[0]],
    ]);
    const lines = new Map((await store.listVisits({ limit: 9 })).map((line) => [line.id, line]));
    expect([lines.get("v4")?.standing, "standing" in (lines.get("v1") ?? {})]).toEqual([standings[4], false]);
    await store.close();
  });

  test("in the list by deadline a reply that came stands at today; what nobody is waited for goes by the day of the visit", async () => {
    const store = await opened(address());
    const on = (from?: unknown) => ({ ...FRAME, frame: { visit: { window: { from } } } as never });
    const visits: readonly (readonly [id: string, from: unknown, standing?: Standing])[] = [
      ["past", "2026-02-01"],
      ["long past", "2025-02-01"],
      ["no day", undefined],
      ["no day yet", "in spring"],
      ["far", "2026-09-01"],
      ["near", "2026-03-10", { stage: "settled", letter: 2 }],
      ["waiting", "2026-12-01", { stage: "next letter to send", letter: 1, due: { day: "2026-03-11", what: "confirmation" } }],
      ["waiting, nearer", "2026-11-01", { stage: "waiting for the reply", letter: 1, due: { day: "2026-03-11", what: "reply" } }],
      ["came", "2026-12-01", { stage: "reply to take in", letter: 1 }],
      ["overdue", "2026-12-01", { stage: "waiting for the reply", letter: 1, due: { day: "2026-03-09", what: "reply" } }],
    ];
    for (const [id, from, standing] of visits) {
      await store.createVisit(id, "anna", on(from), [], by("anna"));
      if (standing !== undefined) await store.keepStanding(id, standing);
    }
    const ids = async () => (await store.listVisits({ limit: 20, today: "2026-03-10" })).map(({ id }) => id);
    const last = ["no day", "no day yet", "past", "long past"];
    expect(await ids()).toEqual(["overdue", "came", "waiting, nearer", "waiting", "near", "far", ...last]);
    // Another day of the visit moves it.
    expect((await store.saveFrame("far", on("2026-03-09"), 1, by("anna"))).ok).toBe(true);
    expect(await ids()).toEqual([
      "overdue",
      "came",
      "waiting, nearer",
      "waiting",
      "near",
      "no day",
      "no day yet",
      "far",
      "past",
      "long past",
    ]);
    await store.close();
  });

  test("visits kept before the list went by their days are put in order with them", async () => {
    const at = address();
    const store = await opened(at);
    for (const [id, from] of Object.entries({ late: "2026-05-01", early: "2026-04-01", none: "" }))
      await store.createVisit(id, "anna", { ...FRAME, frame: { visit: { window: { from } } } }, [], by("anna"));
    await store.close();
    const before = await openDatabase(at);
    if (!before.ok) throw new Error(before.faults.join());
    const { db } = before.value;
    // What later migrations made goes with it.
    const later = [
      "absence",
      "person",
      "told_once",
      "under_way",
      "pace",
      "people_changes",
      "policy_act",
      "policy_version",
      "what_if_plan",
      "what_if",
      "settled_finding",
      "review_comment",
      "review_event",
      "signature",
      "kept_plan",
      "result",
    ];
    for (const table of later) await db.schema.dropTable(table).execute();
    await db.schema.dropIndex("sent_lately").execute();
    await db.schema.alterTable("visit").dropColumn("begins_on").execute();
    await db.schema.alterTable("visit").dropColumn("ends_on").execute();
    await db.schema.alterTable("sent").dropColumn("requests").execute();
    await db.schema.alterTable("invitation").dropColumn("for_person").execute();
    await sql`delete from kysely_migration where name >= '0006'`.execute(db);
    await db.destroy();
    const after = await opened(at);
    expect((await after.listVisits({ limit: 9, today: "2026-03-10" })).map(({ id }) => id)).toEqual(["early", "late", "none"]);
    await after.close();
  });

  test("to keep how far the exchange is changes nothing of the visit, and what nobody is waited for is never overdue", async () => {
    const store = await withLetter();
    const before = await store.visit("v1");
    await store.keepStanding("v1", { stage: "waiting for the reply", letter: 1, due: { day: "2026-03-09", what: "reply" } });
    await store.keepStanding("v1", { stage: "next letter to send", letter: 1 });
    expect(await store.visit("v1")).toEqual(before);
    await store.createVisit("v2", "anna", FRAME, [], by("anna", 30));
    const lines = await store.listVisits({ limit: 9, today: "2030-01-01" });
    expect(lines.map(({ id, standing }) => [id, standing?.stage])).toEqual([
      ["v2", undefined],
      ["v1", "next letter to send"],
    ]);
    await store.close();
  });
});
