import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { policyFieldsChanged, withPolicy, wouldChange } from "../../lib/compare/whatIf.ts";
import { officePolicySchema } from "../../lib/model/officePolicy.ts";
import { policySchema } from "../../lib/model/policy.ts";
import { readVisit } from "../../lib/model/read.ts";
import { plannerWith } from "../../lib/plan/build.ts";
import { decisionsIn, type PlanDecision } from "../../lib/plan/decisions.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { readRulebook } from "../../lib/rulebook/schema.ts";
import { outcomeOf } from "../../lib/usecases/review/whatIf.ts";
import { visit } from "../cli/cli.ts";
import { VISITS } from "../golden/golden.ts";

const planner = plannerWith(rulebook, null);
const textOf = (name: string): string => readFileSync(visit(name), "utf8");

const decided = (file: object, by = planner): readonly PlanDecision[] => {
  const read = readVisit(file, by.rulebook.facts, by.known);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return decisionsIn(by, read.value, by.plan(read.value)).decisions;
};

/** The rulebook as its command prints it and a file holds it. */
const printed = (): Record<string, unknown> =>
  JSON.parse(JSON.stringify({ digest: planner.digest, ...rulebook })) as Record<string, unknown>;

describe.each(VISITS)("%s", (name) => {
  const file = textOf(name);
  const kept = decided(JSON.parse(file));

  test("an unchanged rulebook changes nothing, be it the program’s or one that was printed and read again", () => {
    expect(kept.length).toBeGreaterThan(4);
    expect(outcomeOf({ sort: "rulebook", name: "" }, planner, { file, decisions: kept })).toEqual({ changes: [] });
    const read = readRulebook(printed());
    if (!read.ok) throw new Error(read.faults.join("\n"));
    expect(outcomeOf({ sort: "file", name: "", rulebook: {} }, plannerWith(read.value, null), { file, decisions: kept })).toEqual({
      changes: [],
    });
  });

  test("an unchanged policy changes nothing, though the visit has one of its own", () => {
    const policy = officePolicySchema.parse({ plan: { loadLimit: 70 }, review: { deviations: true } });
    const outcome = outcomeOf({ sort: "policy", number: 1, note: "", before: policy, after: policy }, planner, { file, decisions: kept });
    expect(outcome.changes).toEqual([]);
    expect(outcome.review?.[0]).toBe(outcome.review?.[1]);
  });

  test("what is told to change is what planning anew under the changed policy changes, test by test", () => {
    const before = officePolicySchema.parse({});
    const after = officePolicySchema.parse({ plan: { loadLimit: 40, mayStayOpen: ["wiring"] }, review: { everyPlan: true } });
    const outcome = outcomeOf({ sort: "policy", number: 1, note: "", before, after }, planner, { file, decisions: kept });
    const document = JSON.parse(file) as { readonly policy?: object };
    const then = new Map(
      decided({ ...document, policy: { ...document.policy, loadLimit: 40, mayStayOpen: ["wiring"] } }).map((one) => [one.at, one] as const),
    );
    const wanted = kept.filter(({ at, chosen, proves }) => {
      const is = then.get(at);
      return is === undefined || is.chosen !== chosen || JSON.stringify(is.proves) !== JSON.stringify(proves);
    });
    const fresh = [...then.keys()].filter((at) => !kept.some((one) => one.at === at));
    expect(outcome.changes.map(({ at }) => at).sort()).toEqual([...wanted.map(({ at }) => at), ...fresh].sort());
    expect(outcome.review?.[0]).toBe(0);
    expect(outcome.review?.[1]).toBe(then.size);
  });
});

test("a rulebook without a protection’s best way shows who would lose it", () => {
  const file = textOf("old-mechanical");
  const kept = decided(JSON.parse(file));
  const data = printed();
  data["protections"] = (data["protections"] as readonly { readonly methods: readonly { readonly id: string }[] }[]).map((one) => ({
    ...one,
    methods: one.methods.filter(({ id }) => id !== "lo-bleed"),
  }));
  // Steps of approved procedures name their methods by these facts.
  data["facts"] = (data["facts"] as readonly { readonly domain: { readonly values?: readonly string[] } }[]).map((fact) => ({
    ...fact,
    domain:
      fact.domain.values === undefined
        ? fact.domain
        : { ...fact.domain, values: fact.domain.values.filter((value) => value !== "lo-bleed") },
  }));
  const read = readRulebook(data);
  if (!read.ok) throw new Error(read.faults.join("\n"));
  const { changes } = outcomeOf({ sort: "file", name: "", rulebook: {} }, plannerWith(read.value, null), { file, decisions: kept });
  expect(changes.map(({ at, before }) => [at, before?.chosen])).toEqual([
    ["/sets/0/lubeOilPressure", "lo-bleed"],
    ["/sets/1/lubeOilPressure", "lo-bleed"],
  ]);
  for (const { after } of changes) expect(after?.chosen).not.toBe("lo-bleed");
});

