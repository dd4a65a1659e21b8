import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { digestOf } from "../../lib/kernel/digest.ts";
import type { World } from "../../lib/kernel/ports.ts";
import { success } from "../../lib/kernel/result.ts";
import { FORM_FORMAT, fieldNames, formDigest, KEPT, questionFields, requestFields } from "../../lib/letter/formFields.ts";
import { letterOf } from "../../lib/letter/letter.ts";
import { CFR_OFFSHORE } from "../../lib/model/facts/visit.ts";
import type { Reply } from "../../lib/model/reply.ts";
import { postOffice } from "../../lib/outside/postOffice.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import type { SentLetter } from "../../lib/store/exchanges.ts";
import { openStore } from "../../lib/store/open.ts";
import type { Json, Store, StoredVisit } from "../../lib/store/store.ts";
import { askedNow, askedThen } from "../../lib/usecases/exchange/askedStored.ts";
import {
  type Choice,
  choiceOf,
  decidedBy,
  firstChoice,
  keepChoice,
  keptChoice,
  shownMark,
  undecidedIn,
} from "../../lib/usecases/exchange/choice.ts";
import { sinceLastLetter } from "../../lib/usecases/exchange/former.ts";
import {
  confirmRead,
  mailKept,
  putAside,
  readFilledForm,
  readKept,
  readMark,
  readPastedMail,
  saysOtherwise,
} from "../../lib/usecases/exchange/loadReply.ts";
import { recordOf, replyKept, TAKEN_BACK, takenLines } from "../../lib/usecases/exchange/record.ts";
import { confirmReply, fieldsOf, fillIn } from "../../lib/usecases/exchange/reply.ts";
import { repliedInWords } from "../../lib/usecases/exchange/replyWords.ts";
import { sendLetter } from "../../lib/usecases/exchange/send.ts";
import { settlementNow } from "../../lib/usecases/exchange/standing.ts";
import { type ToTakeIn, takeBack, takeInReply, takingIn, weighReply } from "../../lib/usecases/exchange/takeIn.ts";
import { takeInView } from "../../lib/usecases/exchange/takeInView.ts";
import { chooseMethod } from "../../lib/usecases/visits/deviate.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { planVisit } from "../../lib/usecases/visits/planVisit.ts";
import { openVisit, vesselOf } from "../../lib/usecases/visits/visitDraft.ts";
import { scratch, visit } from "../cli/cli.ts";

const planner = newPlanner(rulebook);
const anna = { who: "anna", when: "2026-03-02T08:00:00.000Z" };
const chief = { who: "Chief engineer", when: "2026-03-03T08:00:00.000Z" };
let made = 0;
const world: World = {
  now: () => anna.when,
  newId: () => {
    made += 1;
    return `${made}`.padStart(8, "0");
  },
};

let store: Store;
beforeAll(async () => {
  const opened = await openStore(":memory:");
  if (!opened.ok) throw new Error(opened.faults.join());
  store = opened.value;
});
afterAll(() => store.close());

const storedOf = async (id: string): Promise<StoredVisit> => {
  const stored = await store.visit(id);
  if (stored === null) throw new Error("no visit");
  return stored;
};
const loaded = async (name: string): Promise<string> => {
  const id = await importVisit({ store, world, planner }, readFileSync(visit(name), "utf8"), "anna");
  if (!id.ok) throw new Error(JSON.stringify(id.faults));
  return id.value;
};
const sendingAs = async (id: string, kind: SentLetter["kind"]) => {
  const render = () => Promise.resolve(success(Uint8Array.of(37, 80)));
  const sending = { store, world, planner, render, post: postOffice({}, join(scratch(), "outbox")), url: "https://plans.example" };
  const toSend = {
    to: [{ name: "The superintendent", address: "super@owner.example" }],
    units: "metric",
    from: "a@office.example",
    kind,
  } as const;
  return sendLetter(sending, await storedOf(id), toSend, anna);
};
const sentOf = async (id: string): Promise<SentLetter> => {
  const sent = await sendingAs(id, "letter");
  if (!sent.ok) throw new Error(sent.faults.join("; "));
  return sent.value.letter;
};
const confirmed = async (letter: SentLetter, more: Partial<Reply>): Promise<void> => {
  const by = { name: "Ł. Wrona", role: "Chief engineer" };
  const reply: Reply = { format: "forehail reply 1", letter: letter.mark, by, questions: {}, requests: {}, tests: {}, ...more };
  if (!(await confirmReply(store, letter, reply, chief)).ok) throw new Error("not confirmed");
};
const weighedOf = async (letter: SentLetter): Promise<ToTakeIn> => {
  const weighed = await weighReply({ store, planner }, await storedOf(letter.visit), letter);
  if (!weighed.ok) throw new Error(weighed.faults.join());
  return weighed.value;
};
/** The test of a letter that could be done in another way that is fit. */
const otherWay = (letter: SentLetter) => {
  const test = askedThen(letter.asked).tests.find(({ others }) => others.length > 0);
  const [way] = test?.others ?? [];
  if (test === undefined || way === undefined) throw new Error("no other way is fit");
  return { ...test, way };
};

