import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { valueAt } from "../../lib/model/fault.ts";
import { tickOf } from "../../lib/store/privacy/erase.ts";
import { INVENTORY, inventoryTable } from "../../lib/store/privacy/inventory.ts";
import type { FoundPerson } from "../../lib/store/privacy/privacy.ts";
import { insteadOf } from "../../lib/store/privacy/sought.ts";
import { type Dumped, dumped, plain, tablesOf } from "./dump.ts";
import { engines } from "./engines.ts";
import { account, JORA, NAMESAKE, NOW, ODO, PELL, type PrivacyOffice, paper, privacyOffice, WHEN } from "./privacyOffice.ts";

const found = async ({ privacy }: PrivacyOffice, given: string): Promise<FoundPerson> => {
  const search = await privacy.find(given);
  if (search === null || !("one" in search)) throw new Error(`nobody by ${given}`);
  return search.one;
};

const ended = async ({ accounts, pell, odo }: PrivacyOffice): Promise<void> => {
  const done = await accounts.endAccount({ person: pell, seen: 0 }, odo, { who: odo, when: WHEN });
  if (!done.ok) throw new Error(JSON.stringify(done.faults));
};

const erased = async (office: PrivacyOffice, given: string, texts: readonly string[] = [], files: readonly string[] = []) =>
  office.privacy.erase(
    given,
    {
      texts: new Set(texts.map((text) => tickOf(text, true))),
      files: new Set(files),
      notice: await paper("This letter was removed"),
      instead: insteadOf("0a1b2c3d"),
    },
    { who: office.odo, when: WHEN },
  );

/** Texts in which the name is that person’s, as far as can be told. */
const allTexts = ({ hits }: FoundPerson): readonly string[] => hits.flatMap(({ texts, nameCounts }) => (nameCounts ? texts : []));

const read = new WeakMap<Dumped, string>();

/** What the text of a row says, papers read as text too. */
const readable = (dump: Dumped): string => {
  const known = read.get(dump) ?? textOf(dump);
  read.set(dump, known);
  return known;
};

const textOf = ({ table, row }: Dumped): string =>
  plain(
    Object.entries(row)
      .map(([column, value]) =>
        table === "made" && column === "pdf"
          ? execFileSync("pdftotext", ["-", "-"], { input: Buffer.from(value.slice("base64 ".length), "base64") }).toString()
          : value,
      )
      .join("\n"),
  );

const rowsWith = (rows: readonly Dumped[], ...texts: readonly string[]): readonly Dumped[] =>
  rows.filter((row) => texts.some((text) => readable(row).toLowerCase().includes(text.toLowerCase())));

const ofVisit = (id: string) => (row: Dumped) => JSON.stringify(row.row).includes(id);
const shownOf = ({ table, row }: Dumped): string => `${table} ${JSON.stringify(row)}`;

