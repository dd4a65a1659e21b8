import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { simpleParser } from "mailparser";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { World } from "../../lib/kernel/ports.ts";
import { success } from "../../lib/kernel/result.ts";
import type { Letter } from "../../lib/letter/blocks.ts";
import { postOffice } from "../../lib/outside/postOffice.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { replyFromPdf } from "../../lib/reply/fromPdf.ts";
import { formReader } from "../../lib/reply/readForm.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import type { SentLetter } from "../../lib/store/exchanges.ts";
import { openStore } from "../../lib/store/open.ts";
import type { Store, StoredVisit } from "../../lib/store/store.ts";
import { askedNow, askedThen } from "../../lib/usecases/exchange/askedStored.ts";
import { endingOf } from "../../lib/usecases/exchange/ending.ts";
import { confirmAsFilled, confirmReply, fillIn, openLink, replyAsFilled } from "../../lib/usecases/exchange/reply.ts";
import { type SendingWorld, type Sent, sendLetter } from "../../lib/usecases/exchange/send.ts";
import { settlementNow } from "../../lib/usecases/exchange/standing.ts";
import { takeInReply, weighReply } from "../../lib/usecases/exchange/takeIn.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { listOf } from "../../lib/usecases/visits/lists.ts";
import { planVisit } from "../../lib/usecases/visits/planVisit.ts";
import { removeSet } from "../../lib/usecases/visits/sets.ts";
import { scratch, visit } from "../cli/cli.ts";
import { bundled, formRenderer } from "../letter/forms.ts";
import { referencesIn } from "../letter/letters.ts";
import { byPdfLib } from "../reply/fill.ts";
import { someReply, written } from "../reply/replies.ts";

const planner = newPlanner(rulebook);
const anna = { who: "anna", when: "2026-03-02T08:00:00.000Z" };
const chief = { who: "Chief engineer", when: "2026-03-03T08:00:00.000Z" };
let made = 0;
const world: World = {
  now: () => {
    made += 1;
    return new Date(Date.parse(anna.when) + made).toISOString();
  },
  newId: () => {
    made += 1;
    return `${made}`.padStart(8, "0");
  },
};
const outbox = join(scratch(), "outbox");
/** A paper of a few bytes: what a letter looks like is tested elsewhere. */
const letters: Letter[] = [];
const paper = (letter: Letter) => {
  letters.push(letter);
  return Promise.resolve(success(Uint8Array.from(Buffer.from(letter.title, "utf8"))));
};

let store: Store;
let office: SendingWorld;
beforeAll(async () => {
  const opened = await openStore(":memory:");
  if (!opened.ok) throw new Error(opened.faults.join());
  store = opened.value;
  office = { store, world, planner, render: paper, post: postOffice({}, outbox), url: "https://plans.example" };
});
afterAll(() => store.close());

const loaded = async (name: string): Promise<string> => {
  const id = await importVisit({ store, world, planner }, readFileSync(visit(name), "utf8"), "anna");
  if (!id.ok) throw new Error(JSON.stringify(id.faults));
  return id.value;
};
const storedOf = async (id: string): Promise<StoredVisit> => {
  const stored = await store.visit(id);
  if (stored === null) throw new Error("no visit");
  return stored;
};
const TO = [
  { name: "The superintendent", address: "super@owner.example" },
  { name: "Chief engineer Łukasz", address: "chief@ship.example" },
];
const sending = async (id: string, kind: SentLetter["kind"], by = office) =>
  sendLetter(by, await storedOf(id), { kind, to: TO, units: "metric", from: "anna@office.example" }, anna);