describe("what is chosen of a reply", () => {
  test("begins with all that is plain, is kept, and is not decided before each of the others is", async () => {
    const letter = await sentOf(await loaded("old-mechanical"));
    const { ref, way } = otherWay(letter);
    const [plain, other] = askedThen(letter.asked).requests.filter(({ at }) => at === undefined);
    await confirmed(letter, {
      requests: { [plain?.ref ?? ""]: { says: "yes" }, [other?.ref ?? ""]: { says: "instead", words: "our own" } },
      tests: { [ref]: { says: "another way", method: way.value } },
    });
    const { weighed } = await weighedOf(letter);
    const first = firstChoice(weighed);
    expect(first.plain).toEqual([plain?.ref]);
    expect(undecidedIn(weighed, first)).toEqual([other?.ref, ref]);
    const choice: Choice = { plain: [], others: { [other?.ref ?? ""]: "leave", [ref]: "take" }, reasons: { [ref]: "why not" } };
    const replying = { visit: letter.visit, sent: letter.id };
    await keepChoice(store, replying, choice, anna);
    expect(await keptChoice(store, replying, "anna")).toEqual(choice);
    expect(await keptChoice(store, replying, "somebody else")).toBeNull();
    expect(undecidedIn(weighed, choice)).toEqual([]);
    expect([...decidedBy(weighed, choice).taken]).toEqual([ref]);
    const mark = shownMark(choice, { version: 3 });
    expect(shownMark({ ...choice, plain: [plain?.ref ?? ""] }, { version: 3 })).not.toBe(mark);
    expect(shownMark({ ...choice, others: {} }, { version: 3 })).not.toBe(mark);
    expect(shownMark({ ...choice, reasons: {} }, { version: 3 })).toBe(mark);
    expect(shownMark(choice, { version: 4 })).not.toBe(mark);
  });

  test("a thing that is said to be had, but by a day after the visit has begun, is told as too late and counts as not had", async () => {
    const letter = await sentOf(await loaded("old-mechanical"));
    const request = askedThen(letter.asked).requests.find(({ at, refused }) => at !== undefined && refused !== undefined);
    const weighedBy = async (by: string) => {
      const one = await sentOf(await loaded("old-mechanical"));
      await confirmed(one, { requests: { [request?.ref ?? ""]: { says: "yes", by } } });
      return (await weighedOf(one)).weighed.find(({ ref }) => ref === request?.ref);
    };
    expect(await weighedBy("2026-04-29")).toMatchObject({ kind: "confirmed", plain: true });
    expect(await weighedBy("2026-04-30")).toMatchObject({
      kind: "another date",
      inTime: false,
      plain: false,
      write: { value: request?.refused },
    });
  });

  test("is shown in words with what it changes, before and after", async () => {
    const letter = await sentOf(await loaded("old-mechanical"));
    const { ref, way } = otherWay(letter);
    await confirmed(letter, { tests: { [ref]: { says: "another way", method: way.value } } });
    const weighed = await weighedOf(letter);
    const choice: Choice = { plain: [], others: { [ref]: "take" }, reasons: { [ref]: "the crew is used to it" } };
    const view = takeInView(await storedOf(letter.visit), weighed, { planner, choice });
    expect(view.items).toMatchObject([{ ref, plain: false, way: { name: way.label, verdict: "fit" } }]);
    expect(view.items[0]?.says).toBe(`We propose another way: ${way.label}`);
    const tests = "changes" in view.effect ? view.effect.changes.tests : [];
    const changed = tests.find((one) => one.ref === ref);
    expect(changed?.after).toContain(way.label);
    expect(changed?.before).not.toContain(way.label);
    expect(view.unanswered).toHaveLength(
      askedThen(letter.asked).questions.length + askedThen(letter.asked).requests.length + askedThen(letter.asked).tests.length - 1,
    );
  });

  test("takes a proposed way with its reason only, in the place of one chosen before, and the visit is planned with it", async () => {
    const id = await loaded("old-mechanical");
    const letter = await sentOf(id);
    const { ref, at, way } = otherWay(letter);
    const seen = (await storedOf(id)).frameVersion;
    const chosen = await chooseMethod({ store, planner }, await storedOf(id), { at, method: way.value, reason: "mine", seen }, anna);
    expect(chosen.ok).toBe(true);
    await confirmed(letter, { tests: { [ref]: { says: "another way", method: way.value } } });
    const take = async (reason: string) =>
      takeInReply({ store, planner }, await storedOf(id), letter, { taken: new Set([ref]), reasons: new Map([[ref, reason]]) }, anna);
    const refused = await take(" ");
    expect(refused.ok ? "" : refused.faults.join()).toContain(`${ref}: reason`);
    expect((await take("the vessel’s own gear")).ok).toBe(true);
    const plan = planVisit(await storedOf(id), planner);
    const planned = plan.ok ? plan.value.plan.sets.flatMap(({ protections }) => protections).find((one) => one.ref === ref) : undefined;
    expect(planned?.deviation).toMatchObject({ method: way.value, reason: "the vessel’s own gear", refused: false });
  });

  test("an agreement counts for nothing once it is taken in that what its way needs cannot be had", async () => {
    const { requests, tests } = askedThen((await sentOf(await loaded("old-mechanical"))).asked);
    const needed = requests.find(({ neededFor, kind }) => neededFor.length > 0 && kind !== "photograph");
    const [touched = ""] = needed?.neededFor ?? [];
    const other = tests.find(({ ref }) => needed?.neededFor.includes(ref) === false)?.ref ?? "";
    const agreements = { [touched]: { says: "agreed" }, [other]: { says: "agreed" } } as const;
    const ref = needed?.ref ?? "";
    for (const confirmation of [{ says: "no" }, { says: "by another date", by: "2031-01-01" }] as const) {
      const letter = await sentOf(await loaded("old-mechanical"));
      await confirmed(letter, { requests: { [ref]: confirmation }, tests: agreements });
      const weighed = await weighedOf(letter);
      const stored = await storedOf(letter.visit);
      expect(weighed.weighed.find((one) => one.ref === touched)).toMatchObject({ kind: "agreed", plain: true, without: [ref] });
      expect(weighed.weighed.find((one) => one.ref === ref)).toMatchObject({ plain: false, agreedTo: [touched] });
      const choice: Choice = { plain: [touched, other], others: { [ref]: "take" }, reasons: {} };
      const view = takeInView(stored, weighed, { planner, choice });
      const means = view.items.find((one) => one.ref === ref)?.means.join(" ") ?? "";
      expect(means).toContain(`The same reply agrees to ${touched}, whose planned way needs this.`);
      const outcomes = (
        [
          ["take", [other]],
          ["leave", [touched, other]],
        ] as const
      ).map(([decided, agreed]) => {
        const taking = takingIn(stored, { ...weighed, planner }, decidedBy(weighed.weighed, { ...choice, others: { [ref]: decided } }));
        const outcome = taking.ok ? taking.value.outcome : undefined;
        expect([...(outcome?.agreed ?? [])].sort()).toEqual([...agreed].sort());
        return outcome;
      });
      expect(outcomes[0]?.left).toEqual([touched]);
      expect(outcomes[0]?.leftBecause).toEqual({ [touched]: `it needs ${ref}, which cannot be had in time` });
      expect(outcomes[1]?.left).toEqual([ref]);
    }
    const letter = await sentOf(await loaded("old-mechanical"));
    await confirmed(letter, { requests: { [ref]: { says: "yes" } }, tests: agreements });
    const agreed = (await weighedOf(letter)).weighed.find((one) => one.ref === touched);
    expect(agreed).toEqual({ ref: touched, kind: "agreed", plain: true });
  });

  test("what is left is told in the next letter, with the reason", async () => {
    const id = await loaded("old-mechanical");
    const letter = await sentOf(id);
    const { ref, way } = otherWay(letter);
    const [request] = askedThen(letter.asked).requests.filter(({ at }) => at === undefined);
    await confirmed(letter, {
      requests: { [request?.ref ?? ""]: { says: "instead", words: "our own kit" } },
      tests: { [ref]: { says: "another way", method: way.value } },
    });
    const reasons = new Map([[ref, "the maker's gauge is out of date."]]);
    expect((await takeInReply({ store, planner }, await storedOf(id), letter, { taken: new Set(), reasons }, anna)).ok).toBe(true);
    const { notTaken = [], former } = await sinceLastLetter(store, id, rulebook);
    expect(notTaken).toEqual([
      { ref: request?.ref, said: expect.stringContaining("our own kit") },
      { ref, said: `We propose another way: ${way.label}`, because: "the maker's gauge is out of date." },
    ]);
    const planned = planVisit(await storedOf(id), planner);
    if (!planned.ok || former === undefined) throw new Error("not planned");
    const next = letterOf({ ...planned.value, rulebook, units: "metric", former, notTaken });
    const [at] = next.blocks.flatMap((block, place) =>
      block.kind === "heading" && block.text === "What you answered and we have not taken over" ? [place] : [],
    );
    expect(next.blocks[(at ?? -2) + 1]).toMatchObject({
      items: [
        { label: request?.ref },
        { label: ref, text: `Your reply: We propose another way: ${way.label}. Not taken over: the maker's gauge is out of date.` },
      ],
    });
  });

  test("is taken back with all it wrote, and what was chosen stands chosen again; not once anything else was changed", async () => {
    const id = await loaded("almost-nothing-known");
    const letter = await sentOf(id);
    const question = askedThen(letter.asked).questions.find(({ at, choices }) => at !== "/ruleBasis" && choices.length > 0);
    const answer = { says: "answer", value: question?.choices[0]?.value ?? "" } as const;
    await confirmed(letter, { questions: { [question?.ref ?? ""]: answer } });
    const before = await storedOf(id);
    const { weighed } = await weighedOf(letter);
    const first = firstChoice(weighed);
    const take = async () => takeInReply({ store, planner }, await storedOf(id), letter, decidedBy(weighed, first), anna);
    expect((await takeBack({ store, planner }, before, letter, anna)).ok).toBe(false);
    expect((await take()).ok).toBe(true);
    expect((await storedOf(id)).frame).not.toEqual(before.frame);
    const taken = await takeBack({ store, planner }, await storedOf(id), letter, anna);
    expect(taken.ok && choiceOf(weighed, taken.value)).toEqual(first);
    const again = await storedOf(id);
    expect(again.frame).toEqual(before.frame);
    const values = ({ answers }: StoredVisit) =>
      [...answers].flatMap(([at, { value }]) => (value === undefined ? [] : [[at, value] as const])).sort();
    expect(values(again)).toEqual(values(before));
    expect((await take()).ok).toBe(true);
    const [at = ""] = values(before).map(([pointer]) => pointer);
    await store.saveAnswers(id, [{ at, value: "something else", seen: 99 }], anna);
    const late = await takeBack({ store, planner }, await storedOf(id), letter, anna);
    expect(late.ok ? "" : late.faults.join()).toContain("changed since");
    expect((await store.replyOf(letter.id)).taken).toBeDefined();
  });

  test("is refused by reference where it contradicts what is known, and nothing is taken", async () => {
    const id = await loaded("almost-nothing-known");
    const before = await storedOf(id);
    const frame = before.frame as { readonly visit: { readonly vessel: object } };
    const vessel = { ...frame.visit.vessel, offshoreSupplyVessel: "no" };
    const changed = { ...frame, visit: { ...frame.visit, vessel } } as unknown as Json;
    await store.saveFrame(id, { vessel: "-", frame: changed, sets: before.sets }, before.frameVersion, anna);
    const letter = await sentOf(id);
    const { questions } = askedThen(letter.asked);
    const rules = questions.find(({ at }) => at === "/ruleBasis");
    const other = questions.find(({ at, choices }) => at !== "/ruleBasis" && choices.length > 0);
    await confirmed(letter, {
      questions: {
        [rules?.ref ?? ""]: { says: "answer", value: CFR_OFFSHORE },
        [other?.ref ?? ""]: { says: "answer", value: other?.choices[0]?.value ?? "" },
      },
    });
    const weighed = await weighedOf(letter);
    const stored = await storedOf(id);
    const all = decidedBy(weighed.weighed, firstChoice(weighed.weighed));
    const taking = takingIn(stored, { ...weighed, planner }, all);
    expect(taking.ok ? [] : taking.faults.map(({ refs }) => refs)).toEqual([[rules?.ref]]);
    const refused = await takeInReply({ store, planner }, stored, letter, all, anna);
    expect(refused.ok ? "" : refused.faults.join()).toContain(`${rules?.ref}: `);
    expect((await storedOf(id)).version).toBe(stored.version);
    expect((await store.replyOf(letter.id)).taken).toBeUndefined();
  });
});

