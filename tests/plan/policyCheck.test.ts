import { describe, expect, test } from "vitest";
import { newEngine } from "../../lib/decide/engine.ts";
import { verdictsOf } from "../../lib/decide/verdict.ts";
import { learn, nothingKnown } from "../../lib/logic/frame.ts";
import { LOCAL_RULES, RULE_BASIS, TACHOMETER_ERROR } from "../../lib/model/facts/visit.ts";
import { type OfficePolicy, officePolicySchema } from "../../lib/model/officePolicy.ts";
import { checkPolicy } from "../../lib/plan/policyCheck.ts";
import { POLICY_FIELDS } from "../../lib/plan/policyFields.ts";
import { withLocalRules } from "../../lib/rulebook/ruleBases.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { PARTS, type Protection } from "../../lib/rulebook/types.ts";
import { anyAnswer, newRandom } from "../bench/random.ts";
import { candidatesOf, maybe, specAt } from "../decide/oracle.ts";

const policyOf = (plan: object): OfficePolicy => officePolicySchema.parse({ plan });
const refusedFor = (plan: object): readonly string[] => checkPolicy(rulebook, policyOf(plan)).refused.map(({ id }) => id);
const saysOf = (plan: object): string =>
  checkPolicy(rulebook, policyOf(plan))
    .refused.map(({ says }) => says)
    .join("\n");

const localRules = (...techniques: readonly number[]) => ({
  name: "Harbour order 7",
  says: "No wiring is touched.",
  bars: techniques.map((technique) => ({ technique, because: "not wanted here" })),
});

const some = <Item>(items: readonly Item[], share: number, random: () => number): readonly Item[] => items.filter(() => random() < share);

const drawn = (random: () => number): OfficePolicy =>
  policyOf({
    mayStayOpen: some(PARTS, 0.6, random),
    leaveOut: some(
      rulebook.protections.map(({ kind }) => kind),
      random() < 0.5 ? 0 : 0.2,
      random,
    ),
    alsoProve: some(["preferentialTrips", "undervoltageRelease", "overcurrent"], 0.3, random),
    loadLimit: 10 + Math.floor(random() * 91),
    coldTemperature: 30 + Math.floor(random() * 31),
    boilingMargin: Math.floor(random() * 8),
    tachometerError: Math.floor(random() * 40),
    ...(random() < 0.5
      ? {}
      : {
          localRules: {
            ...localRules(...some([1, 2, 3, 4, 5, 6, 7], 0.4, random)),
            ...(random() < 0.5 ? {} : { overspeedFactor: 1.05 + Math.floor(random() * 25) / 100 }),
          },
        }),
  });

const scopeOf = ({ plan }: OfficePolicy): readonly Protection[] =>
  rulebook.protections.filter(
    ({ kind, onWish }) => !plan.leaveOut.includes(kind) && (onWish !== true || plan.alsoProve.some((wished) => wished === kind)),
  );

const known = new Map<string, boolean>();

/** By the second decider: whether some combination covers what must be covered and none of its conditions rules itself out. */
const provable = (protection: Protection, { plan: { mayStayOpen } }: OfficePolicy): boolean => {
  const key = `${protection.kind} ${[...mayStayOpen].sort().join()}`;
  const found =
    known.get(key) ??
    candidatesOf(protection, mayStayOpen).some(({ conditions }) => conditions.every((condition) => maybe(condition, {}) !== "no"));
  known.set(key, found);
  return found;
};

