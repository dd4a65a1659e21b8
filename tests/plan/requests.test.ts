import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { success } from "../../lib/kernel/result.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { planFile } from "../../lib/usecases/planFile.ts";
import { visit } from "../cli/cli.ts";

type Json = Record<string, unknown>;

const planner = newPlanner(rulebook);

const planOf = async (document: unknown): Promise<Plan> => {
  const result = await planFile(planner, { read: async () => success(JSON.stringify(document)) }, "visit");
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  return result.value.plan;
};

const load = (name: string): Json => JSON.parse(readFileSync(visit(name), "utf8")) as Json;

/** The modern sets with another window and office calendar. */
const modern = (window: { from: string; to: string }, policy: Json = {}): Json => {
  const document = load("modern-electronic");
  (document["visit"] as Json)["window"] = window;
  document["policy"] = policy;
  return document;
};

const engineer = (plan: Plan) => plan.requests.find(({ need }) => need === "service-engineer");

describe("one technician for sister sets", () => {
  test("is asked for once, with all his tests and their minutes added up", async () => {
    const plan = await planOf(load("modern-electronic"));
    const asked = plan.requests.filter(({ need }) => need === "service-engineer");
    expect(asked.length).toBe(1);
    const main = ["lubeOilPressure", "jacketWaterTemperature", "overspeed"];
    const refs = plan.sets.flatMap(({ protections }) => protections.filter(({ kind }) => main.includes(kind)).map(({ ref }) => ref));
    expect(refs.length).toBe(9);
    expect(asked[0]?.neededBy).toEqual(refs);
    // Three sets, each 30 min oil, 30 min water, 15 min overspeed test mode (trade's table): 225 min, in half hours 4 h.
    expect(asked[0]?.hours).toBe(4);
  });

  test("is asked for twice where the sets are of two makes", async () => {
    const document = load("modern-electronic");
    ((document["sets"] as Json[])[2] as Json)["sisters"] = "B";
    const plan = await planOf(document);
    expect(plan.requests.filter(({ need }) => need === "service-engineer").map(({ at }) => at)).toEqual([
      "/support/sisters/A/serviceEngineer",
      "/support/sisters/B/serviceEngineer",
    ]);
  });
});

describe("dates, counted by hand on a calendar", () => {
  test("a technician's ten working days and one of margin before Tuesday 3 March 2026, with Monday 16 February a holiday", async () => {
    // Back from 3 March: 2 Mar, 27, 26, 25, 24, 23, 20, 19, 18, 17 Feb are ten; 16 is a holiday; the eleventh is Friday 13 February.
    const plan = await planOf(modern({ from: "2026-03-03", to: "2026-03-04" }, { holidays: ["2026-02-16"] }));
    expect(engineer(plan)?.confirmBy).toBe("2026-02-13");
    // Answer within three working days of Monday 9 February.
    expect(plan.visit.replyBy).toBe("2026-02-12");
  });

  test("a Friday–Saturday weekend moves the days", async () => {
    // Working days Sunday to Thursday: three after Monday 9 February 2026 are Tuesday, Wednesday, Thursday 12;
    // with an answer wanted within four, Sunday 15.
    const plan = await planOf(modern({ from: "2026-03-03", to: "2026-03-04" }, { workingDays: [0, 1, 2, 3, 4], replyWithin: 4 }));
    expect(plan.visit.replyBy).toBe("2026-02-15");
  });

  test("what can no longer come in time is not offered, and is no completion", async () => {
    const plan = await planOf(modern({ from: "2026-02-13", to: "2026-02-13" }));
    const open = plan.open.find(({ at }) => at === "/support/sisters/A/serviceEngineer");
    expect(open?.answers).toEqual(["aboard", "not to be had"]);
    expect(plan.open.find(({ at }) => at === "/support/functionGenerator")?.answers).toContain("in time");
  });

  test("for a later way whose lead time will not wait for the answer there is a hold", async () => {
    const document = load("old-mechanical");
    document["preparedOn"] = "2026-04-14";
    // The sensors hang in a dry well after all, perhaps; the spare is then only the second way, but takes eleven working days.
    for (const set of document["sets"] as Json[]) {
      const channel = set["jacketWaterTemperature"] as Json;
      Object.assign(channel, { well: "dry", leadLongEnough: "not known", immersion: 120, diameter: 8 });
    }
    const plan = await planOf(document);
    const spare = plan.requests.find(({ need }) => need === "jacket-water-spare");
    expect(spare).toMatchObject({ neededBy: [], hold: true, confirmBy: "2026-04-14" });
  });
});