describe("what the vessel was told", () => {
  test("a way that the inspector chose after the last letter is told before it counts as settled; one that the vessel proposed is not", async () => {
    const id = await loaded("old-mechanical");
    const untold = async () => (await settlementNow(store, await storedOf(id), planner))?.settlement.untold;
    const before = await storedOf(id);
    expect(await untold()).toEqual([]);
    const letter = await sentOf(id);
    expect(await untold()).toEqual([]);
    const { ref, at, way } = otherWay(letter);
    const seen = (await storedOf(id)).frameVersion;
    const ours = { at, method: way.value, reason: "mine", seen };
    expect((await chooseMethod({ store, planner }, await storedOf(id), ours, anna)).ok).toBe(true);
    expect(await untold()).toEqual([ref]);
    const closing = await sendingAs(id, "settled");
    expect(closing.ok ? "" : closing.faults.join()).toContain(`${ref} is planned otherwise than the vessel was told`);
    await confirmed(letter, { tests: { [ref]: { says: "another way", method: way.value } } });
    const decided = { taken: new Set([ref]), reasons: new Map([[ref, "theirs"]]) };
    expect((await takeInReply({ store, planner }, await storedOf(id), letter, decided, anna)).ok).toBe(true);
    expect(await untold()).toEqual([]);
    await sentOf(id);
    expect(await untold()).toEqual([]);
    expect(before.version).toBeLessThan((await storedOf(id)).version);
  });

  test("an agreement is told as such in the next letter, and no refusal of what only a later way needs makes it void", async () => {
    const id = await loaded("old-mechanical");
    const letter = await sentOf(id);
    const planned = planVisit(await storedOf(id), planner);
    const requests = planned.ok ? planned.value.plan.requests : [];
    const later = requests.find(
      ({ neededBy, laterFor = [], kind }) => neededBy.length === 0 && laterFor.length > 0 && kind !== "photograph",
    );
    const [test = ""] = later?.laterFor ?? [];
    await confirmed(letter, { requests: { [later?.ref ?? ""]: { says: "no" } }, tests: { [test]: { says: "agreed" } } });
    const { weighed } = await weighedOf(letter);
    expect(weighed.find(({ ref }) => ref === test)).toEqual({ ref: test, kind: "agreed", plain: true });
    const decided = { taken: new Set([test, later?.ref ?? ""]), reasons: new Map<string, string>() };
    expect((await takeInReply({ store, planner }, await storedOf(id), letter, decided, anna)).ok).toBe(true);
    const since = await sinceLastLetter(store, id, rulebook);
    expect(since.agreed).toEqual([test]);
    const now = planVisit(await storedOf(id), planner);
    if (!now.ok) throw new Error("not planned");
    const next = JSON.stringify(letterOf({ ...now.value, rulebook, units: "metric", ...since }).blocks);
    expect(next).toContain(`{"label":"Now agreed","text":"${test}."}`);
  });
});

