import { describe, expect, test } from "vitest";
import { type Accounts, openAccounts } from "../../lib/access/accounts.ts";
import { LASTS, linkIdOf, markOf, PASSWORD_LASTS } from "../../lib/access/invitation.ts";
import type { PersonFault } from "../../lib/access/people.ts";
import type { Role } from "../../lib/access/roles.ts";
import type { Result } from "../../lib/kernel/result.ts";
import { openDatabase } from "../../lib/store/database.ts";
import { storeOn } from "../../lib/store/open.ts";
import type { Act, Frame, Store } from "../../lib/store/store.ts";
import { engines } from "../store/engines.ts";

const NOW = Date.parse("2026-03-02T08:00:00Z");
const WHEN = "2026-03-02T08:00:00.000Z";
const NONE = "this link is not one of ours, or was withdrawn; ask your supervisor for another";
const PASSWORD = "nine lanterns at the quay";

interface Place {
  readonly accounts: Accounts;
  readonly store: Store;
  readonly ids: Readonly<Record<string, string>>;
}

const isoOf = (milliseconds: number): string => new Date(milliseconds).toISOString();

/** An office with people of these roles, by name. */
const officeOf = async (address: string, people: Readonly<Record<string, Role>>): Promise<Place> => {
  const open = await openDatabase(address);
  if (!open.ok) throw new Error(open.faults.join());
  const accounts = await openAccounts(open.value, {
    secret: "a secret of the tests, longer than thirty-two characters",
    url: "http://127.0.0.1:3000",
  });
  const ids: Record<string, string> = {};
  for (const [name, role] of Object.entries(people)) {
    const code = await accounts.invite(role, "console", NOW);
    const made = await accounts.takeUp(code, { name, email: `${name}@tallowmere.example`, password: PASSWORD }, NOW);
    if (!made.ok) throw new Error(made.faults.join());
    ids[name] = made.value.id;
  }
  return { accounts, store: storeOn(open.value.db), ids };
};

const signIn = (accounts: Accounts, name: string) => accounts.signIn(`${name}@tallowmere.example`, PASSWORD, "192.0.2.1", NOW);

const headersOf = async (accounts: Accounts, name: string): Promise<Headers> => {
  const outcome = await signIn(accounts, name);
  if (!outcome.ok) throw new Error(outcome.faults.join());
  return new Headers({ cookie: outcome.value.cookies.map((cookie) => cookie.split(";")[0] ?? "").join("; ") });
};

const said = (outcome: Result<unknown, PersonFault>): string =>
  outcome.ok ? "done" : outcome.faults.map(({ field, says }) => `${field}: ${says}`).join();

const windowed = (from: string, to: string): Frame => ({ vessel: "Orrin Gale", frame: { visit: { window: { from, to } } }, sets: [1] });