test("a visit that the other rulebook cannot read is told, and the rest goes on", () => {
  const data = printed();
  data["facts"] = (data["facts"] as readonly { readonly at: string }[]).filter(({ at }) => !at.includes("/plate/poles"));
  const read = readRulebook(data);
  if (!read.ok) throw new Error(read.faults.join("\n"));
  const file = JSON.parse(textOf("old-mechanical")) as { readonly sets: readonly object[] };
  const withPoles = JSON.stringify({ ...file, sets: file.sets.map((set) => ({ ...set, plate: { poles: 4 } })) });
  const outcome = outcomeOf({ sort: "file", name: "", rulebook: {} }, plannerWith(read.value, null), { file: withPoles, decisions: [] });
  expect(outcome.changes).toEqual([]);
  expect(outcome.fault).toMatch(/poles/);
});

test("only fields of a policy that differ are put into a visit’s own", () => {
  const before = policySchema.parse({});
  expect(policyFieldsChanged(before, policySchema.parse({}))).toEqual({});
  expect(policyFieldsChanged(before, policySchema.parse({ loadLimit: 80 }))).toEqual({ loadLimit: 80 });
  const local = policySchema.parse({ localRules: { name: "Harbour", says: "x" } });
  expect(withPolicy({ policy: { loadLimit: 70, localRules: {} } }, policyFieldsChanged(local, before))).toEqual({
    policy: { loadLimit: 70 },
  });
});

test("equal decisions would not change, and one that is there in one plan only would", () => {
  const kept = decided(JSON.parse(textOf("steam-turbines")));
  expect(wouldChange(kept, structuredClone(kept))).toEqual([]);
  const gone = wouldChange(kept, kept.slice(1));
  expect(gone).toEqual([{ at: kept[0]?.at, kind: kept[0]?.kind, set: kept[0]?.set, before: expect.anything(), after: null }]);
});

describe("a rulebook that is none", () => {
  const changed = (change: (data: Record<string, unknown>) => unknown) => {
    const data = printed();
    change(data);
    const read = readRulebook(data);
    return read.ok ? [] : read.faults;
  };
  type Protections = { applies: unknown; kind: string; methods: { id: string; needs: string[]; requirements: { when: unknown }[] }[] }[];
  test.each([
    ["a list", () => readRulebook([]), /^the file: given something without version/],
    ["nothing", () => readRulebook(null), /^the file: given something without version/],
    ["a number", () => readRulebook(7), /^the file: given something without version/],
  ])("%s", (_, read, says) => {
    const outcome = read();
    expect(outcome.ok ? "" : outcome.faults.join("\n")).toMatch(says);
  });
  test("names what is wrong and where", () => {
    expect(changed((data) => delete data["cautions"])).toEqual([expect.stringMatching(/^cautions: /)]);
    expect(changed((data) => (data["protections"] as Protections)[0]?.methods[0]?.needs.push("a-crane"))).toEqual([
      expect.stringMatching(/st-each: given need "a-crane"; wanted one of this rulebook/),
    ]);
    expect(
      changed((data) => {
        const [first] = data["protections"] as Protections;
        if (first !== undefined) first.applies = { at: "/sets/*/colour", is: ["red"] };
      }),
    ).toEqual([expect.stringMatching(/applies: given "\/sets\/\*\/colour"; wanted a fact of this rulebook/)]);
    expect(
      changed((data) => {
        const [first] = data["protections"] as Protections;
        const at = "/ruleBasis";
        if (first !== undefined)
          first.applies = {
            all: [
              { at, is: ["local rules"] },
              { at, is: ["local rules"] },
            ],
          };
      }),
    ).toEqual([expect.stringMatching(/"\/ruleBasis" twice/)]);
    expect(
      changed((data) => (data["protections"] as Protections).push(...(data["protections"] as Protections).slice(0, 1))).length,
    ).toBeGreaterThan(1);
  });
});