describe("a pasted message", () => {
  test("is kept as it was, shown as it was understood, and confirmed as shown only; how it came is told", async () => {
    const letter = await sentOf(await loaded("old-mechanical"));
    const question = askedThen(letter.asked).questions.find(({ choices }) => choices.length > 0);
    const office = { store, rulebook };
    const nothing = await readPastedMail(office, letter, { text: "Good day\r\nall well", name: "Ł. Wrona", role: "" }, anna);
    expect(nothing.reply).toBeUndefined();
    expect(nothing.faults).toMatchObject([{ at: "" }]);
    const mail = { text: `Good day\r\n${question?.ref}: ${question?.choices[0]?.label}\r\nQ998: dry`, name: "Ł. Wrona", role: "Chief" };
    const read = await readPastedMail(office, letter, mail, anna);
    expect(await mailKept(store, letter, "anna")).toEqual(mail);
    expect(read.reply?.questions).toEqual({ [question?.ref ?? ""]: { says: "answer", value: question?.choices[0]?.value } });
    expect(read.told.map(({ line }) => line)).toEqual([1, 3]);
    expect((await confirmRead(store, letter, { name: "Anna", shown: readMark(nothing) }, anna)).ok).toBe(false);
    expect((await store.replyOf(letter.id)).confirmed).toBeUndefined();
    expect((await confirmRead(store, letter, { name: "Anna", shown: readMark(read) }, anna)).ok).toBe(true);
    expect((await store.replyOf(letter.id)).confirmed?.who).toBe("Anna, from the vessel’s e-mail");
    expect(await readKept(store, letter, "anna")).toBeNull();
  });
});

