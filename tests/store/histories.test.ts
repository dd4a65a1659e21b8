import { sql } from "kysely";
import { describe, expect, test } from "vitest";
import { openDatabase } from "../../lib/store/database.ts";
import type { Sending } from "../../lib/store/exchanges.ts";
import { requestsIn } from "../../lib/store/histories.ts";
import type { Frame, Json } from "../../lib/store/store.ts";
import { by, engines, opened } from "./engines.ts";

const frame = (from: string, confirmed: readonly string[] = []): Frame => ({
  vessel: "Orrin Gale",
  frame: { visit: { window: { from } }, confirmed: confirmed.map((request) => ({ request, letter: 1 })) },
  sets: [1],
});

const ASKED: Json = {
  sets: [1],
  asked: {
    requests: [
      { ref: "R1", kind: "technician" },
      { ref: "R2", kind: "photograph" },
      { ref: "R4", kind: "spare" },
    ],
  },
};

const sending = (visit: string, number: number, more: Partial<Sending["sent"]> = {}): Sending => ({
  sent: {
    id: `${visit} ${number}`,
    visit,
    kind: "letter",
    number,
    made: `made ${visit} ${number}`,
    mark: "m",
    replyBy: "2026-03-20",
    to: [],
    asked: ASKED,
    ...by("anna", number),
    ...more,
  },
  made: { id: `made ${visit} ${number}`, visit, version: 1, rulebook: "-", file: "{}", plan: "{}", pdf: Uint8Array.of(37), ...by("anna") },
  links: [],
  frame: frame("2026-03-24", ["R4"]),
  seen: 99,
});

test("a photograph is no request of its own, and what is no letter asked nothing", () => {
  expect(requestsIn(ASKED)).toBe("R1 R4");
  for (const none of [null, {}, { asked: {} }, { asked: { requests: "R1" } }]) expect(requestsIn(none)).toBe("");
});

describe.each(engines())("histories on %s", (_, address) => {
  test("are those of the visits that begin in the time, with letters, confirmations and the latest record of each test", async () => {
    const at = address();
    const store = await opened(at);
    for (const [id, owner, from] of [
      ["early", "anna", "2026-02-28"],
      ["first", "anna", "2026-03-01"],
      ["middle", "boris", "2026-03-24"],
      ["last", "anna", "2026-03-31"],
      ["late", "anna", "2026-04-01"],
      ["no day", "anna", ""],
    ] as const)
      await store.createVisit(id, owner, frame(from), [], by("anna"));
    for (const one of [sending("middle", 1), sending("middle", 2, { kind: "settled", asked: { sets: [1], asked: {} } })]) {
      const sent = await store.keepSent(one);
      if (!sent.ok) throw new Error(sent.faults.join());
    }
    await store.keepResults(
      "first",
      [
        { at: "/sets/1/a", value: "one", seen: 0 },
        { at: "/sets/1/b", value: "kept", seen: 0 },
        { at: "/sets/1/c", value: "gone", seen: 0 },
      ],
      by("anna"),
    );
    await store.keepResults(
      "first",
      [
        { at: "/sets/1/a", value: "two", seen: 1 },
        { at: "/sets/1/c", seen: 1 },
      ],
      by("anna", 1),
    );
    const march = { from: "2026-03-01", to: "2026-03-31" };
    const all = await store.histories(march);
    expect(all.map(({ id }) => id)).toEqual(["first", "middle", "last"]);
    expect((await store.histories({ ...march, owner: "anna" })).map(({ id }) => id)).toEqual(["first", "last"]);
    expect([...(all[0]?.results ?? [])].sort()).toEqual(["kept", "two"]);
    expect(all[1]).toEqual({
      id: "middle",
      owner: "boris",
      vessel: "Orrin Gale",
      begins: "2026-03-24",
      letters: [
        { kind: "letter", when: by("anna", 1).when, requests: ["R1", "R4"] },
        { kind: "settled", when: by("anna", 2).when, requests: [] },
      ],
      confirmed: ["R4"],
      results: [],
    });
    await store.close();
    // Letters of before the requests stood beside them have them after.
    const before = await openDatabase(at);
    if (!before.ok) throw new Error(before.faults.join());
    for (const later of ["told_once", "under_way", "pace"]) await before.value.db.schema.dropTable(later).execute();
    await before.value.db.schema.dropIndex("sent_lately").execute();
    await before.value.db.schema.alterTable("sent").dropColumn("requests").execute();
    await before.value.db.schema.alterTable("invitation").dropColumn("for_person").execute();
    await sql`delete from kysely_migration where name >= '0011'`.execute(before.value.db);
    await before.value.db.destroy();
    const after = await opened(at);
    expect((await after.histories(march))[1]?.letters.map(({ requests }) => requests)).toEqual([["R1", "R4"], []]);
    await after.close();
  });

  test("tables of a newer program are refused in plain words and left as they are", async () => {
    const at = address();
    const newer = await openDatabase(at);
    if (!newer.ok) throw new Error(newer.faults.join());
    expect(await newer.value.inStep()).toBe(true);
    await sql`insert into kysely_migration (name, timestamp) values ('9999-later', '2026-01-01')`.execute(newer.value.db);
    expect(await newer.value.inStep()).toBe(false);
    const refused = await openDatabase(at);
    expect(refused.ok ? "" : refused.faults.join()).toMatch(
      /^the database was brought up to date by a newer program, with “9999-later”, which this one does not know/,
    );
    await sql`delete from kysely_migration where name = '9999-later'`.execute(newer.value.db);
    await newer.value.db.destroy();
    const again = await openDatabase(at);
    expect(again.ok).toBe(true);
    if (again.ok) await again.value.db.destroy();
  });
});
