import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { startsDrawing } from "../../lib/drawing/startsInStore.ts";
import type { World } from "../../lib/kernel/ports.ts";
import { failure, success } from "../../lib/kernel/result.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { openStore } from "../../lib/store/open.ts";
import type { Store, StoredVisit } from "../../lib/store/store.ts";
import { formerAnswers, startAgain } from "../../lib/usecases/visits/again.ts";
import { chooseMethod } from "../../lib/usecases/visits/deviate.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { makeLetter } from "../../lib/usecases/visits/makeLetter.ts";
import { besideRecord, createVisit, saveParticulars, textsOf } from "../../lib/usecases/visits/particulars.ts";
import { pathNow, pointerNow, storedPath } from "../../lib/usecases/visits/places.ts";
import { fileOfVisit, planVisit } from "../../lib/usecases/visits/planVisit.ts";
import { type Field, saveStep } from "../../lib/usecases/visits/saveStep.ts";
import { addSet, copySet, removeSet, renameSet, restoreSet } from "../../lib/usecases/visits/sets.ts";
import { typedOn } from "../../lib/usecases/visits/typed.ts";
import { visit } from "../cli/cli.ts";
import { VISITS } from "../golden/golden.ts";
import { planned } from "../letter/letters.ts";

const planner = newPlanner(rulebook);
const anna = { who: "anna", when: "2026-03-02T08:00:00.000Z" };
const boris = { who: "boris", when: "2026-03-02T08:05:00.000Z" };
let made = 0;
const world: World = {
  now: () => anna.when,
  newId: () => {
    made += 1;
    return `visit-${made}`;
  },
};

let store: Store;
beforeAll(async () => {
  const opened = await openStore(":memory:");
  if (!opened.ok) throw new Error(opened.faults.join());
  store = opened.value;
});
afterAll(() => store.close());

const textOf = (name: string): string => readFileSync(visit(name), "utf8");
const kept = async (text: string): Promise<string> => {
  const id = await importVisit({ store, world, planner }, text, "anna");
  if (!id.ok) throw new Error(JSON.stringify(id.faults));
  return id.value;
};
const storedOf = async (id: string): Promise<StoredVisit> => {
  const stored = await store.visit(id);
  if (stored === null) throw new Error("no visit");
  return stored;
};
const planOf = async (id: string) => {
  const plan = planVisit(await storedOf(id), planner);
  if (!plan.ok) throw new Error(JSON.stringify(plan.faults));
  return plan.value.plan;
};
const field = (at: string, text: string, seen = 0): Field => ({ at, text, notKnown: false, seen });

const BARE = JSON.stringify({
  format: "forehail visit 1",
  preparedOn: "2026-03-02",
  visit: { vessel: { name: "Sundalis Reach" }, place: { name: "Haverdyn Roads" }, window: { from: "2026-03-24", to: "2026-03-25" } },
  sets: [{ name: "Generator 1" }, { name: "Generator 2" }],
});

test.each(VISITS)("imported, kept and given out again it is the same visit and plans as the command line does: %s", async (name) => {
  const id = await kept(textOf(name));
  const again = await planned(JSON.stringify(fileOfVisit(await storedOf(id), planner)));
  expect(await planOf(id)).toEqual(again.plan);
  const direct = await planned(textOf(name));
  const decisions = ({ sets }: typeof again.plan) => sets.map(({ protections }) => protections.map(({ ref, decision }) => [ref, decision]));
  expect(decisions(await planOf(id))).toEqual(decisions(direct.plan));
});

test("a file with faults is not kept, and all of them are told", async () => {
  const before = (await store.listVisits({ limit: 500 })).length;
  const outcome = await importVisit(
    { store, world, planner },
    BARE.replace('"2026-03-24"', '"24 March"').replace("Generator 2", ""),
    "anna",
  );
  expect(outcome.ok ? [] : outcome.faults.map(({ at }) => at)).toEqual(["/visit/window/from", "/sets/1/name"]);
  expect((await importVisit({ store, world, planner }, "{", "anna")).ok).toBe(false);
  expect(await store.listVisits({ limit: 500 })).toHaveLength(before);
});