describe.each(engines())("people on %s", (_, address) => {
  const by = (ids: Place["ids"], name: string): Act => ({ who: ids[name] ?? "", when: WHEN });
  const about = async ({ accounts, ids }: Place, name: string) => ({
    person: ids[name] ?? "",
    seen: (await accounts.people()).find(({ id }) => id === ids[name])?.version ?? 0,
  });

  test("of two supervisors who take the role from each other at once, one keeps it", async () => {
    const place = await officeOf(address(), { odo: "supervisor", vera: "supervisor" });
    const { accounts, ids, store } = place;
    const both = await Promise.all([
      accounts.changeRole({ person: ids["vera"] ?? "", seen: 0 }, "inspector", by(ids, "odo")),
      accounts.changeRole({ person: ids["odo"] ?? "", seen: 0 }, "inspector", by(ids, "vera")),
    ]);
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
    expect(both.map(said).filter((words) => words !== "done")).toEqual([expect.stringMatching(/^role: (odo|vera) is the last supervisor/)]);
    expect((await accounts.people()).filter(({ role }) => role === "supervisor")).toHaveLength(1);
    await store.close();
  });

  test("of two who end each other's accounts at once, one stays; who was made an inspector meanwhile changes nothing", async () => {
    const place = await officeOf(address(), { odo: "supervisor", vera: "supervisor", wim: "supervisor" });
    const { accounts, ids, store } = place;
    const both = await Promise.all([
      accounts.endAccount({ person: ids["vera"] ?? "", seen: 0 }, null, by(ids, "odo")),
      accounts.endAccount({ person: ids["odo"] ?? "", seen: 0 }, null, by(ids, "vera")),
    ]);
    expect(both.map(said).sort()).toEqual(["done", "end: You are no supervisor any more"]);
    const left = (await accounts.people()).filter(({ ended }) => ended === undefined).map(({ name }) => name);
    expect(left).toHaveLength(2);
    expect(left).toContain("wim");
    await store.close();
  });

  test("links that somebody made go with his right to make them, and the codes of the console with the first supervisor", async () => {
    const place = await officeOf(address(), { odo: "supervisor", vera: "supervisor", tove: "supervisor" });
    const { accounts, ids } = place;
    const [ofVera, ofTove, ofOdo] = await Promise.all(
      ["vera", "tove", "odo"].map((name) => accounts.invite("supervisor", ids[name] ?? "", NOW)),
    );
    expect(said(await accounts.endAccount(await about(place, "vera"), null, by(ids, "odo")))).toBe("done");
    expect(said(await accounts.changeRole(await about(place, "tove"), "inspector", by(ids, "odo")))).toBe("done");
    const refused = await Promise.all([ofVera, ofTove, ofOdo].map((code) => accounts.refused(code ?? "", NOW)));
    expect(refused).toEqual([NONE, NONE, null]);
    const empty = await officeOf(address(), {});
    const codes = [await empty.accounts.invite("supervisor", "console", NOW), await empty.accounts.invite("supervisor", "console", NOW)];
    const first = { name: "Odo", email: "odo@tallowmere.example", password: PASSWORD };
    expect((await empty.accounts.takeUp(codes[0] ?? "", first, NOW)).ok).toBe(true);
    expect((await empty.accounts.takeUp(codes[1] ?? "", { ...first, email: "other@tallowmere.example" }, NOW)).ok).toBe(false);
  });

  test("a link that nobody took up is listed until it runs out, and can be withdrawn by what opens nothing", async () => {
    const { accounts, ids, store } = await officeOf(address(), { odo: "supervisor" });
    const odo = ids["odo"] ?? "";
    const first = await accounts.invite("inspector", odo, NOW);
    const second = await accounts.invite("supervisor", odo, NOW + 1000);
    const open = await accounts.openInvitations(NOW + 2000);
    expect(open).toEqual([
      { id: linkIdOf(first), role: "inspector", invitedBy: odo, forPerson: null, made: isoOf(NOW), until: isoOf(NOW + LASTS) },
      expect.objectContaining({ role: "supervisor", made: isoOf(NOW + 1000) }),
    ]);
    expect(await accounts.refused(open[0]?.id ?? "", NOW)).toBe(NONE);
    expect(open[0]?.id).not.toBe(markOf(first));
    expect(await accounts.openInvitations(NOW + LASTS + 1)).toHaveLength(1);
    expect(await accounts.withdrawInvitation(open[0]?.id ?? "")).toMatchObject({ role: "inspector", forPerson: null });
    expect(await accounts.withdrawInvitation(open[0]?.id ?? "")).toBeNull();
    expect(await accounts.withdrawInvitation(markOf(second))).toBeNull();
    expect(await Promise.all([first, second].map((code) => accounts.refused(code, NOW)))).toEqual([NONE, null]);
    expect((await accounts.takeUp(second, { name: "Vera", email: "vera@tallowmere.example", password: PASSWORD }, NOW)).ok).toBe(true);
    expect(await accounts.openInvitations(NOW)).toEqual([]);
    expect(await accounts.withdrawInvitation(open[1]?.id ?? "")).toBeNull();
    await store.close();
  });

  test("a forgotten password is set by a link, once, within a day; sign-ins from before end, and the shut door opens", async () => {
    const { accounts, ids, store } = await officeOf(address(), { odo: "supervisor", mara: "inspector" });
    const mara = { id: ids["mara"] ?? "", role: "inspector" } as const;
    const before = await headersOf(accounts, "mara");
    const next = "seven herons over the weir";
    for (let tried = 0; tried < 12; tried += 1) await accounts.signIn("mara@tallowmere.example", "a wrong one", `192.0.2.${tried}`, NOW);
    expect((await signIn(accounts, "mara")).ok).toBe(false);
    const earlier = await accounts.passwordLink(mara, ids["odo"] ?? "", NOW);
    const code = await accounts.passwordLink(mara, ids["odo"] ?? "", NOW);
    expect(await accounts.openInvitations(NOW)).toEqual([
      expect.objectContaining({ id: linkIdOf(code), forPerson: mara.id, until: isoOf(NOW + PASSWORD_LASTS) }),
    ]);
    // What makes accounts makes none of this, and the other way round.
    expect(await accounts.takeUp(code, { name: "Wim", email: "wim@tallowmere.example", password: PASSWORD }, NOW)).toMatchObject({
      ok: false,
      faults: [NONE],
    });
    const invited = await accounts.invite("inspector", ids["odo"] ?? "", NOW);
    expect(await accounts.setPassword(invited, next, NOW)).toMatchObject({ ok: false, faults: [NONE] });
    expect(await accounts.whosePassword(invited, NOW)).toBeNull();
    expect(await accounts.setPassword(earlier, next, NOW)).toMatchObject({ ok: false, faults: [NONE] });
    expect(await accounts.setPassword(code, next, NOW + PASSWORD_LASTS + 1)).toMatchObject({
      ok: false,
      faults: [expect.stringMatching(/run out/)],
    });
    expect(await accounts.setPassword(code, "mara mara mara", NOW)).toMatchObject({ ok: false });
    expect(await accounts.whosePassword(code, NOW)).toMatchObject({ id: mara.id, email: "mara@tallowmere.example" });
    expect(await accounts.whoIs(before)).toMatchObject({ id: mara.id });

    const both = await Promise.all([accounts.setPassword(code, next, NOW), accounts.setPassword(code, `${next} too`, NOW)]);
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
    const set = both[0]?.ok === true ? next : `${next} too`;
    expect(await accounts.whoIs(before)).toBeNull();
    expect(await accounts.whosePassword(code, NOW)).toBeNull();
    expect((await signIn(accounts, "mara")).ok).toBe(false);
    expect((await accounts.signIn("mara@tallowmere.example", set, "192.0.2.1", NOW)).ok).toBe(true);
    await store.close();
  });

  test("a link for a password ends with the sign-ins: a password changed, everybody shut out, signed out everywhere", async () => {
    const { accounts, ids, store } = await officeOf(address(), { odo: "supervisor", mara: "inspector" });
    const mara = { id: ids["mara"] ?? "", role: "inspector" } as const;
    const link = () => accounts.passwordLink(mara, ids["odo"] ?? "", NOW);
    const ends: readonly (() => Promise<unknown>)[] = [
      () => accounts.endSignIns(mara.id),
      async () => accounts.signOut(await headersOf(accounts, "mara"), true),
      async () => accounts.changePassword(await headersOf(accounts, "mara"), PASSWORD, "seven herons over the weir", NOW),
    ];
    const left = await link();
    await accounts.signOut(await headersOf(accounts, "mara"), false);
    expect(await accounts.whosePassword(left, NOW)).not.toBeNull();
    for (const end of ends) {
      const code = await link();
      await end();
      expect(await accounts.setPassword(code, "nine otters in the lock", NOW)).toMatchObject({ ok: false, faults: [NONE] });
    }
    await store.close();
  });

  test("a link for the password of an account that ended opens nothing, nor when the account is open again", async () => {
    const place = await officeOf(address(), { odo: "supervisor", mara: "inspector" });
    const { accounts, ids, store } = place;
    const code = await accounts.passwordLink({ id: ids["mara"] ?? "", role: "inspector" }, ids["odo"] ?? "", NOW);
    expect(said(await accounts.endAccount(await about(place, "mara"), null, by(ids, "odo")))).toBe("done");
    // Made at the same moment, behind the end.
    const late = await accounts.passwordLink({ id: ids["mara"] ?? "", role: "inspector" }, ids["odo"] ?? "", NOW);
    expect([await accounts.whosePassword(late, NOW), await accounts.refused(late, NOW)]).toEqual([null, NONE]);
    expect(await accounts.setPassword(late, "seven herons over the weir", NOW)).toMatchObject({ ok: false });
    expect(said(await accounts.openAgain(await about(place, "mara"), by(ids, "odo")))).toBe("done");
    expect(await accounts.setPassword(code, "seven herons over the weir", NOW)).toMatchObject({ ok: false, faults: [NONE] });
    expect((await signIn(accounts, "mara")).ok).toBe(true);
    await store.close();
  });

  test("the last supervisor keeps role and account, an ended one does not count, and nobody ends himself", async () => {
    const place = await officeOf(address(), { odo: "supervisor", vera: "supervisor", mara: "inspector" });
    const { accounts, ids, store } = place;
    expect(said(await accounts.endAccount(await about(place, "odo"), null, by(ids, "odo")))).toMatch(/^end: Nobody ends his own account/);
    expect(said(await accounts.endAccount(await about(place, "vera"), null, by(ids, "odo")))).toBe("done");
    expect(said(await accounts.changeRole(await about(place, "odo"), "inspector", by(ids, "odo")))).toMatch(/odo is the last supervisor/);
    expect(said(await accounts.changeRole({ person: ids["mara"] ?? "", seen: 7 }, "supervisor", by(ids, "odo")))).toMatch(/meanwhile/);
    expect(said(await accounts.changeRole(await about(place, "mara"), "supervisor", by(ids, "odo")))).toBe("done");
    expect(said(await accounts.changeRole(await about(place, "odo"), "inspector", by(ids, "odo")))).toBe("done");
    expect((await accounts.people()).map(({ name, role, ended }) => [name, role, ended?.who === ids["odo"]])).toEqual([
      ["mara", "supervisor", false],
      ["odo", "inspector", false],
      ["vera", "supervisor", true],
    ]);
    await store.close();
  });

  test("an account with open visits ends only with who takes over; then its sign-ins stop, its name stays, and it can be opened again", async () => {
    const place = await officeOf(address(), { odo: "supervisor", mara: "inspector", ilse: "inspector" });
    const { accounts, ids, store } = place;
    const [mara, ilse] = [ids["mara"] ?? "", ids["ilse"] ?? ""];
    const headers = await headersOf(accounts, "mara");
    for (const [id, from, to] of [
      ["past", "2026-02-01", "2026-03-01"],
      ["today", "2026-02-28", "2026-03-02"],
      ["settled", "2026-05-01", "2026-05-02"],
    ] as const)
      await store.createVisit(id, mara, windowed(from, to), [], by(ids, "mara"));
    await store.createVisit("no day", mara, { vessel: "", frame: {}, sets: [] }, [], by(ids, "mara"));
    await store.keepStanding("settled", { stage: "settled", letter: 2 });
    expect((await store.openVisits("2026-03-02", mara)).map(({ id }) => id).sort()).toEqual(["no day", "today"]);
    const asked = await accounts.endAccount(await about(place, "mara"), null, by(ids, "odo"));
    expect(said(asked)).toMatch(/^takes-over: Who takes over: given nobody; mara has open visits/);
    expect(said(await accounts.endAccount(await about(place, "mara"), mara, by(ids, "odo")))).toMatch(/^takes-over/);
    expect(await accounts.whoIs(headers)).not.toBeNull();
    expect((await store.visit("today"))?.owner).toBe(mara);
    const ended = await accounts.endAccount(await about(place, "mara"), ilse, by(ids, "odo"));
    if (!ended.ok) throw new Error(said(ended));
    expect([...ended.value.visits].sort()).toEqual(["no day", "today"]);
    const owners = await Promise.all(["past", "today", "settled", "no day"].map(async (id) => (await store.visit(id))?.owner));
    expect(owners).toEqual([mara, ilse, mara, ilse]);
    expect(await accounts.whoIs(headers)).toBeNull();
    const again = await signIn(accounts, "mara");
    expect(again.ok ? "" : again.faults.join()).toBe("this account has ended; a supervisor of your office can open it again");
    expect((await accounts.people()).find(({ id }) => id === mara)).toMatchObject({ name: "mara", ended: { who: ids["odo"], when: WHEN } });
    expect(said(await accounts.changeRole(await about(place, "mara"), "supervisor", by(ids, "odo")))).toMatch(/has ended/);
    expect(said(await accounts.openAgain(await about(place, "mara"), by(ids, "odo")))).toBe("done");
    expect(await accounts.whoIs(headers)).toBeNull();
    expect((await signIn(accounts, "mara")).ok).toBe(true);
    await store.close();
  });

  test("who stands in does so on just those days, and no longer once it is over or an account has ended", async () => {
    const place = await officeOf(address(), { odo: "supervisor", mara: "inspector", ilse: "inspector", tove: "inspector" });
    const { accounts, ids, store } = place;
    const tell = async (name: string, id: string, [from, to, standsIn]: readonly [string, string, string]) =>
      said(await accounts.tellAbsence(await about(place, name), id, { from, to, standsIn: ids[standsIn] ?? "" }, by(ids, name)));
    const forWhom = async (day: string, name = "ilse") =>
      (await store.standingIn(ids[name] ?? "", day)).map(({ person }) => Object.keys(ids).find((one) => ids[one] === person));
    expect(await tell("mara", "a1", ["2026-03-04", "2026-03-06", "ilse"])).toBe("done");
    expect(await Promise.all(["03", "04", "06", "07"].map((day) => forWhom(`2026-03-${day}`)))).toEqual([[], ["mara"], ["mara"], []]);
    expect(await tell("ilse", "a2", ["2026-03-06", "2026-03-09", "tove"])).toMatch(
      /^from: First day: stands in for mara from 2026-03-04 to 2026-03-06/,
    );
    expect(await tell("tove", "a3", ["2026-03-01", "2026-03-04", "mara"])).toMatch(/^standsIn: Who stands in: given mara, who is away/);
    const seen = await about(place, "mara");
    expect(said(await accounts.endAbsence(seen, "a1", by(ids, "odo")))).toBe("done");
    expect(said(await accounts.endAbsence(seen, "a1", by(ids, "mara")))).toMatch(/meanwhile/);
    expect(said(await accounts.endAbsence(await about(place, "mara"), "a1", by(ids, "mara")))).toMatch(/over already/);
    expect(await forWhom("2026-03-05")).toEqual([]);
    expect(await tell("mara", "a4", ["2026-03-02", "2026-03-06", "tove"])).toBe("done");
    const ended = await accounts.endAccount(await about(place, "tove"), null, by(ids, "odo"));
    expect(ended.ok ? ended.value.stoodInFor : said(ended)).toEqual([ids["mara"]]);
    expect(await forWhom("2026-03-03", "tove")).toEqual([]);
    expect(await tell("mara", "a5", ["2026-03-02", "2026-03-06", "tove"])).toMatch(/^standsIn: Who stands in: given nobody of the office/);
    await store.close();
  });

  test("visits are handed over all or none, and the list shows those of several inspectors", async () => {
    const place = await officeOf(address(), { odo: "supervisor", mara: "inspector", ilse: "inspector" });
    const { ids, store, accounts } = place;
    const [mara, ilse] = [ids["mara"] ?? "", ids["ilse"] ?? ""];
    for (const id of ["v1", "v2", "v3"])
      await store.createVisit(id, id === "v3" ? ilse : mara, windowed("2026-04-01", "2026-04-02"), [], by(ids, "mara"));
    const wrong = await store.handOver(["v1", "v3"], mara, ids["odo"] ?? "");
    expect(wrong.ok ? "" : wrong.faults.join()).toMatch(/somebody else’s by now/);
    expect((await store.visit("v1"))?.owner).toBe(mara);
    expect((await store.handOver(["v1", "v2"], mara, ilse)).ok).toBe(true);
    expect((await store.listVisits({ owner: ilse, limit: 9 })).map(({ id }) => id).sort()).toEqual(["v1", "v2", "v3"]);
    expect((await store.listVisits({ owner: [mara, ids["odo"] ?? ""], limit: 9 })).map(({ id }) => id)).toEqual([]);
    expect((await store.listVisits({ owner: [mara, ilse], limit: 9 })).length).toBe(3);
    expect((await accounts.endAccount(await about(place, "mara"), null, by(ids, "odo"))).ok).toBe(true);
    const ended = await store.handOver(["v1"], ilse, mara);
    expect(ended.ok ? "" : ended.faults.join()).toBe("this account has ended");
    await store.close();
  });

  test("the log is looked through by person, act and what it is about, older entries by number", async () => {
    const { store } = await officeOf(address(), {});
    for (let n = 0; n < 6; n += 1)
      await store.audit({
        who: n % 2 === 0 ? "anna" : "boris",
        when: WHEN,
        act: n < 3 ? "invited" : "made",
        subject: n === 1 ? "anna" : "x",
        detail: `${n}`,
      });
    const seen = async (asked: Omit<Parameters<Store["auditedWhere"]>[0], "limit">, limit = 9) =>
      (await store.auditedWhere({ ...asked, limit })).map(({ detail }) => detail).join("");
    expect(await seen({})).toBe("543210");
    expect(await seen({ person: "anna" })).toBe("4210");
    expect(await seen({ person: "anna", act: "invited" })).toBe("210");
    expect(await seen({ subject: "anna" })).toBe("1");
    const [first, second] = await store.auditedWhere({ limit: 2 });
    expect([first?.detail, second?.detail]).toEqual(["5", "4"]);
    expect(await seen({ before: second?.id ?? 0 }, 2)).toBe("32");
    expect(await store.auditedActs()).toEqual(["invited", "made"]);
    await store.close();
  });
});
