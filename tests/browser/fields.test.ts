import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ruleOf } from "../../lib/access/rules.ts";
import { DEMO_PASSWORD } from "../../lib/cli/demoPeople.ts";
import { replySteps } from "../../lib/reply/steps.ts";
import { askedThen } from "../../lib/usecases/exchange/askedStored.ts";
import { fieldsByRef } from "../../lib/usecases/exchange/reply.ts";
import { vesselOf } from "../../lib/usecases/visits/visitDraft.ts";
import {
  addresses,
  ask,
  cookiesIn,
  type Fields,
  formOf,
  type Guarded,
  guardedOffice,
  lastingTables,
  officeAddresses,
  openLink,
  rowsOf,
  shown,
  signIn,
  tokenFor,
} from "./guarded.ts";

let it: Guarded;
let vessel: { readonly cookie: string; readonly token: string };
beforeAll(async () => {
  it = await guardedOffice();
  vessel = await openLink(it.served, it.sent);
}, 180_000);
afterAll(() => it.served.stop());

/** What a hand-made form says beside its own fields, to be somebody else or to have been done already. */
const further = ({ served: { people }, other }: Guarded): Fields => ({
  ...{
    id: people.odo,
    person: people.odo,
    role: "supervisor",
    owner: people.odo,
    who: people.odo,
    changedBy: people.odo,
    confirmed_by: people.odo,
  },
  ...{
    version: "999",
    frameVersion: "999",
    standing: "settled",
    when: "2020-01-01T00:00:00.000Z",
    made_at: "0",
    used_at: "",
    ended_at: "0",
  },
  ...{ sent: other.letter.id, letter: other.letter.id, mark: other.letter.mark, visit: other.letter.visit, expiresAt: "2999-01-01" },
  ...{ email: "taken@over.example", isAdmin: "true", admin: "1", approved: "yes", policy: "9", owner_id: people.odo },
  ...{ "__proto__[role]": "supervisor", "constructor.prototype.role": "supervisor", "constructor[prototype][role]": "supervisor" },
  ["__proto__"]: "supervisor",
  constructor: "supervisor",
});

const people = (): readonly unknown[] =>
  (rowsOf(it.served, "user")["user"] as readonly Readonly<Record<string, unknown>>[]).map(({ id, role, email, name }) => ({
    id,
    role,
    email,
    name,
  }));

const owners = (): ReadonlyMap<string, string> =>
  new Map(
    (rowsOf(it.served, "visit")["visit"] as readonly { readonly id: string; readonly owner: string }[]).map(({ id, owner }) => [id, owner]),
  );

/** What nobody but a supervisor writes. */
const OF_SUPERVISORS = [
  "policy_version",
  "policy_act",
  "review_event",
  "review_comment",
  "settled_finding",
  "what_if",
  "invitation",
  "absence",
];

