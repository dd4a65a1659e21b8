import { beforeEach, expect, test } from "vitest";
import { type OfficePolicy, officePolicySchema } from "../../lib/model/officePolicy.ts";
import type { StoredVisit } from "../../lib/store/store.ts";
import { type Deciding, decideReview, keepComments } from "../../lib/usecases/review/decide.ts";
import { reviewNow } from "../../lib/usecases/review/reviewNow.ts";
import { chooseMethod } from "../../lib/usecases/visits/deviate.ts";
import { makeLetter } from "../../lib/usecases/visits/makeLetter.ts";
import { planVisit } from "../../lib/usecases/visits/planVisit.ts";
import { type SendingOffice, sendingOffice } from "./sending.ts";

let own: SendingOffice;
let id: string;

/** The day from which the policy holds, and on which all is done. */
const TODAY = "2026-03-02";
const AT = `${TODAY}T08:00:00.000Z`;
const ODO = { who: "odo", when: AT };
const ANNA = { who: "anna", when: AT };

const policy = async (review: Partial<OfficePolicy["review"]>): Promise<void> => {
  const { store } = own.office;
  const versions = await store.policies();
  const seen = { versions: versions.length, acts: versions.filter(({ decided }) => decided !== null).length };
  const number = await store.addPolicy(JSON.parse(JSON.stringify(officePolicySchema.parse({ review }))), "", seen, ODO);
  if (!number.ok) throw new Error(number.faults.join());
  const adopted = await store.decidePolicy(number.value, { act: "adopted", takesEffect: TODAY }, "", { acts: seen.acts }, ODO);
  if (!adopted.ok) throw new Error(adopted.faults.join());
};

const stored = (): Promise<StoredVisit> => own.storedOf(id);

const now = async () => {
  const visit = await stored();
  const planned = planVisit(visit, own.office.planner);
  if (!planned.ok) throw new Error(JSON.stringify(planned.faults));
  return reviewNow(own.office.store, visit, planned.value.plan, TODAY);
};

const decide = async (act: Deciding["act"], by: typeof ODO, more: Partial<Deciding> = {}) => {
  const visit = await stored();
  const seen = (await own.office.store.reviewOf(id)).length;
  return decideReview(own.office, visit, { act, words: "", comments: new Map(), seen, version: visit.version, ...more }, by);
};

const insist = async (method: string | null, reason = "quicker"): Promise<void> => {
  const visit = await stored();
  const chosen = await chooseMethod(own.office, visit, { at: "/sets/0/overspeed", method, reason, seen: visit.version }, ANNA);
  if (!chosen.ok) throw new Error(JSON.stringify(chosen.faults));
};

beforeEach(async () => {
  own = await sendingOffice();
  own.at(AT);
  id = await own.loaded("old-mechanical");
});

test("where the policy asks for nothing a letter goes out unreviewed", async () => {
  await insist("os-lever");
  expect((await now()).missing).toEqual([]);
  await own.sent(id, ANNA);
});

test("where it wants deviations reviewed none goes out before each is approved, by mail or as a file, and all else does", async () => {
  await policy({ deviations: true });
  expect((await now()).missing).toEqual([]);
  await insist("os-lever");
  expect((await now()).missing.map(({ protection }) => protection.kind)).toEqual(["overspeed"]);
  await expect(own.sent(id, ANNA)).rejects.toThrow(
    /Review: .*T\d+ approved by a supervisor before a letter goes out; its review was not asked for yet/,
  );
  const file = await makeLetter({ ...own.office, letters: { render: own.office.render as never } }, id, "anna");
  expect(file.ok ? [] : file.faults[0]).toMatch(/Review: /);
  expect(await own.office.store.sentOf(id)).toEqual([]);
  expect(await own.office.store.madeOf(id)).toEqual([]);

  expect((await decide("asked", ANNA)).ok).toBe(true);
  await expect(own.sent(id, ANNA)).rejects.toThrow(/not decided yet/);
  expect((await decide("sent back", ODO, { words: "why not raise it" })).ok).toBe(true);
  await expect(own.sent(id, ANNA)).rejects.toThrow(/sent back/);
  expect((await decide("asked", ANNA, { words: "the maker says so" })).ok).toBe(true);
  expect((await decide("approved", ODO)).ok).toBe(true);
  await own.sent(id, ANNA);
});

test("an approval holds for what was approved: another reason or way is to be approved again, what was approved once and comes back is", async () => {
  await policy({ deviations: true });
  await insist("os-lever");
  await decide("asked", ANNA);
  await decide("approved", ODO);
  expect((await now()).missing).toEqual([]);
  await insist("os-lever", "another reason");
  expect((await now()).missing.length).toBe(1);
  await expect(own.sent(id, ANNA)).rejects.toThrow(/changed after it was approved/);
  await insist("os-lever");
  expect((await now()).missing).toEqual([]);
  await insist(null);
  expect((await now()).wanted).toEqual([]);
});