describe("a page of answers", () => {
  const page = (id: string, path: string, fields: readonly Field[], by = anna) =>
    saveStep({ store, rulebook }, { visit: id, path, fields, mode: "page" }, by);

  test("takes choices, numbers in the user's unit and 'not known', and the plan follows", async () => {
    const id = await kept(BARE);
    expect((await page(id, "sets/1/machine", [field("/sets/0/primeMover", "diesel")])).ok).toBe(true);
    const plate = await page(id, "sets/1/plate", [
      field("/sets/0/plate/ratedPower", "1,250 kW"),
      { ...field("/sets/0/plate/ratedSpeed", ""), notKnown: true },
      field("/sets/0/plate/voltage", "  "),
    ]);
    expect(plate.ok).toBe(true);
    const file = fileOfVisit(await storedOf(id), planner) as { sets: { primeMover: string; plate: object }[] };
    expect(file.sets[0]).toMatchObject({ primeMover: "diesel", plate: { ratedPower: 1250, ratedSpeed: "not known" } });
    expect(file.sets[0]?.plate).not.toHaveProperty("voltage");
    const oil = await page(id, "sets/1/lubeOilPressure", [field("/sets/0/lubeOilPressure/fitted", "stop")]);
    expect(oil.ok).toBe(true);
    await page(id, "sets/1/lubeOilPressure", [field("/sets/0/lubeOilPressure/setPoint", "22 psi")]);
    const set = (await planOf(id)).sets[0]?.protections.find(({ kind }) => kind === "lubeOilPressure");
    expect(set?.figures.find(({ name }) => name === "set point")?.value).toBeCloseTo(1.5168, 3);
  });

  test("with a fault keeps nothing of it, and tells every fault with field, given and wanted", async () => {
    const id = await kept(BARE);
    const before = await storedOf(id);
    const outcome = await page(id, "sets/1/plate", [
      field("/sets/0/plate/ratedPower", "1250"),
      field("/sets/0/plate/frequency", "sixty"),
      field("/sets/0/plate/voltage", "98 °C"),
      field("/sets/0/plate/poles", "100000"),
    ]);
    expect(outcome.ok ? [] : outcome.faults.map(({ at, says }) => [at, says])).toEqual([
      ["/sets/0/plate/voltage", expect.stringMatching(/^Rated voltage: given "98 °C"; wanted a number .* V, kV, or “not known”$/)],
      ["/sets/0/plate/frequency", expect.stringMatching(/given "sixty"; wanted a number .* Hz/)],
      ["/sets/0/plate/poles", expect.stringMatching(/given "100000"; wanted a number from/)],
    ]);
    expect(await storedOf(id)).toEqual(before);
    // Everything typed is there to be put right, the right and the wrong.
    expect(Object.keys(await typedOn(store, await storedOf(id), "sets/1/plate", "anna"))).toHaveLength(4);
    expect(await typedOn(store, await storedOf(id), "sets/1/plate", "boris")).toEqual({});
  });

  test("while somebody types each field is kept by itself; what is wrong stays typed until it is put right", async () => {
    const id = await kept(BARE);
    const each = (fields: readonly Field[]) =>
      saveStep({ store, rulebook }, { visit: id, path: "sets/1/plate", fields, mode: "each" }, anna);
    const outcome = await each([field("/sets/0/plate/ratedPower", "1250"), field("/sets/0/plate/frequency", "sixty")]);
    expect(outcome.ok ? outcome.value.faults.map(({ at }) => at) : []).toEqual(["/sets/0/plate/frequency"]);
    expect((await storedOf(id)).answers.get("/sets/1/plate/ratedPower")?.value).toBe(1250);
    expect(Object.keys(await typedOn(store, await storedOf(id), "sets/1/plate", "anna"))).toEqual(["/sets/0/plate/frequency"]);
    await each([field("/sets/0/plate/frequency", "60")]);
    expect(await typedOn(store, await storedOf(id), "sets/1/plate", "anna")).toEqual({});
  });

  test("takes the next question that an answer of the same page brings with it", async () => {
    const id = await kept(BARE);
    const both = [field("/sets/0/primeMover", "diesel"), field("/sets/0/cooling", "water")];
    expect((await page(id, "sets/1/machine", both.slice(1))).ok).toBe(false);
    expect((await page(id, "sets/1/machine", both)).ok).toBe(true);
    expect((await storedOf(id)).answers.get("/sets/1/cooling")?.value).toBe("water");
  });

  test("a hand-made post with another page's field, a choice that is none, another visit or another page is refused", async () => {
    const id = await kept(BARE);
    for (const [path, at, text] of [
      ["sets/1/plate", "/sets/0/primeMover", "diesel"],
      ["sets/1/machine", "/sets/1/primeMover", "diesel"],
      ["sets/1/machine", "/sets/0/primeMover", "sails"],
      ["sets/9/machine", "/sets/8/primeMover", "diesel"],
      ["sets/1/lubeOilPressure", "/sets/0/lubeOilPressure/__proto__", "x"],
    ] as const)
      expect((await page(id, path, [field(at, text)])).ok, at).toBe(false);
    expect((await page("visit-none", "rules", [])).ok).toBe(false);
    expect((await storedOf(id)).version).toBe(1);
  });

  test("sent twice is kept once; what two people answered at once is told to the later with both values", async () => {
    const id = await kept(BARE);
    const once = [field("/sets/1/primeMover", "diesel")];
    await page(id, "sets/2/machine", once);
    expect(await page(id, "sets/2/machine", once)).toEqual({ ok: true, value: { version: 2, conflicts: [], faults: [] } });
    const late = await page(id, "sets/2/machine", [field("/sets/1/primeMover", "steam turbine")], boris);
    expect(late.ok ? late.value.conflicts : []).toEqual([
      { at: "/sets/1/primeMover", yours: "steam turbine", theirs: { value: "diesel", version: 2, ...anna } },
    ]);
  });
});

