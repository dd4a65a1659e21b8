import { describe, expect, test } from "vitest";
import { policyChanges, visitPolicyChanges } from "../../lib/compare/policies.ts";
import { type PolicyTexts, policyTexts, readPolicy } from "../../lib/flow/policyForm.ts";
import { type OfficePolicy, officePolicySchema } from "../../lib/model/officePolicy.ts";
import { POLICY_FIELDS, policyLines } from "../../lib/plan/policyFields.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";

const usual = officePolicySchema.parse({});
const full: OfficePolicy = officePolicySchema.parse({
  plan: {
    paper: "Letter",
    office: { name: "Harbour office", address: ["1 Quay", "Haverdyn"], contact: "plans@office.example" },
    loadLimit: 72.5,
    coldTemperature: 40,
    boilingMargin: 4.5,
    tachometerError: 10,
    replyWithin: 5,
    margin: 2,
    leadTimes: { local: 1, sent: 12, specialist: 15, authority: 30 },
    workingDays: [0, 1, 2, 3, 4],
    holidays: ["2026-12-25", "2027-01-01"],
    batteryEnd: 0.55,
    batteryCold: 0.7,
    alsoProve: ["overcurrent"],
    leaveOut: ["vibration", "fuelLeak"],
    localRules: {
      name: "Harbour order 7",
      says: "No wiring is touched.",
      bars: [{ technique: 6, because: "it is so" }],
      overspeedFactor: 1.12,
    },
    mayStayOpen: ["sensing", "final"],
  },
  units: "us",
  review: { everyPlan: true, deviations: true, consent: ["sensing"] },
});

const read = (change: PolicyTexts) => readPolicy({ ...policyTexts(usual), ...change }, rulebook);
const faultsIn = (change: PolicyTexts): readonly string[] => {
  const outcome = read(change);
  return outcome.ok ? [] : outcome.faults.map(({ id, says }) => `${id}| ${says}`);
};
const taken = (change: PolicyTexts): OfficePolicy => {
  const outcome = read(change);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
  return outcome.value;
};

describe("the form of a policy", () => {
  test.each([
    ["the defaults", usual],
    ["everything told", full],
  ])("%s: what it shows is read back as the same policy", (_, policy) => {
    expect(readPolicy(policyTexts(policy), rulebook)).toEqual({ ok: true, value: policy });
  });

  test.each([
    ["coldTemperature", "104 °F", (policy: OfficePolicy) => policy.plan.coldTemperature, 40],
    ["coldTemperature", "38,5°C", (policy: OfficePolicy) => policy.plan.coldTemperature, 38.5],
    ["boilingMargin", "9 °F", (policy: OfficePolicy) => policy.plan.boilingMargin, 5],
    ["boilingMargin", "4 K", (policy: OfficePolicy) => policy.plan.boilingMargin, 4],
    ["loadLimit", "80 percent", (policy: OfficePolicy) => policy.plan.loadLimit, 80],
    ["leadSent", "12 working days", (policy: OfficePolicy) => policy.plan.leadTimes.sent, 12],
    ["batteryEnd", "55 %", (policy: OfficePolicy) => policy.plan.batteryEnd, 0.55],
  ])("%s reads “%s”", (id, text, of, value) => {
    expect(of(taken({ [id]: text }))).toBe(value);
  });

  test("holidays are read in every form a day is written in, put in order, each once", () => {
    expect(taken({ holidays: "1 January 2027\n25.12.2026\n\n2026-12-25" }).plan.holidays).toEqual(["2026-12-25", "2027-01-01"]);
  });

  test("a part that needs consent may stay unproven; one that may not needs none", () => {
    const policy = taken({ "part-sensing": "consent", "part-wiring": "no" });
    expect(policy.plan.mayStayOpen).toEqual(["sensing", "final"]);
    expect(policy.review.consent).toEqual(["sensing"]);
  });

  test.each([
    [{ loadLimit: "105 %" }, "loadLimit| Highest load on the sets left running: given “105 %”; wanted a number from 10 to 100 %"],
    [{ loadLimit: "" }, "loadLimit| Highest load on the sets left running: given nothing; wanted a number"],
    [{ coldTemperature: "45 psi" }, "coldTemperature| A drained circuit is opened at or under: given “45 psi”; wanted a number"],
    [{ leadSent: "2.5" }, "leadSent| A part that is sent takes: given “2.5”; wanted a whole number of working days"],
    [{ leadSent: "121" }, "leadSent| A part that is sent takes: given “121”; wanted a number from 0 to 120 working days"],
    [{ holidays: "2026-12-25\n3/4/2027" }, "holidays| Days that do not count: given “3/4/2027”; wanted"],
    [{ workingDays: "" }, "workingDays| Days of the week that count: given none; wanted at least one day of the week"],
    [{ officeName: "" }, "officeName| Name of the office: given nothing; wanted"],
    [{ "bar-4": "no" }, "rulesName| What they are called: given nothing; wanted a name"],
    [{ rulesName: "x".repeat(121), rulesSay: "y" }, "rulesName| What they are called: given"],
    [{ leaveOut: "nothing" }, "leaveOut| Left out: given “nothing”; wanted protections that the rulebook has"],
    [{ paper: "A3" }, "paper| Paper: given “A3”; wanted one of: A4, Letter"],
  ])("%j is told at its field", (change: PolicyTexts, says) => {
    expect(faultsIn(change).join("\n")).toContain(says);
  });

  test("every fault is told at once", () => {
    expect(faultsIn({ loadLimit: "a", coldTemperature: "b", holidays: "c", margin: "" })).toHaveLength(4);
  });
});