test("what was read and not confirmed stays when the vessel confirms its own page, and tells what it says otherwise", async () => {
  const letter = await sentOf(await loaded("old-mechanical"));
  const asked = askedThen(letter.asked);
  const [same, other] = asked.questions.filter(({ choices }) => choices.length > 1);
  const mail = { text: `${same?.ref}: ${same?.choices[0]?.label}\n${other?.ref}: ${other?.choices[0]?.label}`, name: "Ł. Wrona", role: "" };
  await readPastedMail({ store, rulebook }, letter, mail, anna);
  const answer = (value: string | undefined) => ({ says: "answer" as const, value: value ?? "" });
  await confirmed(letter, {
    questions: { [same?.ref ?? ""]: answer(same?.choices[0]?.value), [other?.ref ?? ""]: answer(other?.choices[1]?.value) },
  });
  const [read, reply] = [await readKept(store, letter, "anna"), replyKept(await store.replyOf(letter.id))];
  if (read?.reply === undefined || reply === null) throw new Error("the mail that was read is forgotten");
  expect(saysOtherwise(repliedInWords(read.reply, asked, rulebook), repliedInWords(reply, asked, rulebook))).toEqual([other?.ref]);
  expect((await confirmRead(store, letter, { name: "Anna", shown: readMark(read) }, anna)).ok).toBe(false);
  expect(await readKept(store, letter, "anna")).toEqual(read);
  await putAside(store, letter, anna);
  expect(await readKept(store, letter, "anna")).toBeNull();
});

