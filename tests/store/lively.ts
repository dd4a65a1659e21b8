import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type Accounts, openAccounts } from "../../lib/access/accounts.ts";
import { DEMO_PASSWORD, makeDemoPeople } from "../../lib/cli/demoPeople.ts";
import { success } from "../../lib/kernel/result.ts";
import { officePolicySchema } from "../../lib/model/officePolicy.ts";
import { postOffice } from "../../lib/outside/postOffice.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { openDatabase } from "../../lib/store/database.ts";
import { storeOn } from "../../lib/store/open.ts";
import type { Store } from "../../lib/store/store.ts";
import { addFile } from "../../lib/usecases/exchange/files.ts";
import { sendLetter } from "../../lib/usecases/exchange/send.ts";
import { decideReview } from "../../lib/usecases/review/decide.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { visit } from "../cli/cli.ts";
import { chunk, joined, PNG } from "../reply/uploads.ts";

export const SECRET = "a secret of the tests, longer than thirty-two characters";
const WHEN = "2026-03-02T08:00:00.000Z";
const NOW = Date.parse(WHEN);
const chief = { who: "Łukasz Wrona, chief engineer 🛥", when: "2026-03-03T08:00:00.000Z" };

export interface Opened {
  readonly store: Store;
  readonly accounts: Accounts;
}

/** An office as a server opens it. */
export const officeAt = async (address: string): Promise<Opened> => {
  const open = await openDatabase(address);
  if (!open.ok) throw new Error(open.faults.join());
  const accounts = await openAccounts(open.value, { secret: SECRET, url: "http://127.0.0.1:3000" });
  return { store: storeOn(open.value.db), accounts };
};

/** A picture of some megabytes. */
const PICTURE = joined(
  PNG.subarray(0, 33),
  chunk(
    "teSt",
    new Uint8Array(3_000_000).map((_, at) => at * 7),
  ),
  PNG.subarray(33),
);

const letterAndReply = async ({ store }: Opened, outbox: string, owner: string): Promise<void> => {
  let made = 0;
  const newId = (): string => {
    made += 1;
    return `id-${made}`;
  };
  const world = { now: () => WHEN, newId };
  const planner = newPlanner(rulebook);
  const paper = success(Uint8Array.from({ length: 70_000 }, (_, at) => at * 31));
  const office = {
    store,
    world,
    planner,
    render: () => Promise.resolve(paper),
    post: postOffice({}, outbox),
    url: "https://plans.example",
  };
  const by = { who: owner, when: WHEN };
  const id = await importVisit(office, readFileSync(visit("old-mechanical"), "utf8"), owner);
  const stored = id.ok ? await store.visit(id.value) : null;
  if (stored === null) throw new Error("no visit");
  const asked = await decideReview(office, stored, { act: "asked", words: "", comments: new Map(), seen: 0, version: stored.version }, by);
  const to = [{ name: chief.who, address: "chief@ship.example" }];
  const sent = await sendLetter(office, stored, { to, units: "metric", from: "mara@office.example", kind: "letter" }, by);
  if (!asked.ok || !sent.ok) throw new Error(JSON.stringify([asked, sent]));
  const { letter } = sent.value;
  await store.saveEntries(letter.id, [{ ref: "Q1", value: { text: "trocken – dry\u0000".replace("\u0000", "") }, seen: 0 }], chief);
  const added = await addFile(office, letter, { what: "photograph", name: "well.png", content: PICTURE }, chief);
  await store.confirmReply(letter.id, { remarks: "We sail on the 12th." }, chief);
  const now = await store.visit(stored.id);
  if (!added.ok || now === null) throw new Error(JSON.stringify(added));
  const { vessel } = (await store.listVisits({ limit: 1 }))[0] ?? { vessel: "" };
  const frame = { vessel, frame: now.frame, sets: now.sets };
  const taking = { visit: now.id, sent: letter.id, seen: now.version, frame, answers: [], outcome: { taken: "all" } };
  const taken = await store.takeReply(taking, by);
  if (!taken.ok) throw new Error(taken.faults.join());
  await store.keepResults(now.id, [{ at: "/sets/1/overspeed", value: { outcome: "as planned" }, seen: 0 }], by);
  await store.keepTyped(`${now.id} overspeed`, "half a wo", by);
  await store.addComments([{ id: "c1", visit: now.id, at: "", words: "Why not as last time?", ...by }]);
  await store.settleFinding({ finding: "f1", number: 1, how: "accepted", words: "seen", about: "two", covers: ["a", "b"], ...by });
  await store.beginWhatIf({ id: "w1", about: { rulebook: "newer" }, plans: [now.id], ...by });
  await store.keepWhatIfPlans("w1", [{ visit: now.id, outcome: { same: true } }]);
};

/** Fills an office with something of every kind, as people do: accounts, sign-ins, a visit, its letter, reply, files, results, reviews. */
export const livelyOffice = async (address: string, outbox: string): Promise<void> => {
  const opened = await officeAt(address);
  const { store, accounts } = opened;
  const people = await makeDemoPeople({ accounts, clock: () => NOW });
  const [mara = "", odo = "", ilse = ""] = ["mara", "odo", "ilse"].map((name) => people.get(name));
  await accounts.signIn("mara@office.example", DEMO_PASSWORD, "192.0.2.1", NOW);
  await accounts.signIn("odo@office.example", "a wrong password", "192.0.2.1", NOW);
  const by = { who: odo, when: WHEN };
  const policy = officePolicySchema.parse({ review: { deviations: true } });
  await store.addPolicy(policy, "", { versions: 0, acts: 0 }, by);
  await store.decidePolicy(1, { act: "adopted", takesEffect: "2026-03-02" }, "from today", { acts: 0 }, by);
  const members = await accounts.people();
  const version = (id: string): number => members.find((member) => member.id === id)?.version ?? 0;
  const days = { from: "2026-05-01", to: "2026-05-09", standsIn: mara };
  const absent = await accounts.tellAbsence({ person: ilse, seen: version(ilse) }, "abs-1", days, by);
  if (!absent.ok) throw new Error(JSON.stringify(absent));
  await letterAndReply(opened, outbox, mara);
  for (const act of ["first", "second", "third"]) await store.audit({ ...by, act, subject: "a visit", detail: "“ä”" });
  await store.close();
};

/** Where an office's database and its mails lie in a folder. */
export const placesIn = (folder: string) => ({ db: join(folder, "office.db"), outbox: join(folder, "outbox") });