describe("sets", () => {
  const answered = async (): Promise<string> => {
    const id = await kept(BARE);
    for (const [path, at, text] of [
      ["sets/1/machine", "/sets/0/primeMover", "diesel"],
      ["sets/2/machine", "/sets/1/primeMover", "steam turbine"],
    ] as const)
      await saveStep({ store, rulebook }, { visit: id, path, fields: [field(at, text)], mode: "page" }, anna);
    return id;
  };
  const namesAndMovers = async (id: string) =>
    (fileOfVisit(await storedOf(id), planner) as { sets: { name: string; primeMover?: string }[] }).sets.map(({ name, primeMover }) => [
      name,
      primeMover,
    ]);

  test("are added, renamed, and copied with all their answers", async () => {
    const id = await answered();
    await addSet(store, await storedOf(id), "Emergency", anna);
    await copySet(store, await storedOf(id), 1, "Generator 1b", anna);
    await renameSet(store, await storedOf(id), 2, { name: "Turbo" }, anna);
    expect(await namesAndMovers(id)).toEqual([
      ["Generator 1", "diesel"],
      ["Turbo", "steam turbine"],
      ["Emergency", undefined],
      ["Generator 1b", "diesel"],
    ]);
  });

  test("are taken out without their answers coming to stand on another, and put back as they were", async () => {
    const id = await answered();
    const before = await namesAndMovers(id);
    const gone = await removeSet(store, await storedOf(id), 1, anna);
    expect(await namesAndMovers(id)).toEqual([["Generator 2", "steam turbine"]]);
    await addSet(store, await storedOf(id), "New", anna);
    expect(await namesAndMovers(id)).toEqual([
      ["Generator 2", "steam turbine"],
      ["New", undefined],
    ]);
    if (!gone.ok) throw new Error(gone.faults.join());
    await restoreSet(store, await storedOf(id), gone.value.out, anna);
    expect(await namesAndMovers(id)).toEqual([...before, ["New", undefined]]);
    expect((await restoreSet(store, await storedOf(id), gone.value.out, anna)).ok).toBe(true);
    expect(await namesAndMovers(id)).toHaveLength(3);
  });

  test("the references of a set that was taken out are not given to another", async () => {
    const plan = await planOf(await answered());
    const id = await kept(JSON.stringify({ ...(JSON.parse(BARE) as object), references: plan.references }));
    const first = (await planOf(id)).sets[1]?.protections.map(({ ref }) => ref);
    await removeSet(store, await storedOf(id), 1, anna);
    expect((await planOf(id)).sets[0]?.protections.map(({ ref }) => ref)).toEqual(first);
    await addSet(store, await storedOf(id), "New", anna);
    const all = (await planOf(id)).sets.flatMap(({ protections }) => protections.map(({ ref }) => ref));
    expect(new Set(all).size).toBe(all.length);
    expect(all.filter((ref) => plan.sets[0]?.protections.some((own) => own.ref === ref))).toEqual([]);
  });

  test("the last set stays, a set that is not there is told, and a visit that somebody else changed is not changed over him", async () => {
    const id = await kept(BARE);
    const stale = await storedOf(id);
    expect((await removeSet(store, await storedOf(id), 1, anna)).ok).toBe(true);
    expect((await removeSet(store, await storedOf(id), 2, anna)).ok).toBe(false);
    expect((await copySet(store, await storedOf(id), 7, "x", anna)).ok).toBe(false);
    expect(await addSet(store, stale, "late", boris)).toEqual({ ok: false, faults: ["somebody else changed the visit meanwhile"] });
  });
});