test("the record tells every letter, and each reference through all of them, with deviations and who chose them", async () => {
  const id = await loaded("old-mechanical");
  const first = await sentOf(id);
  const { ref, way } = otherWay(first);
  const [taken, left] = askedThen(first.asked).requests.filter(({ at }) => at === undefined);
  await confirmed(first, {
    requests: { [taken?.ref ?? ""]: { says: "yes" }, [left?.ref ?? ""]: { says: "instead", words: "our own" } },
    tests: { [ref]: { says: "another way", method: way.value } },
    remarks: "We sail on the 12th",
  });
  const decided = { taken: new Set([taken?.ref ?? "", ref]), reasons: new Map([[ref, "the crew is used to it"]]) };
  expect((await takeInReply({ store, planner }, await storedOf(id), first, decided, anna)).ok).toBe(true);
  const second = await sentOf(id);
  const kept = await Promise.all(
    [first, second].map(async (sent) => ({ sent, made: await store.made(sent.made), state: await store.replyOf(sent.id), entries: [] })),
  );
  const [one] = kept;
  const record = recordOf(kept, { rulebook, now: null, log: [] });
  expect(record.letters).toMatchObject([
    {
      number: 1,
      sent: anna,
      to: ["The superintendent (super@owner.example)"],
      reply: { confirmed: chief, remarks: "We sail on the 12th" },
      taken: anna,
    },
    { number: 2 },
  ]);
  expect(record.letters[0]?.made?.rulebook).toBe(`${rulebook.version} ${planner.digest}`);
  expect(record.letters[1]?.reply).toBeUndefined();
  const row = record.rows.find((each) => each.ref === ref);
  expect(row?.cells).toMatchObject([
    { says: `We propose another way: ${way.label}`, became: "taken" },
    { says: "", became: "" },
  ]);
  expect(row?.cells[0]?.asked).not.toContain(way.label);
  expect(row?.cells[1]?.asked).toContain(way.label);
  expect(record.rows.find((each) => each.ref === left?.ref)?.cells[0]).toMatchObject({ became: "left" });
  expect(row?.cells[0]?.reason).toBe("the crew is used to it");
  const back = {
    act: TAKEN_BACK,
    subject: id,
    detail: "letter 1: as before it was taken in",
    who: "boris",
    when: "2026-03-04T08:00:00.000Z",
  };
  const again = recordOf(kept, { rulebook, now: null, log: [back, { ...back, detail: "letter 12: as before it was taken in" }] });
  expect(again.letters.map(({ takenBack }) => takenBack)).toEqual([[{ who: "boris", when: back.when }], []]);
  expect(record.rows.find((each) => each.ref === taken?.ref)?.cells[1]).toMatchObject({ asked: "Confirmed with letter 1" });
  expect(record.rows.map(({ ref: each }) => each[0]).join("")).toMatch(/^T+Q*R+$/);
  expect(record.deviations).toMatchObject([{ ref, method: way.label, reason: "the crew is used to it", letter: 2, chosen: anna }]);
  const lines = one === undefined ? [] : takenLines(one, rulebook);
  expect(lines.map(({ ref: each, state }) => [each, state])).toEqual([
    [taken?.ref, "taken"],
    [left?.ref, "left"],
    [ref, "taken"],
  ]);
});

