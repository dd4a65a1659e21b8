import { join } from "node:path";
import { digestOf } from "../../lib/kernel/digest.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { openDatabase } from "../../lib/store/database.ts";
import { storeOn } from "../../lib/store/open.ts";
import { chunked } from "../../lib/store/plans.ts";
import type { Store } from "../../lib/store/store.ts";
import { type Compare, newComparer } from "../../lib/usecases/review/comparer.ts";
import { findingsBy, findingViews, NO_FILTER } from "../../lib/usecases/review/findings.ts";
import type { KeptDecision } from "../../lib/usecases/review/keepPlan.ts";
import { scratch } from "../cli/cli.ts";
import { fortyPlans } from "../usecases/forty.ts";
import { newRandom } from "./random.ts";

const SIZES = [2_500, 5_000, 10_000] as const;
/** Decisions that bear facts of their own, and that somebody chose against the engine. */
const OWN_FACTS = 0.25;
const AGAINST = 0.02;
const A_PLAN = 20;

type Fact = readonly [of: string, value: string];

/** The decisions of the forty plans with their facts: what the generated office is drawn from. */
const patterns = async () => {
  const open = await openDatabase(join(scratch(), "forty.db"));
  if (!open.ok) throw new Error(open.faults.join());
  const store = storeOn(open.value.db);
  let made = 0;
  const newId = (): string => {
    made += 1;
    return `id${String(made).padStart(5, "0")}`;
  };
  await fortyPlans({ store, planner: newPlanner(rulebook), world: { now: () => "2026-04-01T08:00:00.000Z", newId } }, [
    "mara",
    "ilse",
    "tove",
  ]);
  const decisions = (await store.plansSince(0)).flatMap((line) => JSON.parse(line.decisions) as readonly KeptDecision[]);
  const facts = new Map([...(await store.signatures())].map(([mark, text]) => [mark, JSON.parse(text) as readonly Fact[]]));
  await store.close();
  return { decisions, facts };
};

/** An office of so many plans, written straight into its tables. */
const officeOf = async (count: number, { decisions, facts }: Awaited<ReturnType<typeof patterns>>): Promise<Store> => {
  const open = await openDatabase(join(scratch(), `office-${count}.db`));
  if (!open.ok) throw new Error(open.faults.join());
  const { db } = open.value;
  const random = newRandom(7);
  const drawn = <Item>(items: readonly Item[]): Item => items[Math.floor(random() * items.length)] as Item;
  const signatures = new Map<string, string>();
  const decided = (): KeptDecision => {
    const [at, kind, set, maker, mark, engine, , proves] = drawn(decisions);
    const own = facts.get(mark) ?? [];
    const changed =
      random() < OWN_FACTS
        ? own.map(([of, value]): Fact => (random() < 0.1 ? [of, `${value}${Math.floor(random() * 40)}`] : [of, value]))
        : own;
    const named = changed === own ? mark : digestOf([kind, changed]);
    signatures.set(named, JSON.stringify(changed));
    const against = random() < AGAINST;
    return [
      at,
      kind,
      set,
      maker,
      named,
      engine,
      against ? `other${Math.floor(random() * 3)}` : engine,
      proves,
      against ? "as last year" : "",
    ];
  };
  const when = "2026-03-02T08:00:00.000Z";
  await db.transaction().execute(async (inner) => {
    for (const some of chunked(
      Array.from({ length: count }, (_, place) => `v${place}`),
      50,
    )) {
      await inner
        .insertInto("visit")
        .values(
          some.map((id) => ({
            id,
            owner: "mara",
            vessel: `Vessel ${id}`,
            version: 1,
            frame: "{}",
            frame_version: 1,
            begins_on: null,
            ends_on: null,
            sets: "[]",
            created_at: when,
            changed_at: when,
            changed_by: "mara",
          })),
        )
        .execute();
      await inner
        .insertInto("kept_plan")
        .values(
          some.map((visit) => ({
            visit,
            seq: Number(visit.slice(1)) + 1,
            version: 1,
            why: "letter",
            owner: drawn(["mara", "ilse", "tove"]),
            who: "mara",
            kept_at: when,
            rulebook: "2.5.1 x",
            rule_basis: "SOLAS and class",
            vessel: `Vessel ${visit}`,
            file: "{}",
            sets: "[]",
            decisions: JSON.stringify(Array.from({ length: A_PLAN }, decided)),
          })),
        )
        .execute();
    }
    for (const some of chunked([...signatures].map(([mark, text]) => ({ mark, facts: text }))))
      await inner
        .insertInto("signature")
        .values([...some])
        .execute();
  });
  return storeOn(db);
};

const timed = async <Value>(act: () => Promise<Value>): Promise<readonly [ms: number, value: Value]> => {
  const start = performance.now();
  const value = await act();
  return [performance.now() - start, value];
};

const middle = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

const ROUNDS = 5;

/** What a page of findings takes of an office of many plans: from nothing read, with all read, and with one plan new. */
export const consistency = async (): Promise<void> => {
  const pattern = await patterns();
  let before: readonly [count: number, ms: number] | undefined;
  for (const count of SIZES) {
    const store = await officeOf(count, pattern);
    const page = async (compare: () => Promise<Compare>) => {
      const [now, settled] = [await compare(), await store.settledFindings()];
      const found = findingsBy(now, NO_FILTER, settled);
      findingViews(now, found.slice(0, 20), settled, { rulebook }, 60);
      return { now, found };
    };
    const cold: number[] = [];
    for (let round = 0; round < ROUNDS; round += 1) cold.push((await timed(() => page(newComparer(store))))[0]);
    const compare = newComparer(store);
    const { now, found } = await page(compare);
    const warm: number[] = [];
    for (let round = 0; round < ROUNDS; round += 1) warm.push((await timed(() => page(compare)))[0]);
    const fresh: number[] = [];
    for (let round = 0; round < ROUNDS; round += 1) {
      const [first] = await store.plansSince(0);
      if (first === undefined) throw new Error("no plan");
      await store.keepPlan({ ...first, version: first.version + 1, file: "{}", sets: [], signatures: new Map() });
      fresh.push((await timed(() => page(compare)))[0]);
    }
    const ms = middle(cold);
    const growth = before === undefined ? "" : `, grows as n^${(Math.log(ms / before[1]) / Math.log(count / before[0])).toFixed(2)}`;
    console.log(
      `consistency of ${count} plans, ${now.decisions.length} decisions, ${new Set(now.decisions.map(({ mark }) => mark)).size} signatures, ${found.length} findings: cold median ${ms.toFixed(0)} ms, worst ${Math.max(...cold).toFixed(0)} ms${count === 10_000 ? " (wanted 2000 ms)" : ""}; warm ${middle(warm).toFixed(1)} ms${count === 10_000 ? " (wanted 200 ms)" : ""}; with one plan new ${middle(fresh).toFixed(0)} ms${growth}`,
    );
    before = [count, ms];
    await store.close();
  }
};
