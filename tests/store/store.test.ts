import { writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { Kysely, sql } from "kysely";
import { describe, expect, test } from "vitest";
import { databaseOf } from "../../lib/store/database.ts";
import { openStore } from "../../lib/store/open.ts";
import type { Act, Frame, Store, Write } from "../../lib/store/store.ts";
import { scratch } from "../cli/cli.ts";
import { by, engines, FRAME, opened } from "./engines.ts";

describe.each(engines())("%s", (_, address) => {
  const withVisit = async (): Promise<{ store: Store; close: () => Promise<void> }> => {
    const store = await opened(address());
    await store.createVisit("v1", "anna", FRAME, [{ at: "/sets/1/primeMover", value: "diesel" }], by("anna"));
    return { store, close: store.close };
  };

  const saved = async (store: Store, writes: readonly Write[], act: Act) => {
    const outcome = await store.saveAnswers("v1", writes, act);
    if (!outcome.ok) throw new Error(outcome.faults.join());
    return outcome.value;
  };

  test("a visit is kept with its frame, its sets and its answers, who gave them and when", async () => {
    const { store, close } = await withVisit();
    const visit = await store.visit("v1");
    expect(visit).toMatchObject({ id: "v1", version: 1, owner: "anna", frame: FRAME.frame, sets: [1, 2], changedBy: "anna" });
    expect([...(visit?.answers ?? [])]).toEqual([
      ["/sets/1/primeMover", { value: "diesel", version: 1, who: "anna", when: by("anna").when }],
    ]);
    expect(await store.visit("v2")).toBeNull();
    expect(await store.saveAnswers("v2", [], by("anna"))).toEqual({ ok: false, faults: ["there is no such visit"] });
    expect(await store.saveFrame("v2", FRAME, 1, by("anna"))).toEqual({ ok: false, faults: ["there is no such visit"] });
    await close();
  });

  test("nothing is overwritten without a record, and the same answer twice is one", async () => {
    const { store, close } = await withVisit();
    const at = "/sets/1/primeMover";
    expect(await saved(store, [{ at, value: "steam turbine", seen: 1 }], by("boris", 1))).toEqual({ version: 2, conflicts: [] });
    expect(await saved(store, [{ at, value: "steam turbine", seen: 1 }], by("boris", 2))).toEqual({ version: 2, conflicts: [] });
    expect(await saved(store, [{ at, seen: 2 }], by("anna", 3))).toEqual({ version: 3, conflicts: [] });
    expect(await store.history("v1", at)).toEqual([
      { version: 3, ...by("anna", 3) },
      { version: 2, value: "steam turbine", ...by("boris", 1) },
      { version: 1, value: "diesel", ...by("anna") },
    ]);
    expect((await store.visit("v1"))?.version).toBe(3);
    await close();
  });

  test("what a person typed on the pages of a visit is found by the visit, and by nobody else", async () => {
    const { store, close } = await withVisit();
    await store.keepTyped("v1 rules", "[1]", by("anna", 1));
    await store.keepTyped("v1 sets/id 2/plate", "[2]", by("anna", 2));
    await store.keepTyped("v1 rules", "[3]", by("boris", 3));
    await store.keepTyped("v10 rules", "[4]", by("anna", 4));
    expect(await store.typedOf("v1", "anna")).toEqual([
      { page: "v1 rules", text: "[1]", when: by("anna", 1).when },
      { page: "v1 sets/id 2/plate", text: "[2]", when: by("anna", 2).when },
    ]);
    await store.keepTyped("v1 rules", null, by("anna", 5));
    expect((await store.typedOf("v1", "anna")).map(({ page }) => page)).toEqual(["v1 sets/id 2/plate"]);
    await close();
  });

  test("two people answer at once: what they both answered is told with both values, the rest is kept", async () => {
    const { store, close } = await withVisit();
    const [at, other] = ["/sets/2/overspeed/setPoint", "/sets/2/overspeed/fitted"];
    await saved(store, [{ at, value: { value: 2070, unit: "rpm" }, seen: 0 }], by("anna", 1));
    const late = await saved(
      store,
      [
        { at, value: 2050, seen: 0 },
        { at: other, value: "trip", seen: 0 },
      ],
      by("boris", 2),
    );
    expect(late.conflicts).toEqual([{ at, yours: 2050, theirs: { version: 2, value: { value: 2070, unit: "rpm" }, ...by("anna", 1) } }]);
    const visit = await store.visit("v1");
    expect(visit?.answers.get(at)?.value).toEqual({ value: 2070, unit: "rpm" });
    expect(visit?.answers.get(other)?.value).toBe("trip");
    // The same number written with its keys the other way round is no other answer.
    expect((await saved(store, [{ at, value: { unit: "rpm", value: 2070 }, seen: 0 }], by("boris", 3))).conflicts).toEqual([]);
    // Who has seen the newer answer may change it.
    expect((await saved(store, [{ at, value: 2050, seen: 2 }], by("boris", 4))).conflicts).toEqual([]);
    await close();
  });

  test("a frame that somebody else changed meanwhile is refused whole, and nothing is counted", async () => {
    const { store, close } = await withVisit();
    const three: Frame = { ...FRAME, sets: [1, 2, 3] };
    expect(await store.saveFrame("v1", three, 1, by("anna", 1))).toEqual({ ok: true, value: { version: 2 } });
    const late = await store.saveFrame("v1", { ...FRAME, sets: [2] }, 1, by("boris", 2));
    expect(late.ok).toBe(false);
    expect(await store.visit("v1")).toMatchObject({ version: 2, sets: [1, 2, 3], changedBy: "anna" });
    // Answers given meanwhile are no change of the frame.
    await saved(store, [{ at: "/ruleBasis", value: "SOLAS and class", seen: 0 }], by("boris", 3));
    expect((await store.saveFrame("v1", FRAME, 2, by("anna", 4))).ok).toBe(true);
    await close();
  });

  test("forty at once: no answer is lost, no version is given twice, one of two at the same place wins", async () => {
    const { store, close } = await withVisit();
    const writes = Array.from({ length: 40 }, (_unused, n) => saved(store, [{ at: `/plant/p${n}`, value: n, seen: 0 }], by(`p${n}`)));
    const versions = (await Promise.all(writes)).map(({ version }) => version);
    expect(new Set(versions).size).toBe(40);
    const same = await Promise.all(["a", "b", "c"].map((value) => saved(store, [{ at: "/plant/same", value, seen: 0 }], by(value))));
    expect(same.filter(({ conflicts }) => conflicts.length === 0)).toHaveLength(1);
    const visit = await store.visit("v1");
    for (let n = 0; n < 40; n += 1) expect(visit?.answers.get(`/plant/p${n}`)?.value).toBe(n);
    expect(visit?.version).toBe(42);
    await close();
  });

  test("any order of writes leaves what a plain list of them would", async () => {
    const store = await opened(address());
    const step = fc.record({
      at: fc.constantFrom("/a", "/b", "/c"),
      value: fc.option(fc.constantFrom("x", "y", 1, 2.5), { nil: undefined }),
      stale: fc.boolean(),
    });
    let visits = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(step, { maxLength: 12 }), async (steps) => {
        visits += 1;
        const id = `w${visits}`;
        await store.createVisit(id, "anna", FRAME, [], by("anna"));
        const model = new Map<string, { value: string | number | undefined; version: number }>();
        let version = 1;
        for (const { at, value, stale } of steps) {
          const mine = model.get(at);
          const seen = stale ? 0 : (mine?.version ?? 0);
          const outcome = await store.saveAnswers(id, [{ at, ...(value === undefined ? {} : { value }), seen }], by("anna"));
          if (!outcome.ok) throw new Error(outcome.faults.join());
          const news = value !== mine?.value;
          const met = news && mine !== undefined && mine.version > seen;
          // Whoever saw nothing and gives nothing has changed nothing: what came meanwhile stands, and is no conflict.
          expect(outcome.value.conflicts.length).toBe(met && value !== undefined ? 1 : 0);
          if (!news || met) continue;
          version += 1;
          model.set(at, { value, version });
        }
        const visit = await store.visit(id);
        expect(visit?.version).toBe(version);
        for (const [at, { value, version: own }] of model)
          expect(visit?.answers.get(at)).toMatchObject({ version: own, ...(value === undefined ? {} : { value }) });
        expect(visit?.answers.size).toBe(model.size);
      }),
      { numRuns: 25 },
    );
    await store.close();
  });

  test("visits are listed by owner, the last changed first, part by part", async () => {
    const store = await opened(address());
    for (let n = 0; n < 12; n += 1)
      await store.createVisit(`v${n}`, n % 2 === 0 ? "anna" : "boris", { ...FRAME, vessel: `Vessel ${n}` }, [], by("anna", n));
    expect((await store.listVisits({ limit: 3 })).map(({ id }) => id)).toEqual(["v11", "v10", "v9"]);
    expect((await store.listVisits({ limit: 3, offset: 3 })).map(({ id }) => id)).toEqual(["v8", "v7", "v6"]);
    const own = await store.listVisits({ owner: "anna", limit: 50 });
    expect(own.map(({ vessel }) => vessel)).toEqual(["Vessel 10", "Vessel 8", "Vessel 6", "Vessel 4", "Vessel 2", "Vessel 0"]);
    await store.close();
  });

  test("a letter that was made is kept byte for byte with what it was made from", async () => {
    const { store, close } = await withVisit();
    const pdf = Uint8Array.from({ length: 70_000 }, (_unused, n) => (n * 31) % 256);
    const made = { id: "m1", visit: "v1", version: 1, rulebook: "2.1.0 44b75812a8199414", file: "{}", plan: "{}", pdf, ...by("anna") };
    await store.keepMade(made);
    expect(await store.made("m1")).toEqual(made);
    expect(await store.madeOf("v1")).toEqual([{ id: "m1", visit: "v1", version: 1, rulebook: made.rulebook, ...by("anna") }]);
    expect(await store.made("m2")).toBeNull();
    await expect(store.keepMade({ ...made, id: "m2", visit: "none" })).rejects.toThrow();
    await close();
  });

  test("the record of what was done cannot be changed or thinned out by the program", async () => {
    const at = address();
    const store = await opened(at);
    await store.audit({ act: "sign in", subject: "anna", detail: "", ...by("anna") });
    await store.audit({ act: "save", subject: "v1", detail: "3 answers", ...by("anna", 1) });
    expect((await store.audited(1)).map(({ act }) => act)).toEqual(["save"]);
    await store.close();
    const raw = new Kysely<unknown>({ dialect: databaseOf(at).dialect });
    await expect(sql`update audit set who = 'nobody'`.execute(raw)).rejects.toThrow("kept for ever");
    await expect(sql`delete from audit`.execute(raw)).rejects.toThrow("kept for ever");
    const rows = await sql<{ n: number | string }>`select count(*) as n from audit`.execute(raw);
    expect(Number(rows.rows[0]?.n)).toBe(2);
    await raw.destroy();
  });

  test("five that start at once on an empty database find one set of tables; a second start changes nothing", async () => {
    const at = address();
    const stores = await Promise.all(Array.from({ length: 5 }, () => opened(at)));
    await stores[0]?.createVisit("v1", "anna", FRAME, [], by("anna"));
    for (const store of stores) expect((await store.visit("v1"))?.version).toBe(1);
    await Promise.all(stores.map(({ close }) => close()));
    const again = await opened(at);
    expect((await again.visit("v1"))?.owner).toBe("anna");
    await again.close();
  });
});

test("what cannot be opened is told with its reason", async () => {
  const path = join(scratch(), "not-a-database.db");
  writeFileSync(path, "plain text, long enough to be no header of a database at all".repeat(40));
  const broken = await openStore(path);
  expect(broken.ok ? "" : broken.faults.join()).toMatch(/^the database cannot be (opened|brought up to date): .*not a database/);
  const away = await openStore("postgres://forehail@127.0.0.1:1/none");
  expect(away.ok ? "" : away.faults.join()).toMatch(/^the database cannot be .*ECONNREFUSED/);
});