describe("what the letter took as known and the reply says to be otherwise", () => {
  /** What is taken as known of the first set, by the end of its pointer. */
  const knownAt = (letter: SentLetter, end: string) => {
    const fact = askedThen(letter.asked).known.find(({ at }) => at === `/sets/0/${end}`);
    if (fact === undefined) throw new Error(`not taken as known: ${end}`);
    return fact;
  };
  const answerAt = async (id: string, at: string) => openVisit(await storedOf(id)).draft.answers.get(at);

  test("is never plain, told with what it was known as and what it changes, becomes the answer once taken, and is the next letter's", async () => {
    const id = await loaded("old-mechanical");
    const letter = await sentOf(id);
    const [cock, well] = [knownAt(letter, "lubeOilPressure/testPoint"), knownAt(letter, "jacketWaterTemperature/well")];
    await confirmed(letter, { corrections: { [cock.ref]: "none", [well.ref]: "dry" } });
    const weighed = await weighedOf(letter);
    expect(weighed.weighed).toEqual([
      { ref: cock.ref, kind: "correction", plain: false, write: { at: cock.at, value: "none" }, was: "test cock" },
      { ref: well.ref, kind: "correction", plain: false, write: { at: well.at, value: "dry" }, was: "wet" },
    ]);
    const choice: Choice = { ...firstChoice(weighed.weighed), others: { [cock.ref]: "take", [well.ref]: "leave" } };
    expect(firstChoice(weighed.weighed).plain).toEqual([]);
    const view = takeInView(await storedOf(id), weighed, { planner, choice });
    expect(view.items).toMatchObject([
      {
        ref: cock.ref,
        kind: "fact",
        set: "SSDG 1",
        detail: "taken as test cock",
        says: "In fact: None",
        name: "Correction",
        means: ["Was known as: test cock. Now: none."],
      },
      { ref: well.ref, says: "In fact: Dry" },
    ]);
    // Nothing is asked of what was left as it was.
    expect(view.unanswered.map(({ kind }) => kind)).not.toContain("fact");
    expect("changes" in view.effect ? view.effect.changes.tests.length : 0).toBeGreaterThan(0);
    const decided = decidedBy(weighed.weighed, choice);
    const outcome = await takeInReply({ store, planner }, await storedOf(id), letter, decided, anna);
    expect(outcome).toMatchObject({ ok: true, value: { answers: [{ at: cock.at, value: "none" }], taken: [cock.ref], left: [well.ref] } });
    expect(await answerAt(id, cock.at)).toBe("none");
    expect(await answerAt(id, well.at)).toBe("wet");
    const second = await sentOf(id);
    expect(askedThen(second.asked).known.find(({ at }) => at === cock.at)).toMatchObject({ ref: cock.ref, told: "none" });
    const kept = await Promise.all(
      [letter, second].map(async (sent) => ({ sent, made: await store.made(sent.made), state: await store.replyOf(sent.id), entries: [] })),
    );
    const rows = recordOf(kept, { rulebook, now: null, log: [] }).rows.filter(({ kind }) => kind === "fact");
    expect(rows).toMatchObject([
      {
        ref: cock.ref,
        cells: [
          { asked: "Taken as test cock", says: "In fact: None", became: "taken" },
          { says: "", became: "" },
        ],
      },
      { ref: well.ref, cells: [{ asked: "Taken as wet", says: "In fact: Dry", became: "left" }, { asked: "" }] },
    ]);
  });

  test("is nothing where it only repeats what is known, in whatever unit; not known is otherwise too", async () => {
    const id = await loaded("old-mechanical");
    const letter = await sentOf(id);
    const [well, power, cock] = [
      knownAt(letter, "jacketWaterTemperature/well"),
      knownAt(letter, "plate/ratedPower"),
      knownAt(letter, "lubeOilPressure/testPoint"),
    ];
    await confirmed(letter, {
      corrections: { [well.ref]: "wet", [power.ref]: { value: 0.5, unit: "MW" }, [cock.ref]: "not known" },
    });
    const { weighed } = await weighedOf(letter);
    expect(weighed).toMatchObject([{ ref: cock.ref, kind: "correction", plain: false, was: "test cock" }]);
    const all = { taken: new Set(weighed.map(({ ref }) => ref)), reasons: new Map() };
    expect((await takeInReply({ store, planner }, await storedOf(id), letter, all, anna)).ok).toBe(true);
    const state = await store.replyOf(letter.id);
    expect(takenLines({ sent: letter, state }, rulebook).map(({ ref, state: became }) => [ref, became])).toEqual(
      askedThen(letter.asked).known.flatMap(({ ref }) =>
        ref === cock.ref ? [[ref, "taken"]] : [well.ref, power.ref].includes(ref) ? [[ref, "known so already"]] : [],
      ),
    );
    // What is open again is asked again.
    expect(askedThen((await sentOf(id)).asked).questions.map(({ at }) => at)).toContain(cock.at);
  });

  test("a letter that went out before such facts bore references is read as taking none, and its form is known again", async () => {
    const letter = await sentOf(await loaded("old-mechanical"));
    const { sets, asked } = letter.asked as { readonly sets: readonly number[]; readonly asked: Record<string, Json> };
    const { known: _, ...before } = asked;
    const kept = { sets, asked: before } as unknown as Json;
    expect(askedThen(kept)).toEqual({ ...before, known: [] });
    expect(askedNow(kept, sets)).toEqual({ ...before, known: [] });
    expect(formDigest(askedThen(kept))).toBe(digestOf(before));
    expect(formDigest(askedThen(letter.asked))).not.toBe(digestOf(before));
  });
});