test("a plan that is sent back after it was approved has no approval left", async () => {
  await policy({ everyPlan: true });
  await decide("approved", ODO);
  expect((await now()).missing).toEqual([]);
  await decide("sent back", ODO, { words: "once more" });
  const { missing, wanted } = await now();
  expect(missing.length).toBe(wanted.length);
  expect(missing.length).toBeGreaterThan(5);
});

test("a part that stays unproven is reviewed where its consent is the supervisor’s, and only then", async () => {
  await policy({ consent: ["sensing"] });
  const { wanted } = await now();
  const planned = planVisit(await stored(), own.office.planner);
  const open = planned.ok
    ? planned.value.plan.sets
        .flatMap(({ protections }) => protections)
        .filter(({ applies, decision }) => applies !== "no" && decision.unproven.includes("sensing"))
        .map(({ at }) => at)
    : [];
  expect(open.length).toBeGreaterThan(0);
  expect(wanted.map(({ protection }) => protection.at)).toEqual(open);
});

test("nobody approves his own visit, nobody sends back without a reason, and a refusal keeps nothing", async () => {
  await decide("asked", ANNA);
  expect(await decide("approved", ANNA)).toMatchObject({ ok: false, faults: [{ says: expect.stringContaining("another supervisor") }] });
  expect(await decide("sent back", ODO)).toMatchObject({ ok: false, faults: [{ field: "words" }] });
  expect(await decide("approved", ODO, { words: "x".repeat(2001) })).toMatchObject({ ok: false, faults: [{ field: "words" }] });
  expect((await own.office.store.reviewOf(id)).map(({ act }) => act)).toEqual(["asked"]);
  expect((await decide("sent back", ODO, { comments: new Map([["/sets/0/overspeed", "why so"]]) })).ok).toBe(true);
});

test("two supervisors who decide at once: the second is told, and keeps neither decision nor comment", async () => {
  await decide("asked", ANNA);
  const visit = await stored();
  const deciding = { words: "", comments: new Map([["", "well done"]]), seen: 1, version: visit.version };
  const both = await Promise.all([
    decideReview(own.office, visit, { ...deciding, act: "approved" }, ODO),
    decideReview(own.office, visit, { ...deciding, act: "sent back" }, { who: "runa", when: AT }),
  ]);
  expect(both.filter(({ ok }) => ok).length).toBe(1);
  expect(both.find(({ ok }) => !ok)).toMatchObject({ faults: [{ says: expect.stringContaining("Somebody else decided") }] });
  expect((await own.office.store.reviewOf(id)).length).toBe(2);
  expect((await own.office.store.commentsOf(id)).length).toBe(1);
});

test("a plan that was changed after the page was shown is not decided on", async () => {
  await decide("asked", ANNA);
  const visit = await stored();
  await insist("os-lever");
  const late = await decideReview(
    own.office,
    await stored(),
    { act: "approved", words: "", comments: new Map(), seen: 1, version: visit.version },
    ODO,
  );
  expect(late).toMatchObject({ ok: false, faults: [{ says: expect.stringContaining("changed after you opened this page") }] });
});

test("comments stand at their test, whatever becomes of the order of the sets", async () => {
  const visit = await stored();
  expect(
    await keepComments(
      own.office,
      visit,
      new Map([
        ["/sets/1/overspeed", "  look again "],
        ["", ""],
      ]),
      ODO,
    ),
  ).toEqual({ ok: true, value: 1 });
  expect((await own.office.store.commentsOf(id)).map(({ at, words }) => [at, words])).toEqual([["/sets/2/overspeed", "look again"]]);
  expect((await keepComments(own.office, visit, new Map([["", " "]]), ODO)).ok).toBe(false);
});

test("asking and making a letter keep the plan to be compared, the latest alone", async () => {
  await decide("asked", ANNA);
  const [first] = await own.office.store.plansSince(0);
  expect([first?.why, first?.owner, first?.vessel]).toEqual(["review", "anna", (await stored()).frame === null ? "" : first?.vessel]);
  await own.sent(id, ANNA);
  const plans = await own.office.store.plansSince(0);
  expect(plans.map(({ why }) => why)).toEqual(["letter"]);
  expect(plans[0]?.seq).toBeGreaterThan(first?.seq ?? 0);
  expect(await own.office.store.visitsToKeep()).toEqual([]);
});