describe("a letter", () => {
  const pdf = Uint8Array.from([37, 80, 68, 70]);
  const rendering = { render: async () => success(pdf) };

  test("is kept with the file, the plan and the rulebook it was made from, and its references stay", async () => {
    const id = await kept(BARE);
    const letter = await makeLetter({ store, world, planner, letters: rendering }, id, "anna");
    if (!letter.ok) throw new Error(letter.faults.join());
    const made = await store.made(letter.value.id);
    expect(made).toMatchObject({ visit: id, who: "anna", pdf, rulebook: `${rulebook.version} ${planner.digest}` });
    const again = await planned(made?.file ?? "");
    expect(again.plan).toEqual(JSON.parse(made?.plan ?? ""));
    const { references } = fileOfVisit(await storedOf(id), planner) as { references: unknown };
    expect(references).toEqual(again.plan.references);
    // A second letter of the same plan hands out nothing new and leaves the visit as it is.
    const { version } = await storedOf(id);
    expect((await makeLetter({ store, world, planner, letters: rendering }, id, "anna")).ok).toBe(true);
    expect((await storedOf(id)).version).toBe(version);
    expect(await store.madeOf(id)).toHaveLength(2);
  });

  test("that cannot be rendered says so, is not kept, and leaves the visit untouched", async () => {
    const id = await kept(BARE);
    const before = await storedOf(id);
    const failing = { render: async () => failure("the letter took longer than 30 s") };
    expect(await makeLetter({ store, world, planner, letters: failing }, id, "anna")).toEqual({
      ok: false,
      faults: ["the letter took longer than 30 s"],
    });
    expect(await store.madeOf(id)).toEqual([]);
    expect(await storedOf(id)).toEqual(before);
    expect((await makeLetter({ store, world, planner, letters: rendering }, "none", "anna")).ok).toBe(false);
  });
});

describe("a choice against the order of preference", () => {
  const AT = "/sets/0/reversePower";
  const choosing = async (id: string, method: string | null, reason: string, seen?: number) => {
    const stored = await storedOf(id);
    return chooseMethod({ store, planner }, stored, { at: AT, method, reason, seen: seen ?? stored.frameVersion }, anna);
  };
  const protectionOf = async (id: string) => {
    const found = (await planOf(id)).sets[0]?.protections.find(({ at }) => at === AT);
    if (found === undefined) throw new Error("no such test");
    return found;
  };

  test("is kept with its reason where the method is fit, told in the plan, and taken back", async () => {
    const id = await kept(textOf("too-near"));
    const before = await protectionOf(id);
    const fit = before.verdicts.find(({ verdict, method }) => verdict === "fit" && !before.decision.methods.includes(method))?.method ?? "";
    expect(fit).not.toBe("");
    expect(await choosing(id, fit, " The relay's engineer is aboard anyway. ")).toEqual({ ok: true, value: null });
    expect((await protectionOf(id)).deviation).toEqual({ method: fit, refused: false, reason: "The relay's engineer is aboard anyway." });
    expect((await protectionOf(id)).decision.methods).toContain(fit);
    expect((await choosing(id, null, "")).ok).toBe(true);
    expect(await protectionOf(id)).toEqual(before);
  });

  test("is refused where the method is vetoed, barred or still depends, without a reason, or when the visit changed; nothing changes", async () => {
    const id = await kept(textOf("too-near"));
    const before = await storedOf(id);
    const { verdicts } = await protectionOf(id);
    for (const { method, verdict } of verdicts.filter((one) => one.verdict !== "fit")) {
      const outcome = await choosing(id, method, "because");
      expect(outcome.ok ? "" : outcome.faults[0]?.says, method).toContain(`it is ${verdict}`);
    }
    const fit = verdicts.find(({ verdict }) => verdict === "fit")?.method ?? "";
    const refused = [await choosing(id, fit, "  "), await choosing(id, "none such", "because"), await choosing(id, fit, "x".repeat(601))];
    expect(refused.map((outcome) => (outcome.ok ? "" : outcome.faults[0]?.field))).toEqual(["reason", "method", "reason"]);
    const late = await choosing(id, fit, "because", before.frameVersion - 1);
    expect(late.ok ? "" : late.faults[0]?.says).toContain("Somebody else changed the visit");
    expect(await storedOf(id)).toEqual(before);
  });
});