test("a form with one answer that cannot be read is put onto the reply's pages whole, over nothing that the vessel wrote there", async () => {
  const letter = await sentOf(await loaded("old-mechanical"));
  const asked = askedThen(letter.asked);
  const [choice, other] = asked.questions.filter(({ choices }) => choices.length > 1);
  const [request] = asked.requests;
  const refs = [choice, other, request].map((one) => one?.ref ?? "-") as [string, string, string];
  const [first, second, third] = [questionFields(refs[0]).answer, questionFields(refs[1]).answer, requestFields(refs[2])];
  await fillIn(store, letter, [{ ref: refs[1], fields: { [second]: other?.choices[1]?.value ?? "" }, seen: 0 }], chief);
  const written = new Map([
    ...fieldNames(asked).map((name) => [name, ""] as const),
    [KEPT.format, FORM_FORMAT],
    [KEPT.letter, letter.mark],
    [KEPT.digest, formDigest(asked)],
    [first, (choice?.choices[0]?.label ?? "").toUpperCase()],
    [second, other?.choices[0]?.label ?? ""],
    [third.says, "By another date"],
    [third.by, "next Tuesday"],
  ]);
  const fields = [...written].map(([name, value]) => ({ name, value }));
  const readForm = () => Promise.resolve({ found: "fields" as const, fields });
  const form = { bytes: Uint8Array.from(Buffer.from("%PDF-1.7")), file: "filled.pdf", name: "Chief engineer" };
  const read = await readFilledForm({ store, rulebook, readForm }, letter, form, anna);
  expect(read).toMatchObject({ onPages: true, faults: [{ at: refs[2] }] });
  expect(read.reply).toBeUndefined();
  expect((await store.replyOf(letter.id)).confirmed).toBeUndefined();
  const kept = fieldsOf(await store.entriesOf(letter.id));
  expect([first, second, third.says, third.by].map((name) => kept.get(name))).toEqual([
    choice?.choices[0]?.value,
    other?.choices[1]?.value,
    "by another date",
    "next Tuesday",
  ]);
});

test("what was read well waits on, whatever comes to nothing after it, and is what is confirmed", async () => {
  const letter = await sentOf(await loaded("old-mechanical"));
  const question = askedThen(letter.asked).questions.find(({ choices }) => choices.length > 0);
  const office = { store, rulebook };
  const mail = (text: string) => ({ text, name: "Ł. Wrona", role: "" });
  await readPastedMail(office, letter, mail(`${question?.ref}: ${question?.choices[0]?.label}`), anna);
  const readForm = () => Promise.resolve({ found: "damage" as const });
  const form = { bytes: Uint8Array.from(Buffer.from("%PDF-1.7")), file: "broken.pdf", name: "" };
  expect((await readFilledForm({ store, rulebook, readForm }, letter, form, anna)).reply).toBeUndefined();
  expect((await readPastedMail(office, letter, mail("all well"), anna)).reply).toBeUndefined();
  const read = await readKept(store, letter, "anna");
  expect(read?.reply?.questions).toHaveProperty(question?.ref ?? "");
  expect(read?.tried?.faults).toHaveLength(1);
  if (read === null) throw new Error("nothing kept");
  expect((await confirmRead(store, letter, { name: "Anna", shown: readMark(read) }, anna)).ok).toBe(true);
  expect(await readKept(store, letter, "anna")).toBeNull();
});

test("a form that is not this letter's is put nowhere", async () => {
  const letter = await sentOf(await loaded("old-mechanical"));
  const readForm = () => Promise.resolve({ found: "fields" as const, fields: [{ name: KEPT.format, value: "another" }] });
  const form = { bytes: Uint8Array.from(Buffer.from("%PDF-1.7")), file: "filled.pdf", name: "" };
  const read = await readFilledForm({ store, rulebook, readForm }, letter, form, anna);
  expect(read.onPages).toBeUndefined();
  expect(await store.entriesOf(letter.id)).toEqual([]);
});

test("a form of another visit is named by its vessel and letter to who may open that visit, to others not", async () => {
  const [letter, strange] = [await sentOf(await loaded("old-mechanical")), await sentOf(await loaded("mixed-channels"))];
  const values: Readonly<Record<string, string>> = { [KEPT.format]: FORM_FORMAT, [KEPT.letter]: strange.mark };
  const fields = Object.values(KEPT).map((name) => ({ name, value: values[name] ?? "" }));
  const readForm = () => Promise.resolve({ found: "fields" as const, fields });
  const givenTo = async (visible?: { readonly owner?: string }): Promise<string> => {
    const form = {
      bytes: Uint8Array.from(Buffer.from("%PDF-1.7")),
      file: "filled.pdf",
      name: "",
      ...(visible === undefined ? {} : { visible }),
    };
    return (await readFilledForm({ store, rulebook, readForm }, letter, form, anna)).faults.map(({ given }) => given).join();
  };
  const { frame, owner } = await storedOf(strange.visit);
  const named = `the form of letter 1 to ${vesselOf(frame as object)}, which is another visit`;
  expect(await givenTo({ owner })).toBe(named);
  expect(await givenTo({})).toBe(named);
  expect(await givenTo({ owner: "somebody else" })).toBe("the form of another visit");
  expect(await givenTo()).toBe("the form of another visit");
});
