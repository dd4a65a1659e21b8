import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { success } from "../../lib/kernel/result.ts";
import { htmlOf } from "../../lib/letter/html/document.tsx";
import { postOffice } from "../../lib/outside/postOffice.ts";
import { erasePerson } from "../../lib/usecases/privacy/erase.ts";
import { keepTidy, tidyUp } from "../../lib/usecases/privacy/housekeeping.ts";
import { noticeOf } from "../../lib/usecases/privacy/notice.ts";
import { removePast, YEARS, yearsBefore, yearsOf } from "../../lib/usecases/privacy/pastVisits.ts";
import { personView } from "../../lib/usecases/privacy/personView.ts";
import { scratch } from "../cli/cli.ts";
import { JORA, ODO, PELL, paper, privacyOffice, WHEN } from "../store/privacyOffice.ts";

const officeOf = async () => {
  const place = await privacyOffice(join(scratch(), "office.db"));
  const outbox = join(scratch(), "outbox");
  const post = postOffice({}, outbox);
  const letters = { render: async () => success(await paper("This letter was removed")) };
  const world = { now: () => WHEN, newId: () => "0a1b2c3d-0000" };
  return { ...place, outbox, post, letters, world, by: { who: place.odo, when: WHEN } };
};

const asking = (who: string, more: Partial<Parameters<typeof erasePerson>[1]> = {}) => ({
  who,
  again: who,
  takesOver: "",
  texts: [],
  files: [],
  ...more,
});

const mail = (to: string, id: string) => ({
  messageId: `<${id}@tallowmere.example>`,
  from: { name: "Tallowmere Survey Office", address: "plans@tallowmere.example" },
  to: [{ name: "Jora Tindle", address: to }],
  subject: "Letter 1",
  text: `for ${to}`,
  attachments: [],
  date: WHEN,
});

describe("erasure", () => {
  test("is typed twice; of what it cannot do it says why, and nothing is erased", async () => {
    const office = await officeOf();
    const says = async (asked: Parameters<typeof erasePerson>[1]) => {
      const done = await erasePerson(office, asked, office.by);
      return done.ok ? "done" : done.faults.map(({ field, says: words }) => `${field}: ${words}`).join();
    };
    expect(await says(asking(JORA.email, { again: "" }))).toBe(`again: Once more: given nothing; wanted ${JORA.email}`);
    expect(await says(asking(JORA.email, { again: "jora" }))).toBe(`again: Once more: given “jora”; wanted ${JORA.email}`);
    expect(await says(asking("nobody@nowhere.example"))).toContain("Nobody stands by this");
    expect(await says(asking(JORA.name))).toContain("Several people bear this name");
    expect(await says(asking(PELL.email))).toContain("takes-over: Who takes over: given nobody");
    expect(await says(asking(ODO.email))).toContain("Nobody ends his own account");
    expect((await office.privacy.find(PELL.email)) !== null).toBe(true);
  });

  test("ends the account, hands its visits over, takes its mails from the outbox and is in the log without the name", async () => {
    const office = await officeOf();
    for (const to of [PELL.email, JORA.email]) expect((await office.post.send(mail(to, to.slice(0, 3)))).ok).toBe(true);
    const done = await erasePerson(office, asking(PELL.email, { takesOver: office.odo }), office.by);
    expect(done).toMatchObject({
      ok: true,
      value: { called: "Erased person 0a1b2c3d", mails: 1, ended: { visits: ["visit-a", "visit-b", "visit-c"] } },
    });
    expect(readdirSync(office.outbox).map((name) => readFileSync(join(office.outbox, name), "utf8").includes(JORA.email))).toEqual([true]);
    expect((await office.store.visit("visit-a"))?.owner).toBe(office.odo);
    expect(await office.store.auditedWhere({ act: "person erased", limit: 9 })).toMatchObject([{ subject: office.pell }]);
    expect((await erasePerson(office, asking(PELL.email), office.by)).ok).toBe(false);
  });

  test("a person’s page lists the texts to look at once each, with where they stand", async () => {
    const office = await officeOf();
    const found = await office.privacy.find(JORA.email);
    if (found === null || !("one" in found)) throw new Error("nobody");
    const view = personView(found.one);
    expect(view.visits).toEqual(["visit-a", "visit-b", "visit-c"]);
    const said = view.texts.filter(({ text }) => text === `As ${JORA.name} said on board.`);
    expect(said.length).toBe(1);
    expect(said[0]?.places.length).toBeGreaterThan(4);
    expect(view.texts.find(({ perhapsAnother }) => perhapsAnother)?.visits).toEqual(["visit-c"]);
  });
});

