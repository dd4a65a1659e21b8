import { PDFDocument, StandardFonts } from "pdf-lib";
import { type Accounts, openAccounts } from "../../lib/access/accounts.ts";
import { type OpenDatabase, openDatabase } from "../../lib/store/database.ts";
import { storeOn } from "../../lib/store/open.ts";
import { type PrivacyStore, privacyOn } from "../../lib/store/privacy/privacy.ts";
import type { Json, Store } from "../../lib/store/store.ts";

export const NOW = Date.parse("2026-03-02T08:00:00Z");
export const WHEN = "2026-03-02T08:00:00.000Z";
const PASSWORD = "nine lanterns at the quay";

/** Somebody of the vessel, another one of the same name, and somebody of the office. */
export const JORA = { name: "Jora Tindle", email: "jora@ship.example" };
export const NAMESAKE = { name: "Jora Tindle", email: "j.tindle@elsewhere.example" };
export const PELL = { name: "Pell “Sparks” Aldine", email: "pell@office.example" };
export const ODO = { name: "Odo Varnhem", email: "odo@office.example" };
export const BRAM = { name: "Bram Osk", email: "bram@ship.example" };

export interface PrivacyOffice {
  readonly open: OpenDatabase;
  readonly store: Store;
  readonly accounts: Accounts;
  readonly privacy: PrivacyStore;
  readonly pell: string;
  readonly odo: string;
}

/** A paper in which these words stand. */
export const paper = async (...words: readonly string[]): Promise<Uint8Array> => {
  const file = await PDFDocument.create();
  const font = await file.embedFont(StandardFonts.Helvetica);
  const page = file.addPage();
  words.forEach((word, line) => {
    page.drawText(word.replaceAll(/[“”]/g, "'"), { x: 40, y: 700 - line * 20, size: 12, font });
  });
  return file.save();
};

const opened = async (address: string): Promise<OpenDatabase> => {
  const open = await openDatabase(address);
  if (!open.ok) throw new Error(open.faults.join());
  return open.value;
};

export const account = async (accounts: Accounts, role: "inspector" | "supervisor", who: typeof ODO): Promise<string> => {
  const made = await accounts.takeUp(await accounts.invite(role, "console", NOW), { ...who, password: PASSWORD }, NOW);
  if (!made.ok) throw new Error(made.faults.join());
  await accounts.signIn(who.email, PASSWORD, "192.0.2.7", NOW);
  return made.value.id;
};

const person = ({ name, email }: typeof ODO, side: "office" | "vessel", role: string): Json => ({ name, role, side, contact: email });

const frameOf = (people: readonly Json[], remark: string, to = "2026-03-25"): Json => ({
  format: "forehail visit 1",
  visit: {
    vessel: { name: "Sundalis Reach" },
    place: { name: "Haverdyn Roads" },
    window: { from: "2026-03-24", to },
    people: [...people],
  },
  policy: { office: { name: "Tallowmere Survey Office", address: [], contact: "plans@tallowmere.example" } },
  sets: [{ name: "Generator 1" }],
  deviations: [{ protection: "/sets/0/overspeed", method: "os-lever", reason: remark }],
});

