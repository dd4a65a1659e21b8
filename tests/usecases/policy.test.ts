import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { type PolicyTexts, policyTexts } from "../../lib/flow/policyForm.ts";
import { valueAt } from "../../lib/model/fault.ts";
import { type OfficePolicy, officePolicySchema } from "../../lib/model/officePolicy.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import type { Store, StoredVisit } from "../../lib/store/store.ts";
import { adoptPolicy, dropPolicy } from "../../lib/usecases/policy/decide.ts";
import { keepDraft, seenIn, seenOf, seenText } from "../../lib/usecases/policy/draft.ts";
import { beforeOf, policyInForce, policyVersions } from "../../lib/usecases/policy/inForce.ts";
import { startAgain } from "../../lib/usecases/visits/again.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { createVisit } from "../../lib/usecases/visits/particulars.ts";
import { effectOfPolicy, otherPolicy, takePolicy } from "../../lib/usecases/visits/visitPolicy.ts";
import { visit } from "../cli/cli.ts";
import { by, engines, opened } from "../store/engines.ts";

const planner = newPlanner(rulebook);
const usual = officePolicySchema.parse({});
const TODAY = by("odo").when.slice(0, 10);

const seenNow = async (store: Store) => seenOf(await policyVersions(store));

const keep = async (store: Store, change: PolicyTexts, seen?: string) =>
  keepDraft(
    { store, rulebook },
    { texts: { ...policyTexts(usual), ...change }, note: "a note", seen: seen === undefined ? await seenNow(store) : seenIn(seen) },
    by("odo"),
  );

const adopt = async (store: Store, number: number, from: string, more: object = {}) =>
  adoptPolicy(
    { store, rulebook },
    { number, from, reason: "agreed", replaces: false, acts: (await seenNow(store)).acts, ...more },
    by("odo"),
  );

const faultsOf = (outcome: { readonly ok: boolean; readonly faults?: readonly { readonly id: string; readonly says: string }[] }): string =>
  (outcome.faults ?? []).map(({ id, says }) => `${id}| ${says}`).join("\n");

/** A store in which a policy is in force from today. */
const under = async (store: Store, policy: OfficePolicy): Promise<Store> => {
  const seen = await seenNow(store);
  const kept = await store.addPolicy(policy, "", seen, by("odo"));
  if (!kept.ok) throw new Error(kept.faults.join());
  await store.decidePolicy(kept.value, { act: "adopted", takesEffect: TODAY }, "agreed", seen, by("odo"));
  return store;
};

let made = 0;
const world = {
  now: () => by("anna").when,
  newId: () => {
    made += 1;
    return `v${made}`;
  },
};

const storedOf = async (store: Store, id: string): Promise<StoredVisit> => {
  const stored = await store.visit(id);
  if (stored === null) throw new Error("no visit");
  return stored;
};

const loaded = async (store: Store, name: string): Promise<StoredVisit> => {
  const kept = await importVisit({ store, world, planner }, readFileSync(visit(name), "utf8"), "anna");
  if (!kept.ok) throw new Error(JSON.stringify(kept.faults));
  return storedOf(store, kept.value);
};