test("mails in the outbox go by their “To” alone; other files are left", async () => {
  const outbox = join(scratch(), "outbox");
  const post = postOffice({}, outbox);
  expect(await post.forget(JORA.email)).toEqual({ ok: true, value: 0 });
  mkdirSync(outbox, { recursive: true });
  const kept = {
    "other.eml": `To: Bram <bram@ship.example>\r\n\r\n${JORA.email}`,
    "note.txt": `To: ${JORA.email}`,
    "cc.eml": `To: x${JORA.email}\r\n\r\n`,
  };
  const goes = {
    "one.eml": `Subject: x\r\nTo: "Tindle, Jora"\r\n <${JORA.email.toUpperCase()}>\r\n\r\nx`,
    "two.eml": `to: ${JORA.email}\n\nx`,
  };
  for (const [name, text] of Object.entries({ ...kept, ...goes })) writeFileSync(join(outbox, name), text);
  expect(await post.forget(JORA.email)).toEqual({ ok: true, value: 2 });
  expect(readdirSync(outbox).sort()).toEqual(Object.keys(kept).sort());
  expect(existsSync(join(outbox, "one.eml"))).toBe(false);
});

test("the page in place of a letter names its day and nobody", () => {
  const page = htmlOf(noticeOf({ name: "Tallowmere Survey Office", address: [], contact: "" }, "A4", "2026-03-02"));
  expect(page).toContain("This letter was removed on 2 March 2026");
});

test("years before a day, and which numbers of years are taken", () => {
  expect(yearsBefore("2026-03-02", 5)).toBe("2021-03-02");
  expect(yearsBefore("2024-02-29", 1)).toBe("2023-02-28");
  expect(["", "0", "51", "x", "-1"].map(yearsOf)).toEqual([YEARS, YEARS, YEARS, YEARS, YEARS]);
  expect(yearsOf("1")).toBe(1);
});

test("visits are removed only when they are past, ticked and confirmed", async () => {
  const office = await officeOf();
  const world = { ...office.world, now: () => "2031-03-26T08:00:00.000Z" };
  const late = { ...office, world };
  expect(await removePast(late, { visits: [], years: 5, confirmed: true }, office.by)).toMatchObject({ faults: [{ field: "visits" }] });
  expect(await removePast(late, { visits: ["visit-a"], years: 5, confirmed: false }, office.by)).toMatchObject({
    faults: [{ field: "sure" }],
  });
  expect(await removePast(late, { visits: ["visit-a"], years: 6, confirmed: true }, office.by)).toMatchObject({
    faults: [{ field: "visits" }],
  });
  expect(await removePast(late, { visits: ["visit-a"], years: 5, confirmed: true }, office.by)).toEqual({ ok: true, value: 1 });
  expect((await office.store.listVisits({ limit: 9 })).map(({ id }) => id).sort()).toEqual(["visit-b", "visit-c"]);
});

test("a database that is busy does not stop the office from tidying up an hour later", async () => {
  const fails = () => Promise.reject(new Error("busy"));
  const busy = { privacy: { tidyUp: fails }, store: { forgetPast: fails }, clock: () => 0 };
  expect(await tidyUp(busy)).toEqual({});
  await keepTidy(busy)();
});