describe("a policy leaves every protection a method", () => {
  test("the defaults are refused nothing and told nothing", () => {
    expect(checkPolicy(rulebook, policyOf({}))).toEqual({ refused: [], notes: [] });
  });

  test("policies drawn at random: what passes leaves each a way, what is refused for it has none by a second decider", () => {
    const random = newRandom(20261127);
    let [passed, refused] = [0, 0];
    for (let turn = 0; turn < 30; turn += 1) {
      const policy = drawn(random);
      const checked = checkPolicy(rulebook, policy);
      const barred = scopeOf(policy).filter((protection) => !provable(protection, policy));
      const told = checked.refused.filter(({ id }) => id.startsWith("part-"));
      expect(told.length > 0, JSON.stringify(policy.plan)).toBe(barred.length > 0);
      for (const { name } of barred) expect(told.map(({ says }) => says.toLowerCase()).join()).toContain(name.toLowerCase());
      if (told.length > 0) refused += 1;
      else passed += 1;
    }
    expect(Math.min(passed, refused)).toBeGreaterThan(3);
  });

  test("the refusal names the part and the protections, and falls where they are left out by name", () => {
    const strict = { mayStayOpen: ["sensing"] };
    expect(saysOf(strict)).toContain("air flap");
    const out = rulebook.protections.filter((protection) => !provable(protection, policyOf(strict))).map(({ kind }) => kind);
    expect(out.length).toBeGreaterThan(0);
    const checked = checkPolicy(rulebook, policyOf({ ...strict, leaveOut: out }));
    expect(checked.refused).toEqual([]);
    expect(checked.notes.join()).toContain("Not proven in any visit, by the office’s own choice");
  });

  test("local rules that bar every technique leave what an approved step or an acceptance opens, and say so", () => {
    const checked = checkPolicy(rulebook, policyOf({ localRules: localRules(1, 2, 3, 4, 5, 6, 7) }));
    expect(checked.refused).toEqual([]);
    expect(checked.notes.join()).toContain("only a step of an approved procedure");
    expect(checkPolicy(rulebook, policyOf({ localRules: localRules() })).notes).toEqual([]);
  });

  test("bars that nothing opens are refused with the protections that they leave without a method", () => {
    // A rulebook in which nobody accepts anything: no acceptance is to be had, and no method may be an approved step.
    const shut = {
      ...rulebook,
      needs: rulebook.needs.map((need) => (need.id === "written-acceptance" ? { ...need, ways: [] } : need)),
      protections: rulebook.protections.map((protection) => ({
        ...protection,
        methods: protection.methods.map(({ approvable: _, ...method }) => method),
      })),
    };
    const told = checkPolicy(shut, policyOf({ localRules: localRules(1, 2, 3, 4, 5, 6, 7) })).refused;
    expect(told.map(({ id }) => id)).toEqual(["rulesName"]);
    expect(told[0]?.says).toContain("hand stop");
  });

  test.each([["handStop"], ["shaftDisconnect"]])("the stop %s cannot be left out, since running tests lean on it", (kind) => {
    expect(refusedFor({ leaveOut: [kind] })).toEqual(["leaveOut"]);
  });

  test("everything cannot be left out", () => {
    expect(refusedFor({ leaveOut: rulebook.protections.map(({ kind }) => kind) })).toEqual(["leaveOut"]);
  });
});

