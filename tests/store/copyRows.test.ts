import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { carry, endAt } from "../../lib/store/copy/carry.ts";
import { type Counted, countAll, counting, differing } from "../../lib/store/copy/digest.ts";
import { instantOf } from "../../lib/store/copy/end.ts";
import { type Cell, type Column, inOrder, type Row, type Table } from "../../lib/store/copy/table.ts";
import { makeTables } from "../../lib/usecases/copy/tables.ts";
import { scratch } from "../cli/cli.ts";
import { engines } from "./engines.ts";

const text = fc.oneof(
  fc.string({ unit: "grapheme", maxLength: 60 }),
  fc.string({ unit: "binary", maxLength: 60 }),
  fc.constantFrom("", "null", "\\x00", "'", "12", " ", "\r\n", "🛥 Łódź"),
);
/** PostgreSQL keeps every sign but the NUL. */
const kept = text.map((value) => value.replaceAll("\u0000", ""));
const instant = fc
  .date({ min: new Date("1970-01-01T00:00:00Z"), max: new Date("2200-01-01T00:00:00Z"), noInvalidDate: true })
  .map((date) => date.toISOString());
const bytes = fc.oneof(
  fc.uint8Array({ maxLength: 300 }),
  fc.integer({ min: 100_000, max: 900_000 }).map((size) => new Uint8Array(size).map((_, at) => at * 13)),
);
const YES_OR_NO = ["emailVerified", "banned"];

const cellFor = ({ name, kind }: Column): fc.Arbitrary<Cell> => {
  if (YES_OR_NO.includes(name)) return fc.constantFrom(0n, 1n);
  if (kind === "whole") return fc.bigInt({ min: 1n, max: 2n ** 31n - 1n });
  if (kind === "number") return fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => value + 0);
  return kind === "text" ? kept : kind === "instant" ? instant : bytes;
};

const NULLABLE = [
  ...[
    "answer.value",
    "visit.standing",
    "visit.due_on",
    "invitation.used_at",
    "invitation.for_person",
    "reply.reply",
    "reply_entry.post",
    "policy_act.takes_effect",
  ],
  ...["user.image", "user.role", "user.banned", "user.banReason", "user.banExpires", "account.password", "session.ipAddress"],
];
/** Columns beside the keys whose values are told apart, or point to another table. */
const APART = ["visit", "sent", "made", "what_if", "userId", "email", "token", "digest", "version", "number"];

interface Marks {
  readonly texts: readonly string[];
  readonly numbers: readonly bigint[];
}

/** As many rows as there are marks: what must be told apart, and what points elsewhere, is the mark of the row's place in every table. */
const rowsFor = ({ name, columns, key }: Table, { texts, numbers }: Marks): fc.Arbitrary<readonly Row[]> => {
  const cell = (column: Column, place: number): fc.Arbitrary<Cell> => {
    if (key.includes(column.name) || APART.includes(column.name))
      return fc.constant(column.kind === "whole" ? (numbers[place] ?? 0n) : (texts[place] ?? ""));
    return NULLABLE.includes(`${name}.${column.name}`) ? fc.option(cellFor(column), { nil: null, freq: 3 }) : cellFor(column);
  };
  return fc.tuple(...texts.map((_, place) => fc.tuple(...columns.map((column) => cell(column, place)))));
};

const marks: fc.Arbitrary<Marks> = fc
  .uniqueArray(kept, { minLength: 1, maxLength: 6 })
  .chain((texts) =>
    fc
      .uniqueArray(fc.bigInt({ min: 1n, max: 2n ** 31n - 1n }), { minLength: texts.length, maxLength: texts.length })
      .map((numbers) => ({ texts, numbers })),
  );

const inEvery = (tables: readonly Table[]): fc.Arbitrary<readonly (readonly Row[])[]> =>
  marks.chain((drawn) => fc.tuple(...tables.map((table) => rowsFor(table, drawn))));

const made = async (address: string): Promise<string> => {
  const tables = await makeTables(address);
  if (!tables.ok) throw new Error(tables.faults.join());
  return address;
};

const ENGINES = engines();

