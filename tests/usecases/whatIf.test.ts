import { beforeEach, expect, test } from "vitest";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { decideReview } from "../../lib/usecases/review/decide.ts";
import { otherRulebook, runAgain } from "../../lib/usecases/review/runAgain.ts";
import { beginWhatIf, runWhatIf, startWhatIf, stopWhatIfs, whatIfNow } from "../../lib/usecases/review/whatIf.ts";
import { planVisit } from "../../lib/usecases/visits/planVisit.ts";
import { type SendingOffice, sendingOffice } from "./sending.ts";

let own: SendingOffice;
const AT = "2026-03-02T08:00:00.000Z";
const ANNA = { who: "anna", when: AT };

const asked = async (name: string): Promise<string> => {
  const id = await own.loaded(name);
  const stored = await own.storedOf(id);
  const done = await decideReview(
    own.office,
    stored,
    { act: "asked", words: "", comments: new Map(), seen: 0, version: stored.version },
    ANNA,
  );
  if (!done.ok) throw new Error(JSON.stringify(done.faults));
  return id;
};

const begun = async () => {
  const id = await beginWhatIf(own.office, { sort: "rulebook" }, "odo");
  if (!id.ok) throw new Error(id.faults.join());
  const whatIf = await own.office.store.whatIf(id.value);
  if (whatIf === null) throw new Error("none");
  return whatIf;
};

beforeEach(async () => {
  own = await sendingOffice();
  own.at(AT);
});

test("without a plan there is nothing to try it on, and nothing is begun", async () => {
  expect(await beginWhatIf(own.office, { sort: "rulebook" }, "odo")).toMatchObject({ ok: false });
  expect(await beginWhatIf(own.office, { sort: "policy", number: 3 }, "odo")).toEqual({
    ok: false,
    faults: ["Policy: given number 3; wanted one that was written"],
  });
  expect(await own.office.store.whatIfs(9)).toEqual([]);
});

test("this program’s rulebook over the plans it made changes nothing, in whatever order their sets stand since", async () => {
  for (const name of ["old-mechanical", "steam-turbines", "passenger-ship"]) await asked(name);
  const whatIf = await begun();
  await runWhatIf(own.office, whatIf);
  const now = await whatIfNow(own.office.store, whatIf.id);
  expect(now?.done).toBe(3);
  expect(now?.outcomes.map(({ outcome }) => outcome)).toEqual([{ changes: [] }, { changes: [] }, { changes: [] }]);
});

test("what was cut off goes on from there, and a plan is counted once however many are at it", async () => {
  for (const name of ["old-mechanical", "steam-turbines"]) await asked(name);
  const whatIf = await begun();
  const [first = ""] = whatIf.plans;
  await own.office.store.keepWhatIfPlans(whatIf.id, [{ visit: first, outcome: { changes: [], fault: "as it was" } }]);
  await Promise.all([runWhatIf(own.office, whatIf), runWhatIf(own.office, whatIf)]);
  const now = await whatIfNow(own.office.store, whatIf.id);
  expect(now?.done).toBe(2);
  expect(now?.outcomes.find(({ visit }) => visit === first)?.outcome.fault).toBe("as it was");
});

test("a plan by an older rulebook says so with what is other now, and no longer once it was run again", async () => {
  const id = await asked("old-mechanical");
  const { store, planner } = own.office;
  const stored = await own.storedOf(id);
  const planned = planVisit(stored, planner);
  if (!planned.ok) throw new Error("no plan");
  expect(await otherRulebook(own.office, stored, planned.value)).toBeNull();
  const [kept] = await store.planFiles([id]);
  if (kept === undefined) throw new Error("not kept");
  // As an older rulebook had it: another way for one test.
  const decisions = JSON.parse(kept.decisions) as string[][];
  const other = decisions.map((one) => (one[0] === "/sets/1/lubeOilPressure" ? one.with(6, "lo-contact") : one));
  const base = { ...kept, ruleBasis: "x", vessel: "x", why: "letter" as const, signatures: new Map<string, string>(), ...ANNA };
  await store.keepPlan({ ...base, version: stored.version, rulebook: "1.0.0 0000", decisions: JSON.stringify(other) });
  const told = await otherRulebook(own.office, stored, planned.value);
  expect([told?.was, told?.is]).toEqual(["1.0.0", rulebook.version]);
  expect(told?.changes.map(({ at }) => at)).toEqual(["/sets/0/lubeOilPressure"]);
  const whatIf = await begun();
  await runWhatIf(own.office, whatIf);
  expect((await whatIfNow(store, whatIf.id))?.outcomes[0]?.outcome.changes.map(({ at }) => at)).toEqual(["/sets/0/lubeOilPressure"]);
  expect((await runAgain(own.office, stored, ANNA)).ok).toBe(true);
  expect(await otherRulebook(own.office, stored, planned.value)).toBeNull();
});

// Last: what is stopped in a process is stopped for good.
test("told to stop, a trial ends between two plans; what is done is kept, and nothing that is not is said to be gone", async () => {
  for (const name of ["old-mechanical", "steam-turbines", "passenger-ship"]) await asked(name);
  const whatIf = await begun();
  startWhatIf(own.office, whatIf);
  await stopWhatIfs();
  const now = await whatIfNow(own.office.store, whatIf.id);
  expect(now?.done).toBeLessThan(3);
  expect(now?.outcomes.map(({ outcome }) => outcome)).toEqual(Array.from({ length: now?.done ?? 0 }, () => ({ changes: [] })));
});