describe.each(engines())("%s", (_, address) => {
  test("a draft is kept, adopted from a day and told with what was before it", async () => {
    const store = await opened(address());
    expect(await keep(store, { loadLimit: "70 %" })).toEqual({ ok: true, value: 1 });
    expect(await adopt(store, 1, "4 March")).toEqual({ ok: true, value: "2026-03-04" });
    expect((await policyInForce(store, "2026-03-03")).number).toBe(0);
    expect((await policyInForce(store, "2026-03-04")).policy.plan.loadLimit).toBe(70);
    expect(faultsOf(await keep(store, { loadLimit: "70 %" }))).toContain("Nothing in it differs from policy 1");
    expect(await keep(store, { loadLimit: "60 %" })).toEqual({ ok: true, value: 2 });
    const versions = await policyVersions(store);
    expect(versions.map((version) => beforeOf(versions, version).number)).toEqual([0, 1]);
    expect(await dropPolicy({ store }, { number: 2, reason: "", acts: 1 }, by("odo"))).toEqual({ ok: true, value: true });
    expect(faultsOf(await adopt(store, 2, TODAY))).toContain("decided already");
    await store.close();
  });

  test("what is at fault keeps nothing: fields, what would bar a protection, what would relax a veto", async () => {
    const store = await opened(address());
    expect(faultsOf(await keep(store, { loadLimit: "many" }))).toContain("loadLimit| ");
    expect(faultsOf(await keep(store, { "part-wiring": "no" }))).toMatch(/part-wiring\| .*no method proves the wiring/);
    expect(faultsOf(await keep(store, { coldTemperature: "50 °C" }))).toContain("wanted at most 45 °C");
    expect(await policyVersions(store)).toEqual([]);
    await store.close();
  });

  test("a policy takes effect today or later, with a reason, and replaces one to come only where that is ticked", async () => {
    const store = await opened(address());
    await keep(store, { loadLimit: "70 %" });
    expect(faultsOf(await adopt(store, 1, "2026-03-01", { reason: " " }))).toBe(
      `from| Takes effect on: given “2026-03-01”; wanted today, ${TODAY}, or a later day\nreason| Why: given nothing; wanted a sentence that says why`,
    );
    expect(faultsOf(await adopt(store, 1, ""))).toContain("from| Takes effect on: given nothing");
    expect(faultsOf(await adopt(store, 9, TODAY))).toContain("There is no policy 9");
    expect((await adopt(store, 1, "2026-04-01")).ok).toBe(true);
    await keep(store, { loadLimit: "60 %" });
    expect(faultsOf(await adopt(store, 2, "2026-03-20"))).toContain("replaces| Takes effect on: policy 1 is to take effect on 2026-04-01");
    expect((await adopt(store, 2, "2026-03-20", { replaces: true })).ok).toBe(true);
    expect((await policyInForce(store, "2026-05-01")).number).toBe(2);
    await store.close();
  });

  test("two supervisors at once: who saw less is turned back and nothing of his is kept", async () => {
    const store = await opened(address());
    const seen = seenText(await seenNow(store));
    const both = await Promise.all([keep(store, { loadLimit: "70 %" }, seen), keep(store, { loadLimit: "60 %" }, seen)]);
    expect(both.map(({ ok }) => ok).sort()).toEqual([false, true]);
    expect(both.map(faultsOf).join()).toContain("Somebody else wrote or decided a policy");
    await keep(store, { loadLimit: "50 %" });
    const decided = await Promise.all([1, 2].map((number) => adopt(store, number, TODAY, { acts: 0 })));
    expect(decided.map(({ ok }) => ok).sort()).toEqual([false, true]);
    expect(faultsOf(await keep(store, { loadLimit: "40 %" }, "2.0"))).toContain("Somebody else wrote or decided a policy");
    expect(faultsOf(await keep(store, { loadLimit: "40 %" }, "nonsense"))).toContain("Somebody else wrote or decided a policy");
    expect(await policyVersions(store)).toHaveLength(2);
    await store.close();
  });

  test("a new visit takes over the policy in force, letterhead and all; another of the same vessel does, but for its letterhead", async () => {
    const policy = officePolicySchema.parse({ plan: { loadLimit: 70, office: { name: "Harbour office" } } });
    const store = await opened(address());
    const texts = { "/visit/vessel/name": "Sundalis Reach" };
    await createVisit({ store, rulebook }, { id: "before", texts, sets: "One", alike: false }, by("anna"));
    expect(valueAt((await storedOf(store, "before")).frame, "/policy")).toBeUndefined();
    const own = await loaded(store, "old-mechanical");
    await under(store, policy);
    await createVisit({ store, rulebook }, { id: "after", texts, sets: "One", alike: false }, by("anna"));
    expect(valueAt((await storedOf(store, "after")).frame, "/policy")).toEqual(policy.plan);
    expect(otherPolicy(await storedOf(store, "after"), await policyInForce(store, TODAY), rulebook)).toEqual([]);
    const again = await storedOf(store, await startAgain({ store, rulebook, world }, own, new Set(), by("anna"), "again"));
    expect(valueAt(again.frame, "/policy/loadLimit")).toBe(70);
    expect(valueAt(again.frame, "/policy/office")).toEqual(valueAt(own.frame, "/policy/office"));
    await store.close();
  });

  test("a visit under another policy is told what differs and what taking it would change, and takes it once", async () => {
    const store = await opened(address());
    const stored = await loaded(store, "old-mechanical");
    expect(otherPolicy(stored, await policyInForce(store, TODAY), rulebook)).toEqual([]);
    await under(
      store,
      officePolicySchema.parse({
        plan: { mayStayOpen: ["wiring", "final"], loadLimit: 80, leaveOut: ["fuelShutOff"] },
        review: { consent: ["wiring"] },
      }),
    );
    const inForce = await policyInForce(store, TODAY);
    expect(otherPolicy(stored, inForce, rulebook).map(({ id }) => id)).toEqual(["loadLimit", "part-sensing", "leaveOut"]);
    const effect = effectOfPolicy(stored, inForce, planner);
    const ways = "ways" in effect ? effect.ways : [];
    expect(ways.filter(({ now }) => now === "Not proven").map(({ at }) => at)).toContain("/sets/0/fuelShutOff");
    expect(ways.every(({ was, now }) => was !== now)).toBe(true);
    const seen = { version: stored.version, policy: 1 };
    expect(await takePolicy(store, stored, inForce, { ...seen, policy: 2 }, by("anna"))).toMatchObject({ ok: false });
    expect(await takePolicy(store, stored, inForce, { ...seen, version: 0 }, by("anna"))).toMatchObject({ ok: false });
    expect(await takePolicy(store, stored, inForce, seen, by("anna", 1))).toMatchObject({ ok: true });
    const after = await storedOf(store, stored.id);
    expect(otherPolicy(after, inForce, rulebook)).toEqual([]);
    expect(valueAt(after.frame, "/policy/office")).toEqual(valueAt(stored.frame, "/policy/office"));
    expect(await takePolicy(store, stored, inForce, seen, by("boris", 2))).toMatchObject({ ok: false });
    await store.close();
  });
});
