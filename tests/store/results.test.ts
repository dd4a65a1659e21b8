import { Kysely, sql } from "kysely";
import { describe, expect, test } from "vitest";
import { databaseOf } from "../../lib/store/database.ts";
import type { Store } from "../../lib/store/store.ts";
import { by, engines, FRAME, opened } from "./engines.ts";

const AT = "/sets/1/overspeed";

describe.each(engines())("%s", (_, address) => {
  const withVisit = async (at = address()): Promise<Store> => {
    const store = await opened(at);
    await store.createVisit("v1", "anna", FRAME, [], by("anna"));
    return store;
  };

  test("every entry is kept with who and when, the latest of a test first, and the visit is not changed by it", async () => {
    const store = await withVisit();
    expect(await store.resultsOf("v1")).toEqual([]);
    expect(await store.keepResults("v1", [{ at: AT, value: { outcome: "as planned" }, seen: 0 }], by("anna", 1))).toEqual({
      ok: true,
      value: [],
    });
    expect(await store.keepResults("v1", [{ at: AT, value: { outcome: "not done" }, seen: 1 }], by("boris", 2))).toEqual({
      ok: true,
      value: [],
    });
    expect(await store.keepResults("v1", [{ at: AT, seen: 2 }], by("anna", 3))).toEqual({ ok: true, value: [] });
    await store.keepResults("v1", [{ at: "/sets/2/handStop", value: { outcome: "as planned" }, seen: 0 }], by("boris", 4));
    expect(await store.resultsOf("v1")).toEqual([
      { at: AT, version: 3, ...by("anna", 3) },
      { at: AT, version: 2, value: { outcome: "not done" }, ...by("boris", 2) },
      { at: AT, version: 1, value: { outcome: "as planned" }, ...by("anna", 1) },
      { at: "/sets/2/handStop", version: 1, value: { outcome: "as planned" }, ...by("boris", 4) },
    ]);
    expect(await store.visit("v1")).toMatchObject({ version: 1, changedBy: "anna", changedAt: by("anna").when });
    expect(await store.keepResults("v2", [{ at: AT, value: 1, seen: 0 }], by("anna"))).toEqual({
      ok: false,
      faults: ["there is no such visit"],
    });
    await store.close();
  });

  test("sent twice it is one entry; what somebody else entered meanwhile is told and not overwritten", async () => {
    const store = await withVisit();
    const write = { at: AT, value: { outcome: "as planned", words: "a" }, seen: 0 };
    await store.keepResults("v1", [write], by("anna", 1));
    await store.keepResults("v1", [{ ...write, value: { words: "a", outcome: "as planned" } }], by("anna", 2));
    expect(await store.resultsOf("v1")).toHaveLength(1);
    const other = { at: "/sets/2/overspeed", value: { outcome: "not done" }, seen: 0 };
    const met = await store.keepResults("v1", [{ at: AT, value: { outcome: "not done" }, seen: 0 }, other], by("boris", 3));
    expect(met).toEqual({
      ok: true,
      value: [{ at: AT, yours: { outcome: "not done" }, theirs: { at: AT, version: 1, value: write.value, ...by("anna", 1) } }],
    });
    expect((await store.resultsOf("v1")).map(({ at, version }) => `${at} ${version}`)).toEqual([`${AT} 1`, "/sets/2/overspeed 1"]);
    // Who saw it may; and who only sends along what he saw before enters nothing.
    await store.keepResults("v1", [{ at: AT, value: { outcome: "not done" }, seen: 1 }], by("boris", 4));
    expect(await store.keepResults("v1", [{ ...write, seen: 1 }], by("anna", 5))).toEqual({ ok: true, value: [] });
    expect((await store.resultsOf("v1"))[0]).toMatchObject({ version: 2, value: { outcome: "not done" } });
    await store.close();
  });

  test("many at once: of entries of one test one wins and the others are told, and none of another test is lost", async () => {
    const store = await withVisit();
    const same = ["a", "b", "c", "d"].map((words) => store.keepResults("v1", [{ at: AT, value: { words }, seen: 0 }], by(words)));
    const others = Array.from({ length: 20 }, (_unused, n) =>
      store.keepResults("v1", [{ at: `/sets/2/k${n}`, value: n, seen: 0 }], by("e")),
    );
    const told = (await Promise.all(same)).map((outcome) => (outcome.ok ? outcome.value.length : -1));
    expect([...told].sort()).toEqual([0, 1, 1, 1]);
    await Promise.all(others);
    expect(await store.resultsOf("v1")).toHaveLength(21);
    await store.close();
  });

  test("the database itself refuses to change or take out an entry", async () => {
    const where = address();
    const store = await withVisit(where);
    await store.keepResults("v1", [{ at: AT, value: 1, seen: 0 }], by("anna", 1));
    const db = new Kysely<unknown>({ dialect: databaseOf(where).dialect });
    await expect(sql`update result set value = '2'`.execute(db)).rejects.toThrow("kept for ever");
    await expect(sql`delete from result`.execute(db)).rejects.toThrow("kept for ever");
    await db.destroy();
    expect((await store.resultsOf("v1"))[0]?.value).toBe(1);
    await store.close();
  });
});
