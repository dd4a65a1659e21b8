import { join } from "node:path";
import fc from "fast-check";
import { sql } from "kysely";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Accounts, openAccounts } from "../../lib/access/accounts.ts";
import { LASTS, markOf, newCode, PASSWORD_LASTS, refusal } from "../../lib/access/invitation.ts";
import { COUNTED, MOST, shutUntil } from "../../lib/access/lockOut.ts";
import { SHORTEST_PASSWORD } from "../../lib/access/password.ts";
import { hasNeed, mayOpen } from "../../lib/access/roles.ts";
import { type OpenDatabase, openDatabase } from "../../lib/store/database.ts";
import { scratch } from "../cli/cli.ts";
import { type PrivateServer, startPostgres } from "../store/postgres.ts";

let server: PrivateServer;
beforeAll(async () => {
  server = await startPostgres();
}, 60_000);
afterAll(() => server.stop());

describe("lock-out", () => {
  const times = fc.array(fc.integer({ min: 0, max: 4 * COUNTED }), { maxLength: 40 });

  test("a door is shut exactly while so many failures lie within the counted time", () => {
    fc.assert(
      fc.property(times, fc.integer({ min: 1, max: 20 }), fc.integer({ min: 0, max: 4 * COUNTED }), (failures, most, now) => {
        const recent = failures.filter((at) => at <= now && at > now - COUNTED);
        const until = shutUntil(failures, most, now);
        expect(until !== null).toBe(recent.length >= most);
        if (until === null) return;
        expect(until).toBeGreaterThan(now);
        expect(
          shutUntil(
            failures.filter((at) => at <= now),
            most,
            until,
          ),
        ).toBeNull();
      }),
    );
  });

  test("what others tried at other times shuts nothing", () => {
    expect(shutUntil([], 1, 0)).toBeNull();
    expect(shutUntil([1, 2, 3, 4], MOST.account, 10)).toBeNull();
    expect(shutUntil([1, 2, 3, 4, 5], MOST.account, 10)).toBe(1 + COUNTED);
  });
});

describe("one-time links", () => {
  const invitation = { mark: "m", role: "inspector", invitedBy: "anna", madeAt: 1000, usedAt: null, forPerson: null } as const;
  test("are refused when unknown, used or run out, and only then", () => {
    expect(refusal(null, 0)).toMatch(/not one of ours/);
    expect(refusal({ ...invitation, usedAt: 5 }, 10)).toMatch(/used already/);
    expect(refusal(invitation, 1000 + LASTS)).toBeNull();
    expect(refusal(invitation, 1001 + LASTS)).toMatch(/run out/);
    const password = { ...invitation, forPerson: "mara" };
    expect(refusal(password, 1000 + PASSWORD_LASTS)).toBeNull();
    expect(refusal(password, 1001 + PASSWORD_LASTS)).toMatch(/run out/);
  });
  test("cannot be guessed nor read back from what is kept", () => {
    const codes = new Set(Array.from({ length: 200 }, newCode));
    expect(codes.size).toBe(200);
    for (const code of codes) {
      expect(code).toMatch(/^[\w-]{43}$/);
      expect(markOf(code)).toMatch(/^[0-9a-f]{64}$/);
      expect(markOf(code)).toBe(markOf(code));
    }
  });
});

test("who may what", () => {
  expect([null, "inspector", "supervisor"].map((role) => hasNeed(role as null, "anybody"))).toEqual([true, true, true]);
  expect([hasNeed(null, "signed in"), hasNeed("inspector", "signed in"), hasNeed("supervisor", "signed in")]).toEqual([false, true, true]);
  expect([hasNeed(null, "supervisor"), hasNeed("inspector", "supervisor"), hasNeed("supervisor", "supervisor")]).toEqual([
    false,
    false,
    true,
  ]);
  const standsInFor: readonly string[] = [];
  expect(mayOpen({ id: "a", role: "inspector", standsInFor }, { owner: "a" })).toBe(true);
  expect(mayOpen({ id: "b", role: "inspector", standsInFor }, { owner: "a" })).toBe(false);
  expect(mayOpen({ id: "b", role: "supervisor", standsInFor }, { owner: "a" })).toBe(true);
  expect(mayOpen({ id: "b", role: "inspector", standsInFor: ["c", "a"] }, { owner: "a" })).toBe(true);
});

const ENGINES = [
  ["SQLite", () => join(scratch(), "office.db")],
  ["PostgreSQL", () => server.fresh()],
] as const;

const NOW = Date.parse("2026-03-02T08:00:00Z");
const PASSWORD = "nine lanterns at the quay";