/** A visit with a letter to somebody, his reply, its files, its results, its review. */
const visitWith = async (office: Omit<PrivacyOffice, "privacy">, id: string, to: typeof JORA, words: string): Promise<void> => {
  const { store, pell, odo } = office;
  const by = { who: pell, when: WHEN };
  const people = [person(PELL, "office", "inspector"), person(to, "vessel", "superintendent"), person(BRAM, "vessel", "chief engineer")];
  const frame = { vessel: "Sundalis Reach", frame: frameOf(people, words), sets: [1] };
  await store.createVisit(id, pell, frame, [{ at: "/sets/1/maker", value: words }], by);
  await store.saveAnswers(id, [{ at: "/sets/1/primeMover", value: "diesel", seen: 0 }], by);
  const made = `${id}-made`;
  const file = JSON.stringify(frame.frame, null, 1);
  const plan = JSON.stringify({ agreedBy: { name: to.name }, tests: [{ reason: words }] });
  const letter = { id: made, visit: id, version: 1, rulebook: "-", file, plan, pdf: await paper(to.name, BRAM.name, PELL.name), ...by };
  const sent = {
    id: `${id}-sent`,
    visit: id,
    number: 1,
    kind: "letter" as const,
    made,
    mark: `${id}-1-x`,
    replyBy: "2026-03-10",
    to: [to, BRAM].map(({ name, email }) => ({ name, address: email })),
    asked: { questions: [], requests: [], tests: [], known: [] },
    ...by,
  };
  const link = (who: typeof JORA) => ({
    mark: `${id}-${who === BRAM ? "bram" : "to"}`,
    sent: sent.id,
    recipient: who.name,
    madeAt: WHEN,
    expiresAt: "2026-04-01T00:00:00.000Z",
  });
  const kept = await store.keepSent({ sent, made: letter, links: [link(to), link(BRAM)], frame, seen: 3 });
  if (!kept.ok) throw new Error(kept.faults.join());
  for (const { name, email } of [to, BRAM]) {
    await store.keepDelivery({ sent: sent.id, address: email, when: WHEN, how: "outbox", detail: `outbox/letter-to-${name}.eml` });
    await store.audit({ ...by, act: "letter sent", subject: id, detail: `letter 1 to ${name} <${email}>` });
  }
  const filled = { who: to.name, when: WHEN };
  await store.saveEntries(sent.id, [{ ref: "who", value: { "by.name": to.name, "by.contact": "+00 1 22" }, seen: 0 }], filled);
  await store.saveEntries(
    sent.id,
    [{ ref: "R1", value: { "r.R1.words": words, "r.R1.contact": `${to.name}, aft office` }, seen: 0 }],
    filled,
  );
  const photo = { id: `${id}-photo`, sent: sent.id, what: `photograph by ${to.name}`, name: `${to.name}.jpg`, type: "image/jpeg" };
  await store.keepAttachment({ ...photo, size: 3, digest: id, ...filled }, Uint8Array.of(255, 216, 255), 100);
  const reply = {
    format: "forehail reply 1",
    letter: sent.mark,
    by: { name: to.name, role: "superintendent", contact: to.email },
    questions: {},
    requests: { R1: { says: "yes", words, contact: `${to.name}, aft office` } },
    tests: {},
    remarks: `${words} Best, ${to.name}`,
  };
  await store.confirmReply(sent.id, reply, filled);
  await store.audit({ ...filled, act: "reply confirmed", subject: id, detail: "" });
  const stored = await store.visit(id);
  const taking = { visit: id, sent: sent.id, seen: stored?.version ?? 0, frame, answers: [], outcome: { before: frame.frame } };
  const taken = await store.takeReply(taking, by);
  if (!taken.ok) throw new Error(taken.faults.join());
  await store.keepResults(id, [{ at: "/sets/1/overspeed", value: { outcome: "as planned", remark: words }, seen: 0 }], by);
  const decisions = JSON.stringify([["/sets/1/overspeed", "overspeed", "Generator 1", "", `mark-${id}`, [], ["os-lever"], "", words]]);
  await store.keepPlan({
    visit: id,
    version: 1,
    why: "letter",
    ...by,
    rulebook: "-",
    ruleBasis: "",
    vessel: "Sundalis Reach",
    file,
    sets: [1],
    decisions,
    signatures: new Map([
      [`mark-${id}`, "[]"],
      ["mark-of-all", "[]"],
    ]),
  });
  const event = { visit: id, number: 1, act: "asked" as const, version: 1, words, marks: {}, ...by };
  await store.addReview(event, [{ id: `${id}-said`, visit: id, at: "", words: `Ask ${to.name}`, who: odo, when: WHEN }]);
  await store.keepTyped(`${id} rules`, JSON.stringify({ "/x": words }), by);
  await store.keepTyped(`${id} rules`, JSON.stringify({ "/x": words }), { who: odo, when: WHEN });
};

/** An office with three visits: two of Jora’s with letters to her, and one of her namesake’s. */
export const privacyOffice = async (address: string): Promise<PrivacyOffice> => {
  const open = await opened(address);
  const accounts = await openAccounts(open, { secret: "a secret of the tests, longer than thirty-two", url: "http://127.0.0.1:3000" });
  const store = storeOn(open.db);
  const odo = await account(accounts, "supervisor", ODO);
  const pell = await account(accounts, "inspector", PELL);
  await accounts.signIn(PELL.email, "not the password at all", "192.0.2.9", NOW);
  const office = { open, store, accounts, pell, odo };
  await visitWith(office, "visit-a", JORA, `As ${JORA.name} said on board.`);
  await visitWith(office, "visit-b", JORA, "Nobody is named here.");
  await visitWith(office, "visit-c", NAMESAKE, `${NAMESAKE.name} of the other ship; not ${JORA.email}.`);
  const by = { who: odo, when: WHEN };
  await store.audit({ ...by, act: "handed over", subject: "visit-a", detail: `from ${PELL.name} to ${ODO.name}` });
  await store.settleFinding({
    finding: "f",
    number: 1,
    how: "accepted",
    words: `by ${PELL.name}`,
    about: "x",
    covers: ["visit-a /x os-lever"],
    ...by,
  });
  const trial = { id: "trial", about: { sort: "rulebook" }, plans: ["visit-a", "visit-b"], ...by };
  await store.beginWhatIf(trial);
  await store.keepWhatIfPlans("trial", [{ visit: "visit-a", outcome: { reason: `As ${JORA.name} said on board.` } }]);
  return { ...office, privacy: privacyOn(open) };
};