const sentOf = async (id: string, by = office, kind: SentLetter["kind"] = "letter"): Promise<Sent> => {
  const sent = await sending(id, kind, by);
  if (!sent.ok) throw new Error(sent.faults.join("; "));
  return sent.value;
};
const specAt = (at: string) => {
  const template = at.replace(/^\/sets\/\d+\//, "/sets/*/").replace(/^\/support\/sisters\/[A-Z]\//, "/support/sisters/*/");
  return rulebook.facts.find((fact) => fact.at === template);
};
const drawn = (letter: SentLetter, seed: number) => {
  const [reply] = fc.sample(someReply(askedThen(letter.asked), letter.mark, specAt), { numRuns: 1, seed });
  if (reply === undefined) throw new Error("no reply");
  return reply;
};

/** Fills a reply in as a page would: what belongs to one reference together. */
const filledIn = async (letter: SentLetter, values: ReadonlyMap<string, string>) => {
  const seen = new Map((await store.entriesOf(letter.id)).map(({ ref, version }) => [ref, version]));
  const byRef = new Map<string, Record<string, string>>();
  for (const [name, text] of values) {
    const ref = /^[qrtk]\.([QRTK]\d+)\./.exec(name)?.[1] ?? (name === "remarks" ? name : "by");
    if (name.startsWith("form.")) continue;
    byRef.set(ref, { ...byRef.get(ref), [name]: text });
  }
  return fillIn(
    store,
    letter,
    [...byRef].map(([ref, fields]) => ({ ref, fields, seen: seen.get(ref) ?? 0 })),
    chief,
  );
};

/** How its exchange would end, as the page tells it before the button. */
const endingNow = async (id: string) => {
  const stored = await storedOf(id);
  const planned = planVisit(stored, planner);
  if (!planned.ok) throw new Error(JSON.stringify(planned.faults));
  return endingOf({ store, stored }, planned.value, rulebook);
};

const codeIn = (link: string): string => link.split("/").at(-1) ?? "";

describe("a letter that is sent", () => {
  test("lies in the outbox for each recipient, with letter, days and a link of his own, and is kept as it went out", async () => {
    const id = await loaded("old-mechanical");
    const { letter, links, deliveries } = await sentOf(id);
    expect(letter).toMatchObject({ number: 1, visit: id, to: TO });
    expect(deliveries.map(({ how, address }) => [how, address])).toEqual(TO.map(({ address }) => ["outbox", address]));
    const mails = await Promise.all(readdirSync(outbox).map((file) => simpleParser(readFileSync(join(outbox, file)))));
    for (const { to, link } of links) {
      const mail = mails.find(({ text }) => text?.includes(link));
      expect(mail?.to && "text" in mail.to ? mail.to.text : "").toContain(to.address);
      expect(mail?.attachments.map(({ contentType }) => contentType)).toEqual(["application/pdf", "text/calendar"]);
      expect(await openLink(store, codeIn(link), anna.when)).toMatchObject({ sent: letter.id, recipient: to.name });
      expect(await openLink(store, codeIn(link), "2099-01-01T00:00:00.000Z")).toBeNull();
    }
    expect(new Set(links.map(({ link }) => link)).size).toBe(2);
    expect(await openLink(store, "guessed", anna.when)).toBeNull();
    const paperKept = await store.made(letter.made);
    expect(JSON.parse(paperKept?.plan ?? "{}")).toMatchObject({ format: "forehail plan 1" });
    expect((await storedOf(id)).frame).toMatchObject({ letters: [{ number: 1 }] });
  });

  test("goes out once, however often and at once it is pressed", async () => {
    const id = await loaded("old-mechanical");
    const stored = await storedOf(id);
    const send = () => sendLetter(office, stored, { kind: "letter", to: TO, units: "metric", from: "anna@office.example" }, anna);
    const all = await Promise.all([send(), send(), send()]);
    expect(all.filter(({ ok }) => ok)).toHaveLength(1);
    expect(await store.sentOf(id)).toHaveLength(1);
    expect((await send()).ok).toBe(false);
    expect((await sendLetter(office, await storedOf(id), { kind: "letter", to: [], units: "metric", from: "a@b.example" }, anna)).ok).toBe(
      false,
    );
  });

  test("has gone out where its mail could not be handed over; why is kept", async () => {
    const id = await loaded("old-mechanical");
    const { deliveries, letter } = await sentOf(id, { ...office, post: postOffice({ SMTP_URL: "smtp://127.0.0.1:1" }, outbox) });
    expect(deliveries.map(({ how }) => how)).toEqual(["failed", "failed"]);
    expect(deliveries[0]?.detail).not.toBe("");
    expect(await store.deliveriesOf(letter.id)).toHaveLength(2);
    expect(await store.sentOf(id)).toHaveLength(1);
  });
});

describe("a reply", () => {
  test("is kept as it is filled in, read whole, and confirmed once; every fault of it is told by its reference", async () => {
    const id = await loaded("old-mechanical");
    const { letter } = await sentOf(id);
    const asked = askedThen(letter.asked);
    const question = asked.questions.find(({ choices }) => choices.length > 0);
    const name = `q.${question?.ref}.answer`;
    expect((await fillIn(store, letter, [{ ref: "Q999", fields: {}, seen: 0 }], chief)).ok).toBe(false);
    expect((await fillIn(store, letter, [{ ref: question?.ref ?? "", fields: { "r.R1.says": "yes" }, seen: 0 }], chief)).ok).toBe(false);
    await fillIn(store, letter, [{ ref: question?.ref ?? "", fields: { [name]: "nonsense" }, seen: 0 }], chief);
    const wrong = await confirmAsFilled(store, letter, { specAt }, chief);
    expect(wrong.ok ? [] : wrong.faults.map(({ at }) => at)).toEqual(["by", question?.ref]);
    const reply = drawn(letter, 7);
    const version = (await store.entriesOf(letter.id))[0]?.version ?? 0;
    await fillIn(store, letter, [{ ref: question?.ref ?? "", fields: {}, seen: version }], chief);
    expect(await filledIn(letter, written(reply, asked))).toMatchObject({ ok: true });
    expect(await replyAsFilled(store, letter, { specAt })).toEqual({ ok: true, value: reply });
    expect(await confirmAsFilled(store, letter, { specAt }, chief)).toEqual({ ok: true, value: reply });
    expect((await confirmAsFilled(store, letter, { specAt }, chief)).ok).toBe(false);
    expect((await filledIn(letter, written(reply, asked))).ok).toBe(false);
  });

  test("in the form of the letter becomes the same, once", async () => {
    const renderer = await formRenderer();
    const id = await loaded("old-mechanical");
    const { letter } = await sentOf(id, { ...office, render: renderer.render });
    await renderer.close();
    const pdf = (await store.made(letter.made))?.pdf ?? new Uint8Array();
    const asked = askedThen(letter.asked);
    const reply = drawn(letter, 11);
    const filled = await byPdfLib(pdf, written(reply, asked));
    const read = formReader({ timeout: 60_000, memory: 512 }, await bundled("formReader"));
    const back = await replyFromPdf(filled, { mark: letter.mark, asked }, read, { specAt });
    expect(back).toEqual({ ok: true, value: reply });
    expect(await confirmReply(store, letter, reply, anna)).toEqual({ ok: true, value: reply });
    expect((await confirmReply(store, letter, reply, anna)).ok).toBe(false);
  }, 120_000);

  test("is taken in once, as decided, and not before it is confirmed; a way that is not fit is refused and changes nothing", async () => {
    const id = await loaded("old-mechanical");
    const { letter } = await sentOf(id);
    const take = async (taken: readonly string[]) =>
      takeInReply({ store, planner }, await storedOf(id), letter, { taken: new Set(taken), reasons: new Map() }, anna);
    expect((await take([])).ok).toBe(false);
    const asked = askedThen(letter.asked);
    const plan = planVisit(await storedOf(id), planner);
    const barred = plan.ok
      ? plan.value.plan.sets
          .flatMap(({ protections }) => protections)
          .find(({ verdicts }) => verdicts.some(({ verdict }) => verdict === "barred"))
      : undefined;
    const method = barred?.verdicts.find(({ verdict }) => verdict === "barred")?.method ?? "";
    const [bare] = asked.requests.filter(({ at }) => at === undefined);
    await confirmReply(
      store,
      letter,
      {
        format: "forehail reply 1",
        letter: letter.mark,
        by: { name: "Chief engineer" },
        questions: {},
        requests: { [bare?.ref ?? ""]: { says: "yes" } },
        tests: { [barred?.ref ?? ""]: { says: "another way", method } },
      },
      chief,
    );
    const before = await storedOf(id);
    const refused = await take([barred?.ref ?? "", bare?.ref ?? ""]);
    expect(refused.ok ? "" : refused.faults.join()).toContain(`${barred?.ref}: the proposed way is barred`);
    expect((await storedOf(id)).version).toBe(before.version);
    const outcome = await take([bare?.ref ?? ""]);
    expect(outcome).toMatchObject({ ok: true, value: { confirmed: [{ request: bare?.ref }], left: [barred?.ref] } });
    expect((await storedOf(id)).frame).toMatchObject({
      letters: [{ number: 1, repliedOn: "2026-03-02" }],
      confirmed: [{ request: bare?.ref, letter: 1 }],
    });
    expect((await take([])).ok).toBe(false);
  });

  test("asks nothing any more of a set that was taken out meanwhile", async () => {
    const id = await loaded("old-mechanical");
    const { letter } = await sentOf(id);
    const stored = await storedOf(id);
    await removeSet(store, stored, stored.sets[0] ?? 0, anna);
    const now = askedNow(letter.asked, (await storedOf(id)).sets);
    const then = askedThen(letter.asked);
    expect(now.tests.length).toBeGreaterThan(0);
    expect(now.tests.length).toBeLessThan(then.tests.length);
    // What was asked of the second set is asked of the one that stands first now.
    expect(new Set(now.tests.map(({ at }) => at.split("/")[2]))).toEqual(new Set(["0"]));
    expect(now.tests[0]?.set).toBe(then.tests.at(-1)?.set);
  });
});

const MOST_LETTERS = 8;

test.each(["old-mechanical", "modern-electronic"])("letters go and replies come until the plan is settled: %s", async (name) => {
  const id = await loaded(name);
  const settlement = async () => {
    const now = await settlementNow(store, await storedOf(id), planner);
    if (now === null) throw new Error("cannot be planned");
    return now.settlement;
  };
  const confirmed = new Set<string>();
  let sent = 0;
  const open = await sending(id, "settled");
  expect(open.ok ? "" : open.faults.join()).toMatch(/^not settled yet: Q\d.*still decide,?.*R\d.* not confirmed$/);
  while (!(await settlement()).settled) {
    sent += 1;
    if (sent > MOST_LETTERS) throw new Error(JSON.stringify(await settlement()));
    const { letter } = await sentOf(id);
    expect(letter.number).toBe(sent);
    // From the second letter on it is told what changed.
    expect((letters.at(-1)?.changed ?? []).length > 0).toBe(sent > 1);
    const { questions, requests, tests } = askedThen(letter.asked);
    // What was confirmed with a letter before is asked no more.
    expect(requests.filter(({ ref }) => confirmed.has(ref))).toEqual([]);
    for (const { ref } of requests) confirmed.add(ref);
    await confirmReply(
      store,
      letter,
      {
        format: "forehail reply 1",
        letter: letter.mark,
        by: { name: "Chief engineer" },
        questions: Object.fromEntries(
          questions.map(({ ref, at, choices }) => {
            const domain = specAt(at)?.domain;
            return [ref, { says: "answer" as const, value: choices[0]?.value ?? (domain?.kind === "number" ? domain.from : 0) }];
          }),
        ),
        requests: Object.fromEntries(requests.map(({ ref }) => [ref, { says: "yes" as const }])),
        tests: Object.fromEntries(tests.map(({ ref }) => [ref, { says: "agreed" as const }])),
      },
      chief,
    );
    const weighed = await weighReply({ store, planner }, await storedOf(id), letter);
    if (!weighed.ok) throw new Error(weighed.faults.join());
    const taken = new Set(weighed.value.weighed.filter(({ plain }) => plain).map(({ ref }) => ref));
    expect(await takeInReply({ store, planner }, await storedOf(id), letter, { taken, reasons: new Map() }, anna)).toMatchObject({
      ok: true,
    });
  }
  expect(sent).toBeGreaterThan(0);
  expect((await store.sentOf(id)).map(({ number }) => number)).toEqual(Array.from({ length: sent }, (_, place) => place + 1));
  // Nothing is open: that it ended so cannot be said.
  expect(await sending(id, "not settled")).toMatchObject({ ok: false });
  await ended(id, "settled");
  const letter = letters.at(-1);
  expect(JSON.stringify(letter)).toContain(
    `Chief engineer (${Array.from({ length: sent }, (_, n) => `reply to letter ${n + 1}, 3 March 2026`).join("; ")}).`,
  );
  const agreements = letter?.blocks.flatMap((block) =>
    block.kind === "protection" ? block.lines.filter(({ label }) => label === "Agreement") : [],
  );
  expect(agreements?.length).toBeGreaterThan(3);
  for (const { text } of agreements ?? []) expect(text).toMatch(/Agreed by the vessel with letter \d|agreed to another way/);
});

/** Sends the letter that ends the exchange of a visit, and sees that it asks nothing, in whichever way it comes. */
const ended = async (id: string, kind: "settled" | "not settled", visitStands = true): Promise<Sent> => {
  const before = readdirSync(outbox).length;
  const done = await sentOf(id, office, kind);
  expect(done.letter.kind).toBe(kind);
  expect(done.links).toEqual([]);
  expect(await store.linksOf(done.letter.id)).toEqual([]);
  expect(askedThen(done.letter.asked)).toEqual({ questions: [], requests: [], tests: [], known: [] });
  expect((await storedOf(id)).frame).toMatchObject({
    letters: expect.arrayContaining([expect.objectContaining({ number: done.letter.number })]),
  });
  expect(readdirSync(outbox)).toHaveLength(before + TO.length);
  const { detail } = done.deliveries[0] ?? {};
  const mail = await simpleParser(readFileSync(detail ?? ""));
  expect(mail.text).toContain("Nothing need be answered.");
  expect(mail.text).not.toMatch(/https?:|Please answer by|Q3: dry|last pages/);
  expect(mail.text).toContain(kind === "settled" ? "All is settled." : "without all being settled");
  const calendar = String(mail.attachments.find(({ contentType }) => contentType === "text/calendar")?.content);
  const states = [...calendar.matchAll(/^UID:(\w+)[^\r]*|^STATUS:(\w+)/gm)].map(([, uid, state]) => uid ?? state);
  // Nobody need keep a day any more but those of the visit, and these only where a test is done on them.
  expect(states[states.indexOf("visit") + 1]).toBe(visitStands ? "CONFIRMED" : "CANCELLED");
  expect(states.filter((state) => state === "CONFIRMED")).toHaveLength(visitStands ? 1 : 0);
  expect(states.filter((state) => state === "CANCELLED").length).toBeGreaterThan(0);
  expect(mail.text?.includes("the visit is called off")).toBe(!visitStands);
  // Whoever takes the calendar file from the visit's page later finds the same.
  const list = await listOf(await storedOf(id), "visit.ics", {
    ...office,
    dayOf: () => Promise.reject(new Error("a calendar asks for no day")),
    now: "2026-03-20T08:00:00.000Z",
    units: "metric",
  });
  const later = list.ok ? String(list.value.content) : "";
  expect([...later.matchAll(/^STATUS:(\w+)/gm)].map(([, state]) => state)).toEqual([visitStands ? "CONFIRMED" : "CANCELLED"]);
  return done;
};

test("an exchange ends without all being settled only with what is open told, and not while a reply waits to be taken in", async () => {
  const id = await loaded("old-mechanical");
  const { letter } = await sentOf(id);
  const asked = askedThen(letter.asked);
  const [kept, left, question] = [asked.requests[0], asked.requests.at(-1), asked.questions[0]];
  const [test1, test2] = asked.tests;
  await confirmReply(
    store,
    letter,
    {
      format: "forehail reply 1",
      letter: letter.mark,
      by: { name: "Jan Kowal", role: "chief engineer" },
      questions: {},
      requests: { [kept?.ref ?? ""]: { says: "yes", words: "ours", contact: "the store keeper" } },
      tests: {
        [test1?.ref ?? ""]: { says: "agreed" },
        [test2?.ref ?? ""]: { says: "another way", words: "by hand" },
      },
    },
    chief,
  );
  expect(await endingNow(id)).toEqual({ ok: false, faults: ["the reply to letter 1 is not taken in yet"] });
  const waits = await sending(id, "not settled");
  expect(waits.ok ? "" : waits.faults.join()).toBe("the reply to letter 1 is not taken in yet");
  const taken = new Set([kept?.ref ?? "", test1?.ref ?? ""]);
  await takeInReply({ store, planner }, await storedOf(id), letter, { taken, reasons: new Map() }, anna);
  // One test is agreed, but who works the engine is not: none can be done.
  expect(await endingNow(id)).toMatchObject({ ok: true, value: { done: "", calendar: expect.stringContaining("calls the visit") } });
  await ended(id, "not settled", false);
  const text = JSON.stringify(letters.at(-1));
  expect(text).toContain("Jan Kowal, chief engineer (reply to letter 1, 3 March 2026).");
  const blocks = letters.at(-1)?.blocks ?? [];
  const open = blocks[blocks.findIndex((block) => block.kind === "heading" && block.text === "What remains open") + 1];
  const refs = open?.kind === "table" ? open.rows.map(([ref]) => ref).join(", ") : "";
  expect(refs).toContain(left?.ref);
  expect(refs).toContain(question?.ref);
  expect(refs.split(", ")).not.toContain(kept?.ref);
  const made = await store.made((await store.sentOf(id)).at(-1)?.made ?? "");
  expect(made?.pdf.length).toBeGreaterThan(0);
});

test("an exchange that ends with papers open keeps the visit for the tests that need none of them, as its page foretold", async () => {
  const id = await loaded("modern-electronic");
  const { letter } = await sentOf(id);
  const { questions, requests, tests } = askedThen(letter.asked);
  const things = requests.filter(({ kind }) => kind !== "document" && kind !== "photograph");
  await confirmReply(
    store,
    letter,
    {
      format: "forehail reply 1",
      letter: letter.mark,
      by: { name: "Jan Kowal" },
      questions: Object.fromEntries(questions.map(({ ref, choices }) => [ref, { says: "answer" as const, value: choices[0]?.value ?? 0 }])),
      requests: Object.fromEntries(things.map(({ ref }) => [ref, { says: "yes" as const }])),
      tests: Object.fromEntries(tests.map(({ ref }) => [ref, { says: "agreed" as const }])),
    },
    chief,
  );
  const weighed = await weighReply({ store, planner }, await storedOf(id), letter);
  const taken = new Set((weighed.ok ? weighed.value.weighed : []).map(({ ref }) => ref));
  await takeInReply({ store, planner }, await storedOf(id), letter, { taken, reasons: new Map() }, anna);
  const ahead = await endingNow(id);
  if (!ahead.ok) throw new Error(ahead.faults.join("; "));
  const [done, later] = [referencesIn(ahead.value.done), ahead.value.later.map((one) => ({ ...one, refs: referencesIn(one.tests) }))];
  expect([done.size > 0, later.length > 0]).toEqual([true, true]);
  for (const { waitsFor } of later) expect(waitsFor).toMatch(/^the papers? R\d/);
  expect(ahead.value.calendar).toMatch(/ stays, with the tests that are done/);
  await ended(id, "not settled");
  const told = letters.at(-1)?.blocks.flatMap((block) => (block.kind === "protection" ? block.refs.split(", ") : [])) ?? [];
  expect(new Set(told)).toEqual(done);
  const text = JSON.stringify(letters.at(-1));
  for (const { waitsFor } of later) expect(text).toContain(`T${waitsFor.slice(1)}.`);
});