describe("under a US basis", () => {
  test("no technician is ordered before the technique of his procedure is known", async () => {
    const document = load("modern-electronic");
    document["ruleBasis"] = "46 CFR 61.40";
    for (const set of document["sets"] as Json[]) (set["lubeOilPressure"] as Json)["makerProcedure"] = "not known";
    (document["support"] as Json)["writtenAcceptance"] = "in time";
    const plan = await planOf(document);
    const first = plan.questions.filter(({ at }) => at.endsWith("/makerProcedure")).map(({ ref }) => ref);
    expect(first.length).toBeGreaterThan(0);
    expect(engineer(plan)?.notBefore).toEqual(first);
    expect(plan.questions.slice(0, first.length).map(({ ref }) => ref)).toEqual(first);
  });

  test("size, subchapter and manning shut out the test rule that cannot bind, and only that", async () => {
    const bases = async (vessel: Json): Promise<readonly string[] | undefined> => {
      const document = load("almost-nothing-known");
      Object.assign((document["visit"] as Json)["vessel"] as Json, vessel);
      return (await planOf(document)).open.find(({ at }) => at === "/ruleBasis")?.answers;
    };
    const all = ["SOLAS and class", "46 CFR 61.40", "46 CFR 130.480", "maker and office", "local rules"];
    const without = (basis: string) => all.filter((other) => other !== basis);
    expect(await bases({})).toEqual(all);
    // 46 CFR 130.400: 100 gross tons or more, automation that replaces or reduces crew; 128.110: from 6,000 GT ITC subchapter F.
    const osv = { offshoreSupplyVessel: "yes", automationReplacesCrew: "yes" };
    expect(await bases({ ...osv, grossTonnage: 5999 })).toEqual(without("46 CFR 61.40"));
    expect(await bases({ ...osv, grossTonnage: 6000 })).toEqual(without("46 CFR 130.480"));
    expect(await bases({ ...osv, grossTonnage: 100 })).toEqual(without("46 CFR 61.40"));
    expect(await bases({ ...osv, grossTonnage: 99 })).toEqual(without("46 CFR 130.480"));
    expect(await bases({ offshoreSupplyVessel: "yes", automationReplacesCrew: "no", grossTonnage: 2000 })).toEqual(
      without("46 CFR 130.480"),
    );
    // Never on the word "offshore" alone.
    expect(await bases({ offshoreSupplyVessel: "yes" })).toEqual(all);
  });
});

test("nothing acceptable is said, with the single answers that would open a way", async () => {
  const document = load("old-mechanical");
  ((document["sets"] as Json[])[0] as Json)["stopsAllowed"] = "no";
  const plan = await planOf(document);
  const overspeed = plan.sets[0]?.protections.find(({ kind }) => kind === "overspeed");
  expect(overspeed?.decision).toMatchObject({
    state: "settled",
    outcome: "nothing acceptable",
    methods: [],
    unproven: ["sensing", "wiring", "logic", "final"],
  });
  expect(overspeed?.decision.wouldOpen).toContainEqual({ at: "/sets/0/stopsAllowed", is: ["yes"], methods: ["os-raise"] });
  expect(plan.warnings.some(({ at }) => at === overspeed?.at)).toBe(true);
});

test("a deviation to a fit method decides, with its reason; the same file without it decides otherwise", async () => {
  const document = load("old-mechanical");
  document["deviations"] = [{ protection: "/sets/0/lubeOilPressure", method: "lo-contact", reason: "Class asked for it." }];
  document["ruleBasis"] = "SOLAS and class";
  const oilIn = (plan: Plan) => plan.sets[0]?.protections.find(({ kind }) => kind === "lubeOilPressure");
  const first = oilIn(await planOf(document));
  expect(first?.deviation).toEqual({ method: "lo-contact", refused: false, reason: "Class asked for it." });
  expect(first?.decision.methods).toContain("lo-contact");
  document["deviations"] = [];
  expect(oilIn(await planOf(document))?.decision.methods).toEqual(["lo-bleed"]);
});

test("an empty abort window bars the real overspeed, under the rules' limit and the makers' alike; half a turn of room opens it", async () => {
  const verdict = async (numbers: Json) => {
    const document = load("old-mechanical");
    Object.assign((document["sets"] as Json[])[0]?.["overspeed"] as Json, numbers);
    const overspeed = (await planOf(document)).sets[0]?.protections.find(({ kind }) => kind === "overspeed");
    return overspeed?.verdicts.find(({ method }) => method === "os-raise");
  };
  // 2045 + 20 + 5 = 2070 rpm = 1.15 × 1800 rpm: nothing is left between the latest trip and the limit.
  expect(await verdict({ setPoint: 2045, makersMaximum: 2100 })).toMatchObject({ verdict: "barred", bar: "rule" });
  expect(await verdict({ setPoint: 2044.5, makersMaximum: 2100 })).toMatchObject({ verdict: "fit" });
  expect(await verdict({ setPoint: 2000, makersMaximum: 2025 })).toMatchObject({ verdict: "barred", bar: "practical" });
  expect(await verdict({ setPoint: 2000, makersMaximum: 2025.5 })).toMatchObject({ verdict: "fit" });
});