describe("another visit of a vessel from a former one", () => {
  test("takes over vessel, sets and what lasts of the machinery, as far as it still holds; nothing of the day", async () => {
    const id = await kept(textOf("old-mechanical"));
    const answers = formerAnswers(await storedOf(id), rulebook);
    expect(answers.length).toBeGreaterThan(20);
    expect(answers.some(({ at }) => at.startsWith("/support/") || at === "/ruleBasis" || at.endsWith("/openDefects"))).toBe(false);
    const dropped = "/sets/0/primeMover";
    const holds = new Set(answers.map(({ at }) => at).filter((at) => at !== dropped));
    const again = await startAgain({ store, rulebook, world }, await storedOf(id), holds, anna);
    const [former, fresh] = [await storedOf(id), await storedOf(again)].map((stored) => fileOfVisit(stored, planner)) as readonly {
      visit: { vessel: object; window?: object; place?: object };
      sets: Record<string, unknown>[];
      letters?: unknown;
      references?: unknown;
      setAside?: object;
    }[];
    expect(fresh?.visit.vessel).toEqual(former?.visit.vessel);
    expect([fresh?.visit.window, fresh?.visit.place, fresh?.letters, fresh?.references]).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
    expect(fresh?.sets.map(({ name }) => name)).toEqual(former?.sets.map(({ name }) => name));
    expect(fresh?.sets[0]).not.toHaveProperty("primeMover");
    expect(fresh?.sets[1]?.["primeMover"]).toBe(former?.sets[1]?.["primeMover"]);
    const took = (await storedOf(again)).answers;
    expect(took.size).toBe(holds.size);
    // What holds is given as it was, and nobody can slip in more.
    const slipped = await startAgain({ store, rulebook, world }, await storedOf(id), new Set(["/ruleBasis", "/support/heatBlock"]), anna);
    expect((await storedOf(slipped)).answers.size).toBe(0);
  });
});

