import { Kysely, sql } from "kysely";
import { describe, expect, test } from "vitest";
import { type OfficePolicy, officePolicySchema } from "../../lib/model/officePolicy.ts";
import { databaseOf } from "../../lib/store/database.ts";
import { adoptedIn, policyInForce, policyVersion, policyVersions, toComeOf } from "../../lib/usecases/policy/inForce.ts";
import { by, engines, opened } from "./engines.ts";

const limited = (loadLimit: number): OfficePolicy => officePolicySchema.parse({ plan: { loadLimit } });
const QUICKER = { ok: false, faults: ["somebody else was quicker"] };

describe.each(engines())("%s", (_, address) => {
  test("the defaults hold until a policy is adopted, and each from its own day", async () => {
    const store = await opened(address());
    expect(await policyInForce(store, "2026-03-02")).toMatchObject({ number: 0, since: null, policy: { plan: { loadLimit: 85 } } });
    expect(await store.addPolicy(limited(70), "hot summers", { versions: 0, acts: 0 }, by("odo"))).toEqual({ ok: true, value: 1 });
    expect((await policyVersion(store, 1))?.decided).toBeNull();
    expect((await policyInForce(store, "2030-01-01")).number).toBe(0);
    const adopted = { act: "adopted", takesEffect: "2026-03-10" } as const;
    expect(await store.decidePolicy(1, adopted, "agreed", { acts: 0 }, by("odo", 1))).toEqual({ ok: true, value: true });
    expect((await policyInForce(store, "2026-03-09")).number).toBe(0);
    expect(await policyInForce(store, "2026-03-10")).toMatchObject({ number: 1, since: "2026-03-10", policy: { plan: { loadLimit: 70 } } });
    expect(await store.addPolicy(limited(60), "", { versions: 1, acts: 1 }, by("odo", 2))).toEqual({ ok: true, value: 2 });
    expect(await store.decidePolicy(2, { act: "dropped" }, "no", { acts: 1 }, by("ida", 3))).toEqual({ ok: true, value: true });
    expect((await policyInForce(store, "2026-05-01")).number).toBe(1);
    expect(await policyVersion(store, 2)).toEqual({
      number: 2,
      policy: limited(60),
      note: "",
      ...by("odo", 2),
      decided: { number: 2, act: "dropped", note: "no", ...by("ida", 3) },
    });
    expect(await policyVersion(store, 3)).toBeNull();
    await store.close();
  });

  test("one adopted for an earlier day replaces what was yet to come", async () => {
    const store = await opened(address());
    for (const [place, day] of ["2026-03-10", "2026-04-01", "2026-03-20"].entries()) {
      await store.addPolicy(limited(50 + place), "", { versions: place, acts: place }, by("odo"));
      await store.decidePolicy(place + 1, { act: "adopted", takesEffect: day }, "", { acts: place }, by("odo"));
    }
    const days = ["2026-03-09", "2026-03-10", "2026-03-20", "2026-04-01"];
    expect(await Promise.all(days.map(async (day) => (await policyInForce(store, day)).number))).toEqual([0, 1, 3, 3]);
    const versions = await policyVersions(store);
    expect(adoptedIn(versions).map(({ number }) => number)).toEqual([1, 2, 3]);
    expect(toComeOf(versions, "2026-03-02").map(({ number }) => number)).toEqual([1, 3]);
    expect(toComeOf(versions, "2026-03-10").map(({ number }) => number)).toEqual([3]);
    await store.close();
  });

  test("of those who write or decide at once one is kept and the others are turned back", async () => {
    const store = await opened(address());
    const people = ["a", "b", "c", "d"];
    const written = await Promise.all(people.map((who) => store.addPolicy(limited(50), who, { versions: 0, acts: 0 }, by(who))));
    expect(written.filter(({ ok }) => ok)).toEqual([{ ok: true, value: 1 }]);
    expect(written.filter(({ ok }) => !ok)).toEqual([QUICKER, QUICKER, QUICKER]);
    await store.addPolicy(limited(60), "", { versions: 1, acts: 0 }, by("a"));
    const decided = await Promise.all(
      people.map((who, place) =>
        store.decidePolicy((place % 2) + 1, { act: "adopted", takesEffect: "2026-03-10" }, who, { acts: 0 }, by(who)),
      ),
    );
    expect(decided.filter(({ ok }) => ok)).toHaveLength(1);
    expect(adoptedIn(await policyVersions(store))).toHaveLength(1);
    // Whoever began before somebody decided is told so; and no draft is decided twice.
    expect(await store.addPolicy(limited(70), "", { versions: 2, acts: 0 }, by("b"))).toEqual(QUICKER);
    const [first] = adoptedIn(await policyVersions(store));
    expect(await store.decidePolicy(first?.number ?? 0, { act: "dropped" }, "", { acts: 1 }, by("b"))).toEqual(QUICKER);
    await store.close();
  });

  test("the database itself refuses to change or take out a policy or what was decided", async () => {
    const where = address();
    const store = await opened(where);
    await store.addPolicy(limited(50), "", { versions: 0, acts: 0 }, by("odo"));
    await store.decidePolicy(1, { act: "dropped" }, "", { acts: 0 }, by("odo"));
    const db = new Kysely<unknown>({ dialect: databaseOf(where).dialect });
    for (const table of ["policy_version", "policy_act"]) {
      await expect(sql`update ${sql.table(table)} set note = 'x'`.execute(db)).rejects.toThrow("kept for ever");
      await expect(sql`delete from ${sql.table(table)}`.execute(db)).rejects.toThrow("kept for ever");
    }
    await db.destroy();
    await store.close();
  });
});