describe("whoever has a private link", () => {
  test("fills in the fields that his letter asks and no others, whatever his form says", async () => {
    const { served, sent, other } = it;
    const tables = lastingTables(served).filter((table) => !["reply", "reply_entry"].includes(table));
    const before = rowsOf(served, ...tables);
    const asked = askedThen(sent.letter.asked);
    const names = fieldsByRef(asked);
    for (const { id } of replySteps(asked)) {
      const own = Object.fromEntries([...names.values()].flat().map((name) => [name, ""]));
      const form = {
        ...further(it),
        ...own,
        "by.name": "Łukasz Wrona",
        from: id,
        seen: "by=0 Q9999=0 __proto__=0 constructor=0",
        post: "a",
        token: vessel.token,
      };
      expect((await ask(served, `/reply/at/${id}`, formOf(form, vessel.cookie))).status, id).toBe(200);
    }
    expect(rowsOf(served, ...tables)).toEqual(before);
    const entries = await served.office.store.entriesOf(sent.letter.id);
    expect(entries.map(({ ref }) => ref)).toContain("by");
    for (const { ref, value } of entries) expect(names.get(ref), ref).toEqual(expect.arrayContaining(Object.keys((value ?? {}) as object)));
    expect(await served.office.store.entriesOf(other.letter.id)).toEqual([]);
    expect(await served.office.store.replyOf(sent.letter.id)).not.toHaveProperty("confirmed");
  });

  test("reads his own letter only, and nothing of the office beside it", async () => {
    const { served, sent, other, visit } = it;
    const vesselNamed = async (id: string): Promise<string> => vesselOf(((await served.office.store.visit(id))?.frame ?? {}) as object);
    const pages = await Promise.all(
      [...replySteps(askedThen(sent.letter.asked)).map(({ id }) => `/reply/at/${id}`), "/reply"].map((path) =>
        ask(served, path, { headers: { cookie: vessel.cookie } }),
      ),
    );
    const all = pages.map(({ text }) => text).join("\n");
    expect(all).toContain(await vesselNamed(visit));
    const hidden = [
      await vesselNamed(other.letter.visit),
      visit,
      sent.letter.id,
      served.people.mara,
      "chief@ship.example",
      "super@owner.example",
    ];
    for (const one of hidden) expect(all).not.toContain(one);
  });

  test("takes away no file of another letter, and sees none", async () => {
    const { served, other } = it;
    const id = served.office.world.newId();
    const told = { what: "photograph", name: "theirs.jpg", type: "image/jpeg", size: 3, digest: "-" };
    const by = { who: "The superintendent", when: served.office.world.now() };
    await served.office.store.keepAttachment({ id, sent: other.letter.id, ...told, ...by }, Uint8Array.of(255, 216, 255), 10);
    const tried = await ask(served, "/reply/files", formOf({ ...further(it), token: vessel.token, drop: id }, vessel.cookie));
    expect(tried.text).not.toContain("theirs.jpg");
    expect((await served.office.store.attachmentsOf(other.letter.id)).map((one) => one.id)).toEqual([id]);
  });

  test("comes to no address of the office, neither by his cookie nor by his page's token", async () => {
    const { served } = it;
    for (const [route, path] of officeAddresses(it))
      expect(String((await ask(served, path, { headers: { cookie: vessel.cookie } })).headers["location"]), route).toMatch(
        /^\/sign-in\?back=/,
      );
    const tables = lastingTables(served).filter((table) => table !== "audit");
    const before = rowsOf(served, ...tables);
    for (const [route, path] of addresses("POST", it).filter(([one]) => ruleOf(one).need !== "anybody"))
      expect((await ask(served, path, formOf({ ...further(it), token: vessel.token }, vessel.cookie))).status, route).toBe(403);
    expect(rowsOf(served, ...tables)).toEqual(before);
  }, 60_000);
});

describe("an inspector", () => {
  test("makes himself no supervisor and nobody else the owner, whatever his forms say", async () => {
    const { served } = it;
    const cookie = shown(cookiesIn(await signIn(served, "mara", { role: "supervisor", id: served.people.odo })));
    const [persons, visits, kept] = [people(), owners(), rowsOf(served, ...OF_SUPERVISORS)];
    const own = addresses("POST", it).filter(([route]) => ruleOf(route).need === "signed in" && route !== "POST /sign-out");
    expect(own.length).toBeGreaterThan(20);
    for (const [route, path] of own) {
      const answer = await ask(
        served,
        path,
        formOf({ ...further(it), act: "add", name: `A ${route}`.slice(0, 60), seen: "0", token: tokenFor(served, "mara") }, cookie),
      );
      expect(answer.status, route).toBeLessThan(500);
      expect(people(), route).toEqual(persons);
      for (const [id, owner] of owners()) expect(owner, route).toBe(visits.get(id) ?? served.people.mara);
    }
    expect(rowsOf(served, ...OF_SUPERVISORS)).toEqual(kept);
  }, 120_000);

  test("comes to nothing that is a supervisor's, by reading or writing", async () => {
    const { served } = it;
    const cookie = shown(cookiesIn(await signIn(served, "mara")));
    const [persons, kept] = [people(), rowsOf(served, ...OF_SUPERVISORS)];
    const closed = [...addresses("GET", it), ...addresses("POST", it)].filter(([route]) => ruleOf(route).need === "supervisor");
    expect(closed.length).toBeGreaterThan(20);
    for (const [route, path] of closed) {
      const form = formOf({ ...further(it), role: "inspector", seen: "0", token: tokenFor(served, "mara") }, cookie);
      const answer = await ask(served, path, route.startsWith("GET") ? { headers: { cookie } } : form);
      expect(answer.status === 404 || String(answer.headers["location"]).endsWith("/no-such-page"), route).toBe(true);
    }
    expect([people(), rowsOf(served, ...OF_SUPERVISORS)]).toEqual([persons, kept]);
  }, 60_000);

  test("comes to nothing of another inspector's visit, by reading or writing", async () => {
    const { served } = it;
    const cookie = shown(cookiesIn(await signIn(served, "ilse")));
    const tables = lastingTables(served).filter((table) => table !== "audit");
    const before = rowsOf(served, ...tables);
    const ofVisit = [...addresses("GET", it), ...addresses("POST", it)].filter(([route]) => ruleOf(route).visit === true);
    for (const [route, path] of ofVisit) {
      const form = formOf({ ...further(it), owner: served.people.ilse, seen: "0", token: tokenFor(served, "ilse") }, cookie);
      const answer = await ask(served, path, route.startsWith("GET") ? { headers: { cookie } } : form);
      expect(answer.status === 404 || String(answer.headers["location"]).endsWith("/no-such-page"), route).toBe(true);
    }
    expect(rowsOf(served, ...tables)).toEqual(before);
  }, 60_000);
});