describe.each(ENGINES)("accounts on %s", (_, address) => {
  let open: OpenDatabase;
  let accounts: Accounts;
  beforeAll(async () => {
    const opened = await openDatabase(address());
    if (!opened.ok) throw new Error(opened.faults.join());
    open = opened.value;
    accounts = await openAccounts(open, {
      secret: "a secret of the tests, longer than thirty-two characters",
      url: "http://127.0.0.1:3000",
    });
  });
  afterAll(() => open.db.destroy());

  const cookiesOf = (cookies: readonly string[]): Headers =>
    new Headers({ cookie: cookies.map((cookie) => cookie.split(";")[0] ?? "").join("; ") });
  const made = async (name: string, role: "inspector" | "supervisor" = "inspector") => {
    const code = await accounts.invite(role, "console", NOW);
    const person = await accounts.takeUp(code, { name, email: `${name}@tallowmere.example`, password: PASSWORD }, NOW);
    if (!person.ok) throw new Error(person.faults.join());
    return person.value;
  };
  const enter = async (name: string, password = PASSWORD, from = "192.0.2.1", now = NOW) =>
    accounts.signIn(`${name}@Tallowmere.example `, password, from, now);

  test("the office begins empty; a code makes the first supervisor, once", async () => {
    expect(await accounts.isEmpty()).toBe(true);
    const code = await accounts.invite("supervisor", "console", NOW);
    expect(await accounts.refused(code, NOW)).toBeNull();
    expect(await accounts.refused("another", NOW)).toMatch(/not one of ours/);
    const who = { name: "Vera", email: "vera@tallowmere.example", password: PASSWORD };
    const short = await accounts.takeUp(code, { ...who, password: "x".repeat(SHORTEST_PASSWORD - 1) }, NOW);
    expect(short.ok ? "" : short.faults.join()).toBe("the password needs at least 12 characters and at most 128");
    const both = await Promise.all([
      accounts.takeUp(code, who, NOW),
      accounts.takeUp(code, { ...who, email: "other@tallowmere.example" }, NOW),
    ]);
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
    expect(both.flatMap((outcome) => (outcome.ok ? [outcome.value.role] : []))).toEqual(["supervisor"]);
    expect(await accounts.isEmpty()).toBe(false);
    expect(await accounts.refused(code, NOW)).toMatch(/used already/);
  });

  test("an address that has an account makes no second one, and its link stays good", async () => {
    await made("olga");
    const code = await accounts.invite("inspector", "vera", NOW);
    const again = await accounts.takeUp(code, { name: "Olga", email: "OLGA@tallowmere.example", password: PASSWORD }, NOW);
    expect(again.ok ? "" : again.faults.join()).toMatch(/^somebody has an account with this e-mail address already/);
    expect(await accounts.refused(code, NOW)).toBeNull();
  });

  test("who changes his password needs the present one, signs in with the new one, and every older sign-in has ended", async () => {
    await made("dora");
    const [one, two] = [await enter("dora"), await enter("dora")];
    if (!one.ok || !two.ok) throw new Error("not signed in");
    const headers = cookiesOf(one.value.cookies);
    const next = "another eleven lanterns";
    const change = async (present: string, wanted: string, given = headers) => {
      const outcome = await accounts.changePassword(given, present, wanted, NOW);
      return outcome.ok ? "changed" : outcome.faults.join();
    };
    expect(await change(PASSWORD, "short")).toMatch(/^the new password needs at least 12/);
    expect(await change("wrong", next)).toBe("the present password is not right");
    expect(await change(PASSWORD, next, new Headers())).toBe("nobody is signed in");
    expect(await accounts.whoIs(headers)).not.toBeNull();
    expect(await change(PASSWORD, next)).toBe("changed");
    for (const { cookies } of [one.value, two.value]) expect(await accounts.whoIs(cookiesOf(cookies))).toBeNull();
    expect((await enter("dora", PASSWORD)).ok).toBe(false);
    const again = await enter("dora", next);
    if (!again.ok) throw new Error("not signed in");
    // Guessing from within a sign-in shuts the door as well.
    for (let n = 0; n < MOST.account; n += 1) await change("wrong", next, cookiesOf(again.value.cookies));
    expect(await change(next, PASSWORD, cookiesOf(again.value.cookies))).toMatch(/^too many failed tries/);
  });

  test("signing in gives cookies by which one is known, and signing out everywhere ends all of them", async () => {
    const anna = await made("anna");
    const [one, two] = [await enter("anna"), await enter("anna")];
    if (!one.ok || !two.ok) throw new Error("not signed in");
    for (const cookie of one.value.cookies) expect(cookie).toMatch(/HttpOnly.*SameSite=Lax|SameSite=Lax.*HttpOnly/i);
    expect(await accounts.whoIs(cookiesOf(one.value.cookies))).toEqual(anna);
    expect(await accounts.whoIs(new Headers())).toBeNull();
    expect(await accounts.whoIs(new Headers({ cookie: "forehail.session_token=made.up" }))).toBeNull();
    await accounts.signOut(cookiesOf(two.value.cookies), true);
    expect(await accounts.whoIs(cookiesOf(one.value.cookies))).toBeNull();
    expect(await accounts.whoIs(cookiesOf(two.value.cookies))).toBeNull();
    const three = await enter("anna");
    if (!three.ok) throw new Error("not signed in");
    await accounts.signOut(cookiesOf(three.value.cookies), false);
    expect(await accounts.whoIs(cookiesOf(three.value.cookies))).toBeNull();
  });

  test("each sign-in has a token of its own of at least 128 random bits, and none that was shown before is taken over", async () => {
    await made("edda");
    const tokens = new Set<string>();
    for (let n = 0; n < 4; n += 1) {
      const one = await enter("edda");
      if (!one.ok) throw new Error("not signed in");
      const [, token = ""] = /session_token=([^.;%]+)/.exec(one.value.cookies.join("; ")) ?? [];
      // Letters and digits: under six bits each.
      expect(token).toMatch(/^[A-Za-z0-9]{22,}$/);
      tokens.add(token);
    }
    expect(tokens.size).toBe(4);
  });

  test("a sign-in runs out after a week without use, and after thirty days however often it is used", async () => {
    await made("frida");
    const DAY = 24 * 60 * 60_000;
    const knownOnceMade = async (column: "createdAt" | "expiresAt", at: number): Promise<boolean> => {
      const one = await enter("frida");
      if (!one.ok) throw new Error("not signed in");
      const [, token = ""] = /session_token=([^.;%]+)/.exec(one.value.cookies.join("; ")) ?? [];
      const when = new Date(at).toISOString();
      await sql`update session set ${sql.ref(column)} = ${when} where token = ${token}`.execute(open.db);
      return (await accounts.whoIs(cookiesOf(one.value.cookies))) !== null;
    };
    expect(await knownOnceMade("createdAt", Date.now() - 29 * DAY)).toBe(true);
    expect(await knownOnceMade("createdAt", Date.now() - 30 * DAY - 1)).toBe(false);
    const one = await enter("frida");
    const lasting = /Max-Age=(\d+)/i.exec(one.ok ? one.value.cookies.join() : "");
    expect(Number(lasting?.[1]) * 1000).toBe(7 * DAY);
    expect(await knownOnceMade("expiresAt", Date.now() + DAY)).toBe(true);
    expect(await knownOnceMade("expiresAt", Date.now() - 1)).toBe(false);
  });

  test("a wrong password and an unknown address are told alike, and guessing shuts the door for a while, at once too", async () => {
    await made("boris");
    const [wrong, unknown] = [await enter("boris", "wrong"), await enter("nobody", "wrong", "192.0.2.9")];
    expect(wrong).toEqual(unknown);
    const many = await Promise.all(Array.from({ length: 12 }, () => enter("boris", "wrong", "192.0.2.2")));
    const said = many.map((outcome) => (outcome.ok ? "" : outcome.faults.join()));
    expect(said.filter((text) => text.startsWith("e-mail")).length).toBeLessThanOrEqual(MOST.account);
    // One after the other: the account's door is shut then, from wherever one comes and whatever the password.
    for (let n = 0; n < MOST.account; n += 1) await enter("boris", "wrong", `203.0.113.${n}`);
    const shut = await enter("boris", PASSWORD, "192.0.2.3");
    expect(shut.ok ? "" : shut.faults.join()).toMatch(/^too many failed tries; try again in 1[45] min$/);
    expect((await enter("boris", PASSWORD, "192.0.2.3", NOW + COUNTED + 1)).ok).toBe(true);
  });

  test("guessing at many accounts from one place shuts that place, and no other", async () => {
    await made("clara");
    for (let n = 0; n < MOST.address; n += 1) await enter(`guess${n}`, "wrong", "198.51.100.7");
    const shut = await enter("clara", PASSWORD, "198.51.100.7");
    expect(shut.ok ? "" : shut.faults.join()).toMatch(/^too many failed tries/);
    expect((await enter("clara", PASSWORD, "198.51.100.8")).ok).toBe(true);
  });

  test("no password and no code stands in the database", async () => {
    const code = await accounts.invite("inspector", "vera", NOW);
    const tables =
      open.kind === "sqlite"
        ? ["user", "account", "session", "invitation", "failed_try"]
        : ['"user"', "account", "session", "invitation", "failed_try"];
    for (const table of tables) {
      const { rows } = await sql`select * from ${sql.raw(table)}`.execute(open.db);
      const text = JSON.stringify(rows);
      expect(text).not.toContain(PASSWORD);
      expect(text).not.toContain(code);
    }
  });
});