describe.each(ENGINES)("any rows of %s", (_, source) => {
  test.each(ENGINES)("come over to %s with the digests that they had", async (__, target) => {
    const [here, there] = [await made(source()), await made(target())];
    const look = await endAt(here, "read");
    await look.close();
    await fc.assert(
      fc.asyncProperty(inEvery(look.tables), async (rows) => {
        // Nothing is committed, so that each run finds both ends empty.
        const [from, to] = [await endAt(here, "write"), await endAt(there, "write")];
        try {
          for (const table of from.tables) if (!table.sealed) await from.empty(table);
          for (const [place, table] of from.tables.entries()) await from.write(table, rows[place] ?? []);
          const before = await countAll(from);
          expect(new Set(before.map(({ rows: count }) => count))).toEqual(new Set([rows[0]?.length]));
          expect(await carry(from, to)).toEqual(before);
          expect(differing(await countAll(to), before)).toEqual([]);
        } finally {
          await from.close();
          await to.close();
        }
      }),
      { numRuns: 12, endOnFailure: true },
    );
  });
});

const TABLE: Table = {
  name: "one",
  columns: [
    { name: "a", kind: "text", type: "text" },
    { name: "b", kind: "text", type: "text" },
  ],
  key: ["a"],
  refers: [],
  sealed: false,
};
const counted = (rows: readonly Row[]): Counted => {
  const count = counting(TABLE);
  count.add(rows);
  return count.end();
};

test("rows that differ in anything have other digests; in how many parts they are read does not matter", () => {
  const row = fc.tuple(fc.option(text), fc.option(fc.oneof(text, fc.uint8Array({ maxLength: 9 }), fc.bigInt({ min: 0n, max: 99n }))));
  fc.assert(
    fc.property(fc.array(row, { maxLength: 5 }), fc.array(row, { maxLength: 5 }), (some, others) => {
      const same = (cell: Cell): string => (cell instanceof Uint8Array ? `x${Buffer.from(cell).toString("hex")}` : `${typeof cell}${cell}`);
      const written = (rows: readonly Row[]): string => JSON.stringify(rows.map((cells) => cells.map(same)));
      expect(counted(some).digest === counted(others).digest).toBe(written(some) === written(others));
      const parts = counting(TABLE);
      for (const one of some) parts.add([one]);
      expect(parts.end()).toEqual(counted(some));
    }),
  );
  expect(counted([["ab", "c"]]).digest).not.toBe(counted([["a", "bc"]]).digest);
  expect(counted([["", null]]).digest).not.toBe(counted([[null, ""]]).digest);
  expect(counted([["1", "x"]]).digest).not.toBe(counted([[1n, "x"]]).digest);
});

test("an instant is written one way, to the millionth of a second, and the same again", () => {
  expect(instantOf("2026-03-02T08:00:00Z")).toBe("2026-03-02T08:00:00.000Z");
  expect(instantOf("2026-03-02T08:00:00.12Z")).toBe("2026-03-02T08:00:00.120Z");
  expect(instantOf("2026-03-02T08:00:00.123456Z")).toBe("2026-03-02T08:00:00.123456Z");
  expect(instantOf("2026-03-02T08:00:00.123000Z")).toBe("2026-03-02T08:00:00.123Z");
  expect(instantOf("soon")).toBe("soon");
  fc.assert(
    fc.property(instant, (given) => {
      expect(instantOf(given)).toBe(given);
    }),
  );
});

test("tables come after those that they point to; a ring of them is told", () => {
  const at = (name: string, ...refers: readonly string[]): Table => ({ ...TABLE, name, refers });
  const ordered = inOrder([at("answer", "visit"), at("sent", "visit", "made"), at("made", "visit"), at("visit")]);
  expect(ordered.ok ? ordered.value.map(({ name }) => name) : []).toEqual(["visit", "answer", "made", "sent"]);
  expect(inOrder([at("a", "b"), at("b", "a"), at("c")])).toEqual({
    ok: false,
    faults: [expect.stringContaining("a, b point to each other")],
  });
});

test("what PostgreSQL cannot keep is told with its table, and nothing is carried", async () => {
  const postgres = ENGINES.find(([name]) => name === "PostgreSQL")?.[1]() ?? "";
  const [from, to] = [await endAt(await made(join(scratch(), "office.db")), "write"), await endAt(await made(postgres), "write")];
  const signature = from.tables.find(({ name }) => name === "signature");
  if (signature === undefined) throw new Error("no table");
  await from.write(signature, [["a\u0000b", "c"]]);
  await expect(carry(from, to)).rejects.toThrow(/^signature: .*0x00/);
  await from.close();
  await to.close();
});