describe("what differs between policies", () => {
  test("every field that differs is told with was and now, and nothing else", () => {
    const changes = policyChanges(usual, full, { rulebook, units: "metric" });
    const [was, now] = [usual, full].map((policy) => policyLines(policy, { rulebook, units: "metric" }));
    expect(changes.map(({ id }) => id)).toEqual(
      POLICY_FIELDS.map(({ id }) => id).filter(
        (id) => was?.find((line) => line.id === id)?.value !== now?.find((line) => line.id === id)?.value,
      ),
    );
    expect(changes.find(({ id }) => id === "loadLimit")).toMatchObject({ was: "85 %", now: "72.5 %" });
    expect(changes.find(({ id }) => id === "part-sensing")).toMatchObject({ now: "May, with the supervisor’s consent" });
    expect(changes.find(({ id }) => id === "leaveOut")?.now).toContain(" and ");
    expect(policyChanges(full, full, { rulebook, units: "us" })).toEqual([]);
  });

  test("temperatures and margins are told in the reader’s units", () => {
    const lines = policyLines(usual, { rulebook, units: "us" });
    expect(lines.find(({ id }) => id === "coldTemperature")?.text).toBe("113 °F");
    expect(lines.find(({ id }) => id === "boilingMargin")?.text).toBe("5.4 °F");
  });

  test("of a visit neither letterhead nor paper nor consent counts", () => {
    const office: OfficePolicy = { ...full, plan: { ...full.plan, loadLimit: 60 } };
    const visit = { ...full.plan, paper: "A4", office: usual.plan.office } as const;
    expect(visitPolicyChanges(visit, office, { rulebook, units: "metric" })).toEqual([
      {
        id: "loadLimit",
        label: "Highest load on the sets left running",
        group: "Limits and margins",
        scope: "visit",
        was: "72.5 %",
        now: "60 %",
      },
    ]);
    expect(visitPolicyChanges({ ...visit, loadLimit: 60, mayStayOpen: ["final"] }, office, { rulebook, units: "metric" })).toMatchObject([
      { id: "part-sensing", was: "May not stay unproven", now: "May, with the supervisor’s consent" },
    ]);
  });
});