describe("a policy relaxes no veto", () => {
  test.each([
    ["coldTemperature", { coldTemperature: 45 }, { coldTemperature: 45.1 }, "given 45.1 °C; wanted at most 45 °C"],
    ["boilingMargin", { boilingMargin: 3 }, { boilingMargin: 2.9 }, "given 2.9 K; wanted at least 3 K"],
    ["tachometerError", { tachometerError: 5 }, { tachometerError: 4.9 }, "given 4.9 rpm; wanted at least 5 rpm"],
    [
      "overspeedFactor",
      { localRules: { ...localRules(), overspeedFactor: 1.15 } },
      { localRules: { ...localRules(), overspeedFactor: 1.16 } },
      "given 116 % of rated speed; wanted at most 115 % of rated speed",
    ],
  ])("%s may stand at its bound and not beyond", (id, at, beyond, says) => {
    expect(refusedFor(at)).toEqual([]);
    expect(refusedFor(beyond)).toEqual([id]);
    expect(saysOf(beyond)).toContain(says);
    expect(saysOf(beyond)).toContain("never");
  });

  test("a load over the rating is refused even where the schema would let it pass", () => {
    const policy = policyOf({});
    expect(checkPolicy(rulebook, { ...policy, plan: { ...policy.plan, loadLimit: 100 } }).refused).toEqual([]);
    expect(checkPolicy(rulebook, { ...policy, plan: { ...policy.plan, loadLimit: 100.1 } }).refused.map(({ id }) => id)).toEqual([
      "loadLimit",
    ]);
  });

  test("no policy that passes makes a method fit where the default vetoes it or finds no room for the speed", () => {
    const random = newRandom(7);
    const usual = newEngine(rulebook, policyOf({}).plan.mayStayOpen);
    let looked = 0;
    for (let turn = 0; turn < 40; turn += 1) {
      const policy = drawn(random);
      const passes = { ...policy, plan: { ...policy.plan, mayStayOpen: ["sensing", "wiring", "final"], leaveOut: [] } } as OfficePolicy;
      if (checkPolicy(rulebook, passes).refused.length > 0) continue;
      const engine = newEngine(withLocalRules(rulebook, passes.plan.localRules), passes.plan.mayStayOpen);
      for (const { kind } of rulebook.protections) {
        const [own, before] = [engine.compiled(kind), usual.compiled(kind)];
        if (own === undefined || before === undefined) throw new Error(kind);
        const facts = own.frame.variables.map(({ at }) => [at, anyAnswer(specAt(at), random)] as const);
        const answers = new Map([...facts, ...(random() < 0.5 ? [[RULE_BASIS, LOCAL_RULES] as const] : [])]);
        const verdicts = (compiled: typeof own, tachometerError: number) => {
          const knowledge = nothingKnown(compiled.frame);
          for (const [at, value] of answers) learn(compiled.frame, knowledge, at, at === TACHOMETER_ERROR ? tachometerError : value);
          return verdictsOf(compiled, knowledge);
        };
        const now = verdicts(own, passes.plan.tachometerError);
        verdicts(before, 5).forEach((verdict, place) => {
          if (verdict.verdict !== "barred") return;
          const { bar, otherwise } = verdict.clause;
          if (bar !== "veto" && !/abort window is empty|tachometer error/.test(otherwise)) return;
          looked += 1;
          expect(now[place]?.verdict, `${kind} ${otherwise}: ${JSON.stringify([...answers])}`).not.toBe("fit");
        });
      }
    }
    expect(looked).toBeGreaterThan(100);
  });
});

describe("what the office should know", () => {
  test.each([
    ["logic", { mayStayOpen: PARTS }, "never seen to act"],
    ["pump", { leaveOut: ["standbyOilPump"] }, "stand-by oil pump is left out"],
    ["tachometer", { tachometerError: 21 }, "more than such instruments have"],
  ])("%s", (_, plan, says) => {
    const { refused, notes } = checkPolicy(rulebook, policyOf(plan));
    expect(refused).toEqual([]);
    expect(notes.join("\n")).toContain(says);
  });
});

test("the bounds that the form tells are those of the schema", () => {
  const set = (id: string, value: number): object => {
    const own: Readonly<Record<string, object>> = {
      leadLocal: { leadTimes: { local: value } },
      leadSent: { leadTimes: { sent: value } },
      leadSpecialist: { leadTimes: { specialist: value } },
      leadAuthority: { leadTimes: { authority: value } },
      batteryEnd: { batteryEnd: value / 100 },
      batteryCold: { batteryCold: value / 100 },
      overspeedFactor: { localRules: { ...localRules(), overspeedFactor: value / 100 } },
    };
    return { plan: own[id] ?? { [id]: value } };
  };
  for (const field of POLICY_FIELDS) {
    if (field.kind !== "amount") continue;
    for (const value of [field.from, field.to]) {
      const read = officePolicySchema.safeParse(set(field.id, value));
      expect(read.success && field.number(read.data), `${field.id} ${value}`).toBe(value);
    }
    for (const value of [field.from - 1, field.to + 1])
      expect(officePolicySchema.safeParse(set(field.id, value)).success, `${field.id} ${value}`).toBe(false);
  }
});
