import { describe, expect, test } from "vitest";
import type { KeptPlan } from "../../lib/store/plans.ts";
import { QUICKER, type ReviewEvent } from "../../lib/store/reviews.ts";
import type { Store } from "../../lib/store/store.ts";
import { by, engines, FRAME, opened } from "./engines.ts";

const plan = (visit: string, version: number, more: Partial<KeptPlan> = {}): KeptPlan => ({
  visit,
  version,
  why: "letter",
  rulebook: "2.5.1 x",
  ruleBasis: "SOLAS and class",
  vessel: "Sundalis Reach",
  file: "{}",
  sets: [1, 2],
  decisions: "[]",
  signatures: new Map([["m1", "[]"]]),
  ...by("anna", version),
  ...more,
});

const event = (number: number, more: Partial<ReviewEvent> = {}): ReviewEvent => ({
  visit: "v1",
  number,
  act: "asked",
  version: 1,
  words: "",
  marks: {},
  ...by("anna", number),
  ...more,
});

describe.each(engines())("%s", (_, address) => {
  const office = async (): Promise<Store> => {
    const store = await opened(address());
    for (const id of ["v1", "v2"]) await store.createVisit(id, "anna", FRAME, [], by("anna"));
    return store;
  };

  test("a plan takes the place of an older version of its visit, never of a later one, and bears a number above all before", async () => {
    const store = await office();
    await store.keepPlan(plan("v1", 3));
    await store.keepPlan(
      plan("v2", 1, {
        signatures: new Map([
          ["m1", "[]"],
          ["m2", '[["a","b"]]'],
        ]),
      }),
    );
    await store.keepPlan(plan("v1", 2, { vessel: "Older" }));
    expect((await store.plansSince(0)).map(({ visit, seq, version, owner }) => [visit, seq, version, owner])).toEqual([
      ["v1", 1, 3, "anna"],
      ["v2", 2, 1, "anna"],
    ]);
    await store.keepPlan(plan("v1", 4, { vessel: "Newer" }));
    expect((await store.plansSince(2)).map(({ visit, seq, vessel }) => [visit, seq, vessel])).toEqual([["v1", 3, "Newer"]]);
    expect(await store.plansNow()).toEqual({ seq: 3, count: 2 });
    expect([...(await store.signatures())].sort()).toEqual([
      ["m1", "[]"],
      ["m2", '[["a","b"]]'],
    ]);
    expect([...(await store.signatures(["m2", "none"]))]).toEqual([["m2", '[["a","b"]]']]);
    expect((await store.planFiles(["v1"])).map(({ sets }) => sets)).toEqual([[1, 2]]);
    await store.close();
  });

  test("of two events with one number one is kept, the other is told, with nothing of its comments", async () => {
    const store = await office();
    const comment = { id: "c1", visit: "v1", at: "", words: "see", ...by("odo", 1) };
    const both = await Promise.all([
      store.addReview(event(1), []),
      store.addReview(event(1, { act: "approved", ...by("odo", 1) }), [comment]),
    ]);
    expect(both.filter(({ ok }) => ok).length).toBe(1);
    expect(both.find(({ ok }) => !ok)).toEqual({ ok: false, faults: [QUICKER] });
    const kept = await store.reviewOf("v1");
    expect(kept.length).toBe(1);
    expect((await store.commentsOf("v1")).length).toBe(kept[0]?.act === "approved" ? 1 : 0);
    await store.close();
  });

  test("the last event of each visit is told, and what was done is neither changed nor taken out", async () => {
    const store = await office();
    await store.addReview(event(1), []);
    await store.addReview(event(2, { act: "sent back", words: "why", marks: {} }), []);
    await store.addReview(event(1, { visit: "v2", act: "approved", marks: { "/sets/1/overspeed": "x" } }), []);
    expect((await store.reviewsNow()).map(({ visit, act, number }) => [visit, act, number])).toEqual([
      ["v2", "approved", 1],
      ["v1", "sent back", 2],
    ]);
    expect((await store.reviewOf("v2"))[0]?.marks).toEqual({ "/sets/1/overspeed": "x" });
    expect((await store.visitHeads(["v1", "none"])).get("v1")).toEqual({
      vessel: "Sundalis Reach",
      owner: "anna",
      version: 1,
      begins: null,
    });
    expect(await store.addReview(event(1, { visit: "none" }), [])).toEqual({ ok: false, faults: ["there is no such visit"] });
    await store.close();
  });

  test("a finding is settled once for each look at it; plans that are sent back with it get their next number", async () => {
    const store = await office();
    await store.addReview(event(1), []);
    const settled = {
      finding: "f1",
      number: 1,
      how: "sent back",
      words: "no",
      about: "x",
      covers: ["v1 /sets/1/x m"],
      ...by("odo", 3),
    } as const;
    const back = { visit: "v1", act: "sent back", version: 1, words: "no", marks: {}, ...by("odo", 3) } as const;
    expect(await store.settleFinding(settled, [back])).toEqual({ ok: true, value: true });
    expect(await store.settleFinding({ ...settled, words: "again" }, [back])).toEqual({ ok: false, faults: [QUICKER] });
    expect((await store.reviewOf("v1")).map(({ number, act }) => [number, act])).toEqual([
      [1, "asked"],
      [2, "sent back"],
    ]);
    expect(await store.settledFindings()).toEqual([settled]);
    await store.close();
  });

  test("what is tried is kept with the plans it was tried on, each once", async () => {
    const store = await office();
    const whatIf = { id: "w1", about: { sort: "rulebook", name: "x" }, plans: ["v1", "v2"], ...by("odo", 1) };
    await store.beginWhatIf(whatIf);
    expect(await store.whatIf("w1")).toEqual(whatIf);
    expect(await store.whatIf("w2")).toBeNull();
    await store.keepWhatIfPlans("w1", [{ visit: "v1", outcome: { changes: [] } }]);
    await store.keepWhatIfPlans("w1", [
      { visit: "v1", outcome: { changes: [], fault: "later" } },
      { visit: "v2", outcome: { changes: [] } },
    ]);
    expect(await store.whatIfPlans("w1")).toEqual([
      { visit: "v1", outcome: { changes: [] } },
      { visit: "v2", outcome: { changes: [] } },
    ]);
    expect((await store.whatIfs(5)).map(({ id }) => id)).toEqual(["w1"]);
    await store.close();
  });
});