describe.each(engines())("what is kept about people on %s", (_, address) => {
  test("the inventory names every table and every column that the database has, and no other", async () => {
    const { open } = await privacyOffice(address());
    const real = await tablesOf(open.db);
    expect(
      new Map(INVENTORY.map(({ table, columns }) => [table, Object.keys(columns).sort()] as const).sort(([a], [b]) => (a < b ? -1 : 1))),
    ).toEqual(real);
  });

  test("after erasure neither name nor address of a recipient stands anywhere, and all that is not hers is as it was", async () => {
    const office = await privacyOffice(address());
    const before = await dumped(office.open.db);
    expect(rowsWith(before, JORA.email).length).toBeGreaterThan(10);
    const person = await found(office, JORA.email.toUpperCase());
    const done = await erased(office, JORA.email, allTexts(person));
    expect(done).toMatchObject({ ok: true, value: { letters: 3, files: 0 } });
    const after = await dumped(office.open.db);
    expect(rowsWith(after, JORA.email).map(shownOf)).toEqual([]);
    // Her name is another’s too: it stands only where that one does.
    const named = rowsWith(after, JORA.name);
    expect(named.filter(ofVisit("visit-a")).map(shownOf)).toEqual([]);
    expect(named.filter(ofVisit("visit-b")).map(shownOf)).toEqual([]);
    expect(named.length).toBeGreaterThan(10);
    const untouched = before.filter((row) => rowsWith([row], JORA.email, JORA.name).length === 0);
    const now = new Set(after.map(shownOf));
    const mayMove = (row: Dumped) => row.table === "made" || row.table === "people_changes";
    expect(untouched.filter((row) => !mayMove(row) && !now.has(shownOf(row))).map(shownOf)).toEqual([]);
    const others = before.filter((row) => ofVisit("visit-c")(row) && !rowsWith([row], JORA.email).length);
    expect(others.length).toBeGreaterThan(10);
    expect(others.filter((row) => !now.has(shownOf(row))).map(shownOf)).toEqual([]);
  });

  test("what of a visit names others too keeps them as they were", async () => {
    const office = await privacyOffice(address());
    const people = async () => {
      const stored = await office.store.visit("visit-a");
      return valueAt(stored?.frame, "/visit/people") as readonly unknown[];
    };
    const before = await people();
    await erased(office, JORA.email);
    expect(await people()).toEqual([before[0], { name: "Erased person 0a1b2c3d", role: "superintendent", side: "vessel" }, before[2]]);
    const [letter] = await office.store.sentOf("visit-a");
    expect(letter?.to).toEqual([
      { name: "Erased person 0a1b2c3d", address: "erased-0a1b2c3d@erased.invalid" },
      { name: "Bram Osk", address: "bram@ship.example" },
    ]);
    const links = await office.store.linksOf("visit-a-sent");
    expect(links.map(({ recipient, withdrawnAt }) => [recipient, withdrawnAt]).sort()).toEqual([
      ["Bram Osk", undefined],
      ["Erased person 0a1b2c3d", WHEN],
    ]);
    expect((await office.store.replyOf("visit-a-sent")).confirmed).toMatchObject({
      who: "Erased person 0a1b2c3d",
      reply: { by: { name: "Erased person 0a1b2c3d", role: "superintendent" }, requests: { R1: { says: "yes" } } },
    });
  });

  test("a text in which only the name stands is left and told, and goes where it is ticked", async () => {
    const office = await privacyOffice(address());
    const said = `As ${JORA.name} said on board.`;
    expect(allTexts(await found(office, JORA.email))).toContain(said);
    await erased(office, JORA.email);
    expect(rowsWith(await dumped(office.open.db), `"${said}"`).length).toBeGreaterThan(0);
    const ticked = await privacyOffice(address());
    await erased(ticked, JORA.email, [said]);
    expect(rowsWith(await dumped(ticked.open.db), `"${said}"`).map(shownOf)).toEqual([]);
  });

  test("somebody of the office goes from accounts, sign-ins, visits and log; his id stays as nobody’s", async () => {
    const office = await privacyOffice(address());
    expect(await erased(office, PELL.email)).toEqual({ ok: false, faults: ["the account has not ended; end it first"] });
    await ended(office);
    const before = await dumped(office.open.db);
    const person = await found(office, office.pell);
    expect(person.sought).toEqual({ accounts: [office.pell], emails: [PELL.email], names: [PELL.name] });
    expect((await erased(office, office.pell, allTexts(person))).ok).toBe(true);
    const after = await dumped(office.open.db);
    expect(rowsWith(after, PELL.email, PELL.name, PELL.name.replaceAll(/[“”]/g, "'")).map(shownOf)).toEqual([]);
    const tables = after.filter(({ row }) => Object.values(row).includes(office.pell)).map(({ table }) => table);
    expect(tables).toContain("answer");
    for (const gone of ["session", "account", "typed"]) expect(tables).not.toContain(gone);
    expect((await office.accounts.people()).find(({ id }) => id === office.pell)).toMatchObject({
      name: "Erased person 0a1b2c3d",
      email: "erased-0a1b2c3d@erased.invalid",
    });
    const signIns = (rows: readonly Dumped[]) => rows.filter(({ table, row }) => table === "session" && row["userId"] === office.odo);
    expect(signIns(after)).toEqual(signIns(before));
    const log = await office.store.auditedWhere({ act: "person erased", limit: 1 });
    expect(log).toMatchObject([{ who: office.odo, subject: office.pell }]);
  });

  test("an account loses its name though somebody else of the office bears it, who keeps his", async () => {
    const office = await privacyOffice(address());
    const other = await account(office.accounts, "inspector", { ...PELL, email: "another.pell@office.example" });
    await ended(office);
    expect((await erased(office, PELL.email)).ok).toBe(true);
    const people = await office.accounts.people();
    expect(people.find(({ id }) => id === office.pell)?.name).toBe("Erased person 0a1b2c3d");
    expect(people.find(({ id }) => id === other)).toMatchObject({ name: PELL.name, email: "another.pell@office.example" });
  });

  test("a copy names every row of the whole database in which the person stands, and no other’s address", async () => {
    const office = await privacyOffice(address());
    for (const who of [JORA, PELL]) {
      const person = await found(office, who.email);
      const places = office.privacy.places(person);
      const given = new Map(places.map(({ table, rows }) => [table, rows.length]));
      const real = new Map<string, number>();
      const wanted = (row: Dumped) =>
        rowsWith([row], who.email).length > 0 ||
        (who === PELL
          ? rowsWith([row], who.name).length > 0 || Object.values(row.row).includes(office.pell)
          : rowsWith([row], who.name).length > 0 && !ofVisit("visit-c")(row));
      const rows = (await dumped(office.open.db)).map((row) => ({ ...row, row: { ...row.row, pdf: "base64 " } }));
      for (const row of rows.map(({ table, row: { pdf: _, ...rest } }) => ({ table, row: rest })))
        if (wanted(row)) real.set(row.table, (real.get(row.table) ?? 0) + 1);
      expect(new Map([...given].sort())).toEqual(new Map([...real].sort()));
      expect(JSON.stringify(places)).not.toContain(ODO.email);
      expect(JSON.stringify(places)).not.toContain("bram@ship.example");
      expect(JSON.stringify(places)).not.toContain(NAMESAKE.email);
    }
  });

  test("a name that several bear is told with their addresses; nobody is found by what stands nowhere", async () => {
    const office = await privacyOffice(address());
    expect(await office.privacy.find(JORA.name)).toEqual({ several: [NAMESAKE.email, JORA.email].sort((a, b) => (a < b ? 1 : -1)) });
    expect(await office.privacy.find("nobody@nowhere.example")).toBeNull();
    expect(await erased(office, JORA.name)).toMatchObject({ ok: false });
  });

  test("of two who erase one person at once one does, the other is told; sealed tables are sealed again", async () => {
    const office = await privacyOffice(address());
    const both = await Promise.all([erased(office, JORA.email), erased(office, JORA.email)]);
    expect(both.filter(({ ok }) => ok).length).toBe(1);
    for (const { table, sealed } of INVENTORY.filter((one) => one.sealed))
      if ((await dumped(office.open.db)).some((row) => row.table === table))
        await expect(office.open.db.deleteFrom(table as "audit").execute(), `${table} ${sealed}`).rejects.toThrow("kept for ever");
  });

  test("files that came with a reply go only where they are ticked", async () => {
    const office = await privacyOffice(address());
    expect((await found(office, JORA.email)).files.map(({ id }) => id)).toEqual(["visit-a-photo", "visit-b-photo", "visit-c-photo"]);
    await erased(office, JORA.email, [], ["visit-a-photo", "another"]);
    expect(await office.store.attachment("visit-a-photo")).toBeNull();
    expect((await office.store.attachment("visit-b-photo"))?.content.length).toBe(3);
    expect(await office.store.attachment("visit-c-photo")).not.toBeNull();
  });

  test("what is short-lived goes by itself, and nothing else; twice at once does no harm", async () => {
    const office = await privacyOffice(address());
    const before = await dumped(office.open.db);
    expect(Object.values(await office.privacy.tidyUp(NOW - 1)).every((count) => count === 0)).toBe(true);
    expect(await dumped(office.open.db)).toEqual(before);
    const DAY = 24 * 60 * 60_000;
    const later = Date.now() + 100 * DAY;
    const [one, two] = await Promise.all([office.privacy.tidyUp(later), office.privacy.tidyUp(later)]);
    const sum = Object.fromEntries(Object.keys(one).map((table) => [table, (one[table] ?? 0) + (two[table] ?? 0)]));
    expect(sum).toMatchObject({ failed_try: 2, session: 2, invitation: 2, typed: 6, what_if: 1, what_if_plan: 1 });
    const gone = new Set(["failed_try", "session", "invitation", "typed", "what_if", "what_if_plan"]);
    expect(await dumped(office.open.db)).toEqual(before.filter(({ table }) => !gone.has(table)));
  });

  test("a visit that is past goes with every row of it; of all else nothing", async () => {
    const office = await privacyOffice(address());
    const by = { who: office.odo, when: WHEN };
    expect((await office.privacy.pastVisits("2026-03-25")).length).toBe(0);
    expect((await office.privacy.pastVisits("2026-03-26")).map(({ id }) => id)).toEqual(["visit-a", "visit-b", "visit-c"]);
    expect(await office.privacy.removeVisits(["visit-a"], "2026-03-25", by)).toMatchObject({ ok: false });
    const before = await dumped(office.open.db);
    expect(await office.privacy.removeVisits(["visit-a"], "2026-03-26", by)).toEqual({ ok: true, value: 1 });
    const after = await dumped(office.open.db);
    expect(after.filter(ofVisit("visit-a")).map(({ table, row }) => [table, row["act"], row["detail"]])).toEqual([
      ["audit", "visit removed", ""],
    ]);
    const others = (rows: readonly Dumped[]) =>
      rows.filter((row) => !ofVisit("visit-a")(row) && !["people_changes", "settled_finding", "what_if"].includes(row.table)).map(shownOf);
    expect(others(after)).toEqual(others(before));
    expect(await office.store.visit("visit-a")).toBeNull();
    expect(await office.privacy.removeVisits(["visit-a"], "2026-03-26", by)).toMatchObject({ ok: false });
  });
});

test("DEVELOPERS.md has the inventory as a table, one line for each place that holds something of people", () => {
  expect(inventoryTable().split("\n").length).toBe(2 + INVENTORY.filter(({ whose }) => whose !== "").length);
  expect(readFileSync("DEVELOPERS.md", "utf8")).toContain(inventoryTable());
});
