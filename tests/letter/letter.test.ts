import { describe, expect, test } from "vitest";
import { askedNow } from "../../lib/letter/questions.ts";
import { longDate } from "../../lib/letter/words.ts";
import { askedOf as askedBy } from "../../lib/plan/asked.ts";
import { sayFigure } from "../../lib/plan/readable.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { VISITS } from "../golden/golden.ts";
import { letterText, namedIn, planned, referencesIn, shown, visitText, withVisit } from "./letters.ts";

const HEADINGS = ["What we ask of you", "What we have assumed", "How each protection will be proven", "Questions", "Requests", "Cautions"];

describe.each(VISITS)("%s", (name) => {
  test("every test, question and request stands in the letter", async () => {
    const { plan, letter } = await planned(visitText(name));
    const found = referencesIn(letterText(letter));
    expect(namedIn(plan).filter((ref) => !found.has(ref))).toEqual([]);
  });

  test("the cautions of every planned method stand in it once, and what is never done", async () => {
    const { plan, letter } = await planned(visitText(name));
    const text = letterText(letter);
    const protections = plan.sets.flatMap((set) => set.protections);
    for (const id of new Set(protections.flatMap(({ cautions }) => cautions))) {
      const caution = rulebook.cautions.find((found) => found.id === id)?.text ?? "no such caution";
      expect(text.split(caution)).toHaveLength(2);
    }
    expect(text).toContain("Real loss of oil pressure");
    expect(text).toContain("Cooling water blocked to overheat the engine");
  });

  test("it is in the order of its reader, and page one asks in at most seven lines", async () => {
    const { letter } = await planned(visitText(name));
    const headings = letter.blocks.flatMap((block) => (block.kind === "heading" ? [block.text] : []));
    expect(headings.slice(0, 6)).toEqual(HEADINGS);
    expect(headings.at(-1)).toBe("How to answer");
    const asks = letter.blocks.find((block) => block.kind === "asks");
    expect(asks?.lines.length).toBeLessThanOrEqual(7);
    const actors = ["Master", "Chief engineer", "Electrician", "Superintendent"];
    const order = asks?.lines.map(({ who }) => actors.indexOf(who)) ?? [];
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(asks?.lines.map(({ by }) => by).join()).toMatch(/^((by \d{1,2} [A-Z][a-z]+ 20\d\d|at once),?)+$/);
  });

  test("it says nothing that a program says", async () => {
    const { letter } = await planned(visitText(name));
    const text = letterText(letter);
    expect(text).not.toMatch(/undefined|NaN|\[object|\/sets\/|\/support\//);
    for (const id of rulebook.protections.flatMap(({ methods }) => methods.map((method) => method.id))) expect(text).not.toContain(id);
    // What is sent to the worker arrives as it was.
    expect(structuredClone(letter)).toEqual(letter);
  });

  test("every request is on page one, and nobody is asked to order what nothing hangs on yet", async () => {
    const { plan, letter } = await planned(visitText(name));
    const asks = letter.blocks.find((block) => block.kind === "asks");
    const found = referencesIn(asks?.lines.map(({ what }) => what).join(" ") ?? "");
    expect([...askedNow(plan), ...plan.requests].map(({ ref }) => ref).filter((ref) => !found.has(ref))).toEqual([]);
  });
});

test("known facts stand with source, date and value, the rules first; sister sets that are planned alike are told once", async () => {
  const { letter } = await planned(visitText("old-mechanical"));
  const text = shown(letter);
  expect(text).toContain("Known to this office on 7 April 2026");
  const facts = letter.blocks.filter((block) => block.kind === "facts");
  expect(facts[0]?.where).toBe("The whole visit");
  expect(facts[0]?.groups[0]?.facts[0]).toEqual({
    name: "rules that bind",
    value: "46 CFR with 61.40-10 (periodic safety tests)",
    refs: "K1",
  });
  const tests = letter.blocks.flatMap((block) =>
    block.kind === "protection" ? [`${block.refs} ${block.name} (${block.where}): ${block.state}`] : [],
  );
  const named = (name: string): readonly string[] => tests.filter((line) => line.includes(name));
  expect(named("lube-oil pressure (")).toEqual([expect.stringMatching(/^T\d+, T\d+ Low lube-oil pressure \(SSDG 1, SSDG 2\): settled$/)]);
  expect(named("jacket-water temperature (")).toEqual([
    expect.stringMatching(/^T\d+, T\d+ High jacket-water temperature \(SSDG 1, SSDG 2\): proposed$/),
  ]);
  const [first, second, ...more] = named("Overspeed (");
  expect([first, second, ...more].map((line) => line?.replace(/^T\d+ /, ""))).toEqual([
    "Overspeed (SSDG 1): settled",
    "Overspeed (SSDG 2): proposed",
  ]);
  expect(text).toContain(`Done as for ${first?.split(" ")[0]}.`);
});

test("each set's time out of use is the sum of its planned methods in half hours", async () => {
  const { plan, letter } = await planned(visitText("old-mechanical"));
  // Two emergency stops beside the hand stop: three times five minutes.
  const times = (id: string): number => (id === "st-each" ? 3 : 1);
  const minutes = new Map(
    rulebook.protections.flatMap(({ methods }) => methods.map((method) => [method.id, method.minutes * times(method.id)] as const)),
  );
  for (const { name, protections } of plan.sets) {
    const sum = protections.flatMap(({ decision }) => decision.methods).reduce((total, id) => total + (minutes.get(id) ?? 0), 0);
    expect(shown(letter)).toContain(`${name} about ${Math.ceil(sum / 30) / 2} h`);
  }
});

test("questions of one fact are one row with each set's reference; sums stand without minus signs and once", async () => {
  const { letter } = await planned(visitText("mixed-channels"));
  const rows = letter.blocks.flatMap((block) => (block.kind === "table" ? block.rows : []));
  expect(rows.some(([ref]) => /^Q\d+ Port generator, Q\d+ Emergency generator$/.test(ref ?? ""))).toBe(true);
  expect(shown(letter).match(/Q\d+ \+ Q\d+ is at least 5\.5 rpm under Q\d+/g)).toHaveLength(1);
});

test("the question of merged sister sets is named by its reference on each of them", async () => {
  const text = await withVisit("almost-nothing-known", (visit) => {
    for (const set of visit.sets) set["primeMover"] = "diesel";
  });
  const { letter } = await planned(text);
  const oil = letter.blocks.find((block) => block.kind === "protection" && block.name.startsWith("Low lube-oil pressure"));
  const provided = oil?.kind === "protection" ? oil.lines.map((line) => line.text).join("\n") : "";
  expect(provided).toMatch(/Q\d+, Q\d+: \w/);
});

test("where no way is left the letter says so, with the choices and what would open one", async () => {
  const text = await withVisit("old-mechanical", (visit) => {
    visit.support = { referenceGauge: "aboard", tachometer: "not to be had", heatBlock: "not to be had" };
  });
  const { plan, letter } = await planned(text);
  const lost = plan.sets.flatMap(({ protections }) => protections).filter(({ decision }) => decision.outcome === "nothing acceptable");
  expect(lost.length).toBeGreaterThan(0);
  const blocks = letter.blocks.flatMap((block) => (block.kind === "protection" ? [block] : []));
  const block = blocks.find(({ refs }) => refs.split(", ").includes(lost[0]?.ref ?? ""));
  expect(block?.how).toBe("No acceptable way to prove this protection is left");
  expect(block?.strip).toEqual([]);
  expect(block?.lines.map(({ label }) => label)).toEqual(expect.arrayContaining(["Would open a way", "Your choices"]));
  expect(blocks.filter(({ strip }) => strip.length === 0).length).toBeGreaterThan(1);
  expect(shown(letter).split("test on another occasion")).toHaveLength(2);
});

test("a protection that does not apply says why and is not among the never-done", async () => {
  const text = await withVisit("old-mechanical", (visit) => {
    for (const set of visit.sets) {
      set["cooling"] = "air";
      for (const key of ["jacketWaterTemperature", "coolingCircuit", "preheater"]) delete set[key];
    }
  });
  const { letter } = await planned(text);
  const place = letter.blocks.findIndex((block) => block.kind === "subheading" && block.text === "Not tested");
  expect(JSON.stringify(letter.blocks[place + 1]).toLowerCase()).toContain("high jacket-water temperature");
  expect(shown(letter)).not.toContain("Cooling water blocked to overheat the engine");
});

test("many groups of sister sets still ask in at most seven lines, with every reference", async () => {
  const text = await withVisit("almost-nothing-known", (visit) => {
    visit.sets = ["A", "B", "C", "D", "E", "F"].map((sisters) => ({ name: `Generator ${sisters}`, sisters }));
  });
  const { plan, letter } = await planned(text);
  const asks = letter.blocks.find((block) => block.kind === "asks");
  expect(asks?.lines.length).toBeLessThanOrEqual(7);
  const found = referencesIn(letterText(letter));
  expect(namedIn(plan).filter((ref) => !found.has(ref))).toEqual([]);
});

test("what only a practice or memory stands behind is marked, and the mark explained; short forms stand once in full", async () => {
  const { letter } = await planned(visitText("mixed-channels"));
  const text = shown(letter);
  expect(text).toMatch(/In automatic, by class practice, .* \[memory\]/);
  expect(text).toContain("Marks: [memory] from memory of a published text");
  expect(text).toContain("CFR, Code of Federal Regulations of the United States");
});

test("figures are shown in the units that the reader chose", async () => {
  const { letter } = await planned(visitText("modern-electronic"), "us");
  expect(shown(letter)).toContain("Set point: 36.3 psi");
  expect(shown(letter)).toContain("Set point: 203 °F ± 1.8 °F");
});

test.each(VISITS)("%s: letter and plan agree field by field on every protection and request", async (name) => {
  const { plan, letter } = await planned(visitText(name));
  const names = new Map(
    rulebook.protections.flatMap((protection) => protection.methods.map((method) => [method.id, method.name] as const)),
  );
  const blocks = letter.blocks.flatMap((block) => (block.kind === "protection" ? [block] : []));
  for (const protection of plan.sets.flatMap(({ protections }) => protections)) {
    const own = blocks.filter(({ refs }) => refs.split(", ").includes(protection.ref));
    expect(own, protection.ref).toHaveLength(protection.applies === "no" ? 0 : 1);
    const [block] = own;
    if (block === undefined) continue;
    const { decision, figures, kind } = protection;
    expect(block.name.toLowerCase()).toBe(rulebook.protections.find((entry) => entry.kind === kind)?.name.toLowerCase());
    const nothing = decision.outcome === "nothing acceptable";
    expect(block.state).toBe(nothing && decision.state === "settled" ? "no way left" : decision.state);
    for (const id of decision.methods) expect(block.how.toLowerCase()).toContain(names.get(id)?.toLowerCase());
    expect(block.strip.map(({ state }) => state)).toEqual(decision.outcome === "combination" ? Object.values(decision.proves) : []);
    const setPoint = figures.find(({ name: what }) => what === "set point");
    const told = blocks.flatMap(({ lines }) => lines.filter(({ label }) => label === "Figures").map(({ text }) => text));
    if (setPoint !== undefined)
      expect(
        told.some((text) => text.toLowerCase().includes(sayFigure(setPoint, "metric").toLowerCase())),
        protection.ref,
      ).toBe(true);
  }
  const rows = letter.blocks.flatMap((block) =>
    block.kind === "table" ? block.rows.map((row) => ({ head: block.columns[1]?.title ?? "", row })) : [],
  );
  for (const { ref, confirmBy, kind, actor } of plan.requests) {
    if (kind === "photograph") continue;
    const own = rows.filter(({ row }) => referencesIn(row[0] ?? "").has(ref));
    expect(own, ref).toHaveLength(1);
    expect(own[0]?.head.toLowerCase(), ref).toBe(`${actor}, by ${longDate(confirmBy)}`.toLowerCase());
  }
});

test("a set point given in the ship's own unit stands in both", async () => {
  const { letter } = await planned(visitText("old-mechanical"));
  expect(shown(letter)).toContain("Set point: 1.52 bar ± 0.21 bar (as given: 22 psi ± 3 psi)");
  const { letter: us } = await planned(visitText("old-mechanical"), "us");
  expect(shown(us)).not.toContain("as given");
});

describe("page one", () => {
  const askedOf = async (text: string, who: string): Promise<string> => {
    const { letter } = await planned(text);
    const block = letter.blocks.find(({ kind }) => kind === "asks");
    return block?.kind === "asks"
      ? block.lines
          .filter((line) => line.who === who)
          .map(({ what }) => what)
          .join(" ")
          .toLowerCase()
      : "";
  };

  test("asks the superintendent what waits where the tests want more hours than the window has, and only there", async () => {
    expect(await askedOf(visitText("too-near"), "Superintendent")).toContain("the tests want about 12 h, the window has 8");
    expect(await askedOf(visitText("shaft-generator"), "Superintendent")).not.toContain("another day");
  });

  test("asks for another day where things cannot come in time, and for a choice where no way is left", async () => {
    expect(await askedOf(visitText("too-near"), "Superintendent")).toContain("whether a later day suits better");
    expect(await askedOf(visitText("old-mechanical"), "Superintendent")).toContain("choose what is done about t8, t17");
    expect(await askedOf(visitText("old-mechanical"), "Superintendent")).not.toContain("a later day");
  });

  test("what is known to be aboard is not asked again, only to be ready", async () => {
    const text = await askedOf(visitText("old-mechanical"), "Chief engineer");
    expect(text).toMatch(/have r1, r3 ready/);
    expect(text).toMatch(/confirm r2;/);
  });
});

test("what the office took by itself is said to be so; what the file gives is not", async () => {
  const { letter } = await planned(visitText("almost-nothing-known"));
  const facts = letter.blocks.flatMap((block) => (block.kind === "facts" ? block.groups.flatMap(({ facts: own }) => own) : []));
  expect(facts.find(({ name }) => name === "largest tachometer error")?.value).toBe("5 rpm (taken by us)");
  const given = await planned(visitText("old-mechanical"));
  expect(letterText(given.letter)).toContain(JSON.stringify({ name: "prime mover", value: "diesel", refs: "K4, K5" }));
});

test("a set with turbines on board has the turbines' caution before a loss of power; a ship of diesels has not", async () => {
  const told = async (name: string): Promise<boolean> =>
    letterText((await planned(visitText(name))).letter).includes("emergency oil pump of every turbine");
  expect(await told("passenger-ship")).toBe(false);
  expect(await told("mixed-channels")).toBe(false);
});

describe("what a chief engineer would otherwise find out on the day", () => {
  test("the speed at which the maker lets the flap be shut stands with its test", async () => {
    expect(shown((await planned(visitText("old-mechanical"))).letter)).toContain("lets the flap be shut: 1200 rpm");
  });

  test("where the others cannot carry the ship while a set is motored, the load at which they could is told", async () => {
    const text = await withVisit("old-mechanical", (file) => {
      const plant = (file as unknown as { plant: Record<string, unknown> }).plant;
      Object.assign(plant, { load: 340, largestStarter: 90 });
      for (const set of file.sets) Object.assign(set["reversePower"] ?? {}, { motoringPower: 14 });
    });
    // 85 % of the other set's 500 kW, less 70 kW of motoring and 90 kW of the largest starter.
    expect(shown((await planned(text)).letter).toLowerCase()).toContain("ship's load lowered to 265 kw or less; 340 kw are given");
  });

  test("a settled overspeed test that proves no sensing is told, not only drawn", async () => {
    const text = await withVisit("old-mechanical", ({ sets }) => {
      Object.assign(sets[1] ?? {}, { governor: "electronic" });
    });
    const { letter, plan } = await planned(text);
    const overspeed = plan.sets[1]?.protections.find(({ kind }) => kind === "overspeed");
    expect(overspeed?.decision).toMatchObject({ state: "settled", unproven: ["sensing", "wiring"] });
    expect(shown(letter)).toContain(`${overspeed?.ref}: no way is left that proves what senses the overspeed`);
    expect(shown((await planned(visitText("old-mechanical"))).letter)).not.toContain("what senses the overspeed. The trip speed");
  });

  test("windings that are compared cold have the machine at rest asked for", async () => {
    const { plan } = await planned(visitText("too-near"));
    const compared = plan.sets.flatMap(({ protections }) =>
      protections.filter(({ decision }) => decision.methods.includes("wt-comparison")),
    );
    const request = plan.requests.find(({ need }) => need === "cold-machine");
    expect(compared.length).toBeGreaterThan(0);
    expect(request?.neededBy).toEqual(compared.map(({ ref }) => ref));
  });
});

test("every assumption that is the vessel's to say stands with a reference, its own or that of the request for it; the same in the next letter", async () => {
  for (const name of VISITS) {
    const { plan, read, letter } = await planned(visitText(name));
    const asked = askedBy(plan, rulebook, new Set(), { read, units: "metric" });
    const facts = letter.blocks.flatMap((block) => (block.kind === "facts" ? block.groups.flatMap((group) => group.facts) : []));
    const shownRefs = facts.flatMap(({ refs }) => [...referencesIn(refs)]);
    expect(shownRefs.filter((ref) => ref.startsWith("K")).sort(), name).toEqual(asked.known.map(({ ref }) => ref).sort());
    const requested = shownRefs.filter((ref) => ref.startsWith("R"));
    for (const ref of requested) expect(read.answers.has(asked.requests.find((one) => one.ref === ref)?.at ?? ""), ref).toBe(true);
    // What is said at a request is not said at an assumption too.
    expect(asked.known.filter(({ at }) => asked.requests.some((request) => request.at === at))).toEqual([]);
    for (const { name: fact, refs } of facts) if (refs === "") expect(fact).toBe("largest tachometer error");
  }
  const first = await planned(visitText("old-mechanical"));
  const file = JSON.parse(visitText("old-mechanical")) as { sets: Record<string, unknown>[] };
  const [one, ...others] = file.sets;
  const next = await planned(JSON.stringify({ ...file, sets: [{ ...one, cooling: "air" }, ...others], references: first.plan.references }));
  const refsOf = ({ plan, read }: typeof first) =>
    new Map(askedBy(plan, rulebook, new Set(), { read, units: "metric" }).known.map(({ at, ref }) => [at, ref]));
  const [before, after] = [refsOf(first), refsOf(next)];
  expect([...after.keys()].some((at) => !before.has(at)) || after.size < before.size).toBe(true);
  for (const [at, ref] of after) if (before.has(at)) expect(ref).toBe(before.get(at));
  expect(new Set(after.values()).size).toBe(after.size);
});

test("how an assumption is said to be otherwise is told with one of this letter's", async () => {
  expect(shown((await planned(visitText("old-mechanical"))).letter)).toMatch(/“K\d+: [^”]+” says what an assumption is in fact\./);
});