describe("a visit made on a page", () => {
  test("is one however often it is sent, and none where something is wrong", async () => {
    const make = (texts: Readonly<Record<string, string>>, sets: string) =>
      createVisit({ store, rulebook }, { id: "made-once", texts, sets, alike: false }, anna);
    const wrong = await make({ "/visit/window/from": "soon" }, " \n ");
    expect(wrong.ok ? [] : wrong.faults.map(({ at }) => at)).toEqual(["/visit/window/from", "/sets"]);
    expect(await store.visit("made-once")).toBeNull();
    for (const _ of [1, 2])
      expect(await make({ "/visit/vessel/name": "Sundalis Reach" }, "One\n\nTwo")).toEqual({ ok: true, value: "made-once" });
    expect((await storedOf("made-once")).version).toBe(1);
    // Nobody is a sister who was not said to be one.
    expect(fileOfVisit(await storedOf("made-once"), planner)).toMatchObject({
      sets: [
        { name: "One", sisters: "A" },
        { name: "Two", sisters: "B" },
      ],
    });
    const alike = await createVisit({ store, rulebook }, { id: "alike", texts: {}, sets: "One\nTwo", alike: true }, anna);
    expect(alike.ok).toBe(true);
    const added = await addSet(store, await storedOf("alike"), "Three", anna);
    expect(added.ok).toBe(true);
    const frame = (await storedOf("alike")).frame as { readonly sets: readonly { readonly sisters: string }[] };
    expect(frame.sets.map(({ sisters }) => sisters)).toEqual(["A", "A", "B"]);
  });

  test("keeps what two people changed in different fields, and tells both values where they changed the same", async () => {
    const id = await kept(BARE);
    const was = textsOf((await storedOf(id)).frame as object);
    const save = async (texts: Readonly<Record<string, string>>, by: typeof anna, before = was) => {
      const outcome = await saveParticulars({ store, rulebook }, await storedOf(id), { texts: { ...before, ...texts }, was: before }, by);
      return outcome.ok ? outcome.value.outcome : outcome.faults;
    };
    const [flag, owner] = ["/visit/vessel/flag", "/visit/vessel/owner"];
    expect(await save({ [owner]: "Owner A" }, anna)).toBe("saved");
    expect(await save({ [flag]: "Panama" }, boris)).toBe("saved");
    const now = textsOf((await storedOf(id)).frame as object);
    expect([now[flag], now[owner]]).toEqual(["Panama", "Owner A"]);
    expect(await save({ [owner]: "Owner B" }, boris)).toBe("meanwhile");
    const shown = besideRecord(now, { texts: { ...was, [owner]: "Owner B" }, was });
    expect(shown.theirs).toEqual({ [owner]: "Owner A" });
    expect([shown.texts[flag], shown.texts[owner]]).toEqual(["Panama", "Owner B"]);
    expect(await save({ [owner]: "Owner B" }, boris, now)).toBe("saved");
  });
});

describe("two people", () => {
  test("who send a whole page each conflict only where both changed something", async () => {
    const id = await kept(BARE);
    const page = (fields: readonly Field[], by: typeof anna) =>
      saveStep({ store, rulebook }, { visit: id, path: "sets/1/plate", fields, mode: "page" }, by);
    const [frequency, voltage] = ["/sets/0/plate/frequency", "/sets/0/plate/voltage"];
    await page([field(frequency, "60"), field(voltage, "440")], anna);
    const seen = (await storedOf(id)).version;
    await page([field(frequency, "50", seen), field(voltage, "400", seen)], anna);
    const late = await page([field(frequency, "60", seen), field(voltage, "450", seen)], boris);
    expect(late.ok ? late.value.conflicts.map(({ at }) => at) : []).toEqual([voltage]);
    expect((await storedOf(id)).answers.get("/sets/1/plate/frequency")?.value).toBe(50);
  });
});

test("starts in store are drawn one box each: filled where wanted, crossed where wanted and not there", () => {
  for (const [given, wanted] of [
    [8, 10],
    [10, 8],
    [0, 3],
    [5, 5],
  ] as const) {
    const { shapes, says } = startsDrawing(given, wanted);
    const boxes = shapes.filter((shape) => "box" in shape);
    expect(boxes).toHaveLength(Math.max(given, wanted));
    expect(boxes.filter((shape) => "box" in shape && shape.filled === true)).toHaveLength(Math.min(given, wanted));
    expect(shapes.filter((shape) => "line" in shape)).toHaveLength(2 * Math.max(0, wanted - given));
    expect(says).toContain(wanted > given ? `${wanted - given} short` : `${given - wanted} left`);
  }
});

test("a page that was opened before sets were taken out keeps to its set, whatever its number is now", () => {
  const [shown, now] = [
    [1, 2, 61],
    [2, 61],
  ];
  expect(pathNow("sets/3/plate", shown, now)).toBe("sets/2/plate");
  expect(pointerNow("/sets/2/plate/voltage", shown, now)).toBe("/sets/1/plate/voltage");
  expect(pathNow("sets/1/plate", shown, now)).toBeNull();
  expect(pathNow("sets/4/plate", shown, now)).toBeUndefined();
  expect(pathNow("plant", shown, now)).toBe("plant");
  expect(pointerNow("/plant/load", shown, now)).toBe("/plant/load");
  expect(storedPath("sets/3/plate", shown)).toBe("sets/id 61/plate");
});