test("a link for an inspector's account makes an inspector, whatever the form says", async () => {
  const { served } = it;
  const code = await served.office.accounts.invite("inspector", "console", served.office.clock());
  const own = { code, name: "Bela Rosk", email: "bela@office.example", password: DEMO_PASSWORD, token: tokenFor(served, "") };
  const made = await ask(served, "/join/create", formOf({ ...further(it), ...own }));
  expect(made.headers["location"]).toBe("/visits");
  expect((await served.office.accounts.people()).find(({ email }) => email === "bela@office.example")?.role).toBe("inspector");
});

test("a link for a password sets that of whom it is for and nothing else, whatever the form says", async () => {
  const { served } = it;
  const { accounts, clock } = served.office;
  const code = await accounts.passwordLink({ id: served.people.ilse, role: "inspector" }, served.people.odo, clock());
  const before = people();
  const own = { code, password: "seven herons over the weir", token: tokenFor(served, "") };
  const more = {
    name: "Odo",
    email: "odo@office.example",
    person: served.people.odo,
    for_person: served.people.odo,
    id: served.people.odo,
  };
  const set = await ask(served, "/join/password", formOf({ ...further(it), ...more, ...own }));
  expect(set.headers["location"]).toMatch(/^\/sign-in\?said=/);
  expect(people()).toEqual(before);
  const enter = async (name: string, password: string): Promise<unknown> =>
    (await ask(served, "/sign-in/enter", formOf({ token: tokenFor(served, ""), email: `${name}@office.example`, password }))).headers[
      "location"
    ];
  expect(await enter("ilse", own.password)).toBe("/visits");
  expect(await enter("ilse", DEMO_PASSWORD)).toMatch(/^\/sign-in\?/);
  expect(await enter("odo", DEMO_PASSWORD)).toBe("/visits");
  const back = await accounts.passwordLink({ id: served.people.ilse, role: "inspector" }, served.people.odo, clock());
  expect((await accounts.setPassword(back, DEMO_PASSWORD, clock())).ok).toBe(true);
});

test("a supervisor's form changes whom its address names, and nothing but what it is for", async () => {
  const { served } = it;
  const cookie = shown(cookiesIn(await signIn(served, "odo")));
  const seen = String((await served.office.accounts.people()).find(({ id }) => id === served.people.ilse)?.version ?? 0);
  const before = people();
  await ask(
    served,
    `/people/${served.people.ilse}/role`,
    formOf({ ...further(it), role: "supervisor", seen, token: tokenFor(served, "odo") }, cookie),
  );
  const after = people() as readonly { readonly id: string; readonly role: string }[];
  expect(after.find(({ id }) => id === served.people.ilse)?.role).toBe("supervisor");
  expect(after.filter(({ id }) => id !== served.people.ilse)).toEqual(
    (before as typeof after).filter(({ id }) => id !== served.people.ilse),
  );
  expect(after.map((one) => ({ ...one, role: "" }))).toEqual((before as typeof after).map((one) => ({ ...one, role: "" })));
});

test("a password is kept and asked for as it was typed, spaces at its ends and all", async () => {
  const { served } = it;
  const code = await served.office.accounts.invite("inspector", "console", served.office.clock());
  const [email, password] = ["spaced@office.example", "  seven lamps and a bell "];
  await ask(served, "/join/create", formOf({ code, name: "Sena Orly", email, password, token: tokenFor(served, "") }));
  const enter = async (given: string): Promise<unknown> =>
    (await ask(served, "/sign-in/enter", formOf({ token: tokenFor(served, ""), email, password: given }))).headers["location"];
  expect(await enter(password.trim())).toMatch(/^\/sign-in\?/);
  expect(await enter(password.toUpperCase())).toMatch(/^\/sign-in\?/);
  expect(await enter(password)).toBe("/visits");
});
