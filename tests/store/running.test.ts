import { setTimeout as pause } from "node:timers/promises";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { openAccounts } from "../../lib/access/accounts.ts";
import { openDatabase } from "../../lib/store/database.ts";
import type { Store } from "../../lib/store/store.ts";
import { alone, unlessUnderWay } from "../../lib/usecases/alone.ts";
import { putOnce, takeOnce } from "../../lib/usecases/toldOnce.ts";
import { engines, opened } from "./engines.ts";

const SECRET = "a secret of the office, for tests only";
const NOW = Date.parse("2026-03-02T08:00:00Z");

const hiding = (store: Store, clock = () => Date.now()) => ({ store, secret: SECRET, clock });

describe.each(engines())("what copies of the program share on %s", (name, address) => {
  /** Two copies of the program: on one database each has a store of its own; the embedded one in one process. */
  const copies = async (): Promise<readonly [Store, Store]> => {
    const at = address();
    return [await opened(at), await opened(at)];
  };
  const closed = async (stores: readonly Store[]): Promise<void> => {
    for (const store of stores) await store.close();
  };

  test("copies that start at once on an empty database all open it", async () => {
    const at = address();
    const open = await Promise.all(
      Array.from({ length: name === "SQLite" ? 2 : 6 }, async () => {
        const database = await openDatabase(at);
        if (!database.ok) throw new Error(database.faults.join());
        const accounts = await openAccounts(database.value, { secret: SECRET, url: "https://plans.example" });
        return { db: database.value.db, isEmpty: await accounts.isEmpty() };
      }),
    );
    expect(open.every(({ isEmpty }) => isEmpty)).toBe(true);
    for (const { db } of open) await db.destroy();
  });

  test("what one copy puts by is told by another, once, to whom it is for", async () => {
    const both = await copies();
    const [one, other] = both;
    const id = await putOnce(hiding(one), "mara", { links: ["https://plans.example/reply/secret-code"] });
    expect(await takeOnce(hiding(other), id, "odo")).toBeNull();
    expect(await takeOnce(hiding(other), id, "mara")).toEqual({ links: ["https://plans.example/reply/secret-code"] });
    expect(await takeOnce(hiding(one), id, "mara")).toBeNull();
    expect(await takeOnce(hiding(one), "nothing", "mara")).toBeNull();
    await closed(both);
  });

  test("of what is told once the database holds neither the words nor what it is asked for by; it runs out after ten minutes", async () => {
    const both = await copies();
    const [store] = both;
    let now = NOW;
    const id = await putOnce(
      hiding(store, () => now),
      "mara",
      "secret-code",
    );
    const seen: string[] = [];
    const spying: Store = {
      ...store,
      takeOnce: async (mark, ...rest) => {
        const kept = await store.takeOnce(mark, ...rest);
        seen.push(mark, kept ?? "");
        return kept;
      },
    };
    now += 11 * 60_000;
    expect(
      await takeOnce(
        hiding(spying, () => now),
        id,
        "mara",
      ),
    ).toBeNull();
    now = NOW;
    const again = await putOnce(
      hiding(store, () => now),
      "mara",
      "secret-code",
    );
    expect(await takeOnce({ ...hiding(spying, () => now), secret: "another secret, of nobody in this office" }, again, "mara")).toBeNull();
    expect(seen.join()).not.toContain(id);
    expect(seen.join()).not.toContain(again);
    expect(Buffer.from(seen.at(-1) ?? "", "base64url").toString("latin1")).not.toContain("secret-code");
    expect(seen.at(-1)?.length).toBeGreaterThan(30);
    await closed(both);
  });

  test("pressed twice at two copies an act is done once, and both are told the same", async () => {
    const both = await copies();
    const [one, other] = both;
    let times = 0;
    const act = async (): Promise<string> => {
      times += 1;
      await pause(300);
      return `/outcome?${times}`;
    };
    const told = await Promise.all([
      alone(hiding(one), "send v1 1 mara", "page", act),
      alone(hiding(other), "send v1 1 mara", "page", act),
      alone(hiding(other), "send v1 1 mara", "page", act),
    ]);
    expect(times).toBe(1);
    expect(new Set(told)).toEqual(new Set(["/outcome?1"]));
    // Another act goes on meanwhile.
    expect(await alone(hiding(one), "send v2 1 mara", "page", act)).toBe("/outcome?2");
    await closed(both);
  });

  test("whoever presses on another page waits, learns nothing of the first outcome and does it himself", async () => {
    const both = await copies();
    const [one, other] = both;
    const under: number[] = [];
    let now = 0;
    const act = async (): Promise<string> => {
      now += 1;
      under.push(now);
      await pause(200);
      now -= 1;
      return `/outcome?${under.length}`;
    };
    const told = await Promise.all([alone(hiding(one), "link v1", "page", act), alone(hiding(other), "link v1", "other page", act)]);
    expect(under).toEqual([1, 1]);
    expect(new Set(told).size).toBe(2);
    await closed(both);
  });

  test("an act that fails is free at once; one whose process was killed after a quarter of a minute", async () => {
    const both = await copies();
    const [one, other] = both;
    await expect(alone(hiding(one), "send", "page", () => Promise.reject(new Error("no letter")))).rejects.toThrow("no letter");
    expect(await alone(hiding(other), "send", "page", () => Promise.resolve("/done"))).toBe("/done");
    expect(await one.beginAct("killed", "a process", NOW, NOW + 15_000)).toBe(true);
    const later = (ms: number) => unlessUnderWay({ store: other, clock: () => NOW + ms }, "killed", () => Promise.resolve("done"));
    expect(await later(14_000)).toBeNull();
    expect(await later(16_000)).toEqual({ outcome: "done" });
    await closed(both);
  });

  test("many at once: of all who begin an act exactly one does", async () => {
    const both = await copies();
    const began = await Promise.all(
      Array.from({ length: 20 }, (_, place) => both[place % 2 === 0 ? 0 : 1].beginAct("act", `holder ${place}`, NOW, NOW + 1000)),
    );
    expect(began.filter(Boolean)).toHaveLength(1);
    await closed(both);
  });

  test("a door lets through so many at once and then one in a while, whichever copy they come to", async () => {
    const both = await copies();
    await fc.assert(
      fc.asyncProperty(
        fc.uuid(),
        fc.record({ every: fc.integer({ min: 1, max: 5000 }), burst: fc.integer({ min: 1, max: 12 }) }),
        fc.array(fc.integer({ min: 0, max: 6000 }), { minLength: 1, maxLength: 25 }),
        async (door, pace, gaps) => {
          // The same counted plainly: a bucket that holds `burst`, and is filled by one every so many milliseconds.
          let [now, full, since] = [NOW, pace.burst, NOW];
          for (const [place, gap] of gaps.entries()) {
            now += gap;
            full = Math.min(pace.burst, full + (now - since) / pace.every);
            since = now;
            const passes = full >= 1 - 1e-9;
            if (passes) full -= 1;
            const { wait } = await (place % 2 === 0 ? both[0] : both[1]).passDoor(door, now, pace);
            expect(wait === 0).toBe(passes);
            if (!passes) expect(wait).toBeCloseTo((1 - full) * pace.every, 3);
          }
        },
      ),
      { numRuns: name === "SQLite" ? 60 : 40 },
    );
    await closed(both);
  });

  test("all at once: exactly the burst gets through", async () => {
    const both = await copies();
    const pace = { every: 1000, burst: 7 };
    const outcomes = await Promise.all(Array.from({ length: 30 }, (_, place) => both[place % 2 === 0 ? 0 : 1].passDoor("door", NOW, pace)));
    expect(outcomes.filter(({ wait }) => wait === 0)).toHaveLength(7);
    await both[0].forgetPast(NOW + 3_600_000);
    expect((await both[1].passDoor("door", NOW, pace)).due).toBe(NOW + 1000);
    await closed(both);
  });
});
