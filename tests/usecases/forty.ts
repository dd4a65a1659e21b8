import { readFileSync } from "node:fs";
import { join } from "node:path";
import { oneDifference } from "../../lib/compare/consistency.ts";
import type { World } from "../../lib/kernel/ports.ts";
import { resolve } from "../../lib/model/fact.ts";
import { type ReadVisit, readVisit } from "../../lib/model/read.ts";
import { decisionsIn } from "../../lib/plan/decisions.ts";
import type { Planner } from "../../lib/plan/plan.ts";
import { type Signed, signaturesOf } from "../../lib/plan/signature.ts";
import type { Act, Store } from "../../lib/store/store.ts";
import { decideReview } from "../../lib/usecases/review/decide.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { newRandom } from "../bench/random.ts";

type Json = Record<string, unknown>;

export interface Office {
  readonly store: Store;
  readonly world: World;
  readonly planner: Planner;
}

/** Something that was hidden among the plans: of which kind, and in the plan of which vessel. */
export interface Hidden {
  readonly sort: "alike" | "twins";
  readonly kind: string;
  readonly vessels: readonly string[];
}

interface Draft {
  readonly vessel: string;
  readonly document: Json;
  readonly owner: string;
  readonly day: string;
}

/** Vessels that are invented, of six kinds of machinery. */
const FLEET: Readonly<Record<string, readonly string[]>> = {
  "old-mechanical": ["Aldun", "Berrow", "Corvane", "Deloran", "Estry", "Farrock", "Galdane", "Hestow"],
  "modern-electronic": ["Ilvane", "Jorrick", "Keldow", "Lunmar", "Morrane", "Nestry", "Orlock", "Pendune"],
  "passenger-ship": ["Quarrow", "Rendal", "Sorvane", "Teldow", "Urmane", "Velstry", "Wendrock", "Yarlune"],
  "offshore-vessel": ["Zandow", "Arvick", "Belmar", "Crestan", "Dunvar", "Elsow"],
  "steam-turbines": ["Fenmar", "Gorrane", "Halstry", "Irrow", "Jendune"],
  "dual-fuel": ["Karvane", "Lestow", "Mordal", "Nirrane", "Oswick"],
};

const put = (document: Json, at: string, value: unknown): void => {
  const steps = at.slice(1).split("/");
  let here = document;
  for (const step of steps.slice(0, -1)) {
    here[step] ??= {};
    here = here[step] as Json;
  }
  here[steps.at(-1) ?? ""] = value;
};

const insist = (document: Json, at: string, method: string, reason: string): void => {
  const known = (document["deviations"] ?? []) as readonly Json[];
  document["deviations"] = [...known, { protection: at, method, reason }];
};

const day = (document: Json): string => String(document["preparedOn"]);

/** What a practitioner would not call another machine: a plate that reads a little otherwise, other people, another port. */
const benign = (document: Json, vessel: string, random: () => number): void => {
  put(document, "/visit/vessel/name", vessel);
  delete ((document["visit"] as Json)["vessel"] as Json)["imo"];
  put(document, "/visit/place/name", ["Haverdyn Roads", "Port Essel", "Tarn Anchorage"][Math.floor(random() * 3)]);
  for (const set of document["sets"] as readonly Json[]) {
    const plate = set["plate"] as Json | undefined;
    if (plate === undefined || typeof plate["voltage"] !== "number") continue;
    set["maker"] = ["Brandell & Pryce", "Orrin Motoren", "Stavel Works"][Math.floor(random() * 3)];
  }
};

interface Read {
  readonly read: ReadVisit;
  readonly signed: readonly Signed[];
}

const readOf = (planner: Planner, document: Json): Read | null => {
  const read = readVisit(document, planner.rulebook.facts, planner.known);
  if (!read.ok) return null;
  const { engine, facts } = planner.core(read.value);
  return { read: read.value, signed: signaturesOf(engine, facts, read.value.visit.policy) };
};

const signedAt = ({ signed }: Read, set: number, kind: string): Signed | undefined =>
  signed.find((one) => one.set === set && one.kind === kind);

/** Changes one deciding fact of a test so that the engine chooses as before and nothing else it rests on differs; the document so changed. */
const nearTwin = (planner: Planner, document: Json, set: number, kind: string, method: string): Json => {
  const before = readOf(planner, document);
  const own = before === null ? undefined : signedAt(before, set, kind);
  if (before === null || own === undefined) throw new Error(`no ${kind}`);
  for (const { of, value } of own.facts) {
    const spec = planner.rulebook.facts.find(({ at }) => at === of);
    if (spec?.domain.kind !== "choice" || of.startsWith("/support/")) continue;
    for (const answer of spec.domain.values.filter((one) => one !== value)) {
      const tried = structuredClone(document);
      put(tried, resolve(of, set, before.read.sets[set]?.sisters ?? "A"), answer);
      insist(tried, `/sets/${set}/${kind}`, method, "as at the last survey");
      const after = readOf(planner, tried);
      const changed = after === null ? undefined : signedAt(after, set, kind);
      if (after === null || changed === undefined || changed.methods.join() !== own.methods.join()) continue;
      if (oneDifference(own.facts, changed.facts) === null) continue;
      const decision = decisionsIn(planner, after.read, planner.plan(after.read)).decisions.find(({ at }) => at === `/sets/${set}/${kind}`);
      if (decision !== undefined && decision.engine !== decision.chosen) return tried;
    }
  }
  throw new Error(`no near twin of ${kind}`);
};

const setsOf = (document: Json): readonly number[] => (document["sets"] as readonly Json[]).map((_, place) => place);

/**
 * Forty plans of three inspectors over a year and a half, of machinery that recurs, six inconsistencies among them; and things that look like one and
 * are none: a way that everybody takes, technicians that cannot be had, numbers that differ on the same side of every limit, a lone machine on which an
 * inspector insisted, a choice that the engine refused.
 */
export const fortyPlans = async (
  office: Office,
  inspectors: readonly [string, string, string],
): Promise<{ readonly hidden: readonly Hidden[]; readonly visits: ReadonlyMap<string, string> }> => {
  const { planner } = office;
  const random = newRandom(40);
  const drafts = new Map<string, Draft>();
  for (const [base, vessels] of Object.entries(FLEET)) {
    const source = JSON.parse(readFileSync(join("fixtures/visits", `${base}.json`), "utf8")) as Json;
    for (const [place, vessel] of vessels.entries()) {
      const document = structuredClone(source);
      benign(document, vessel, random);
      const owner = inspectors[(place + drafts.size) % 3] ?? "";
      drafts.set(vessel, { vessel, document, owner, day: day(source) });
    }
  }
  const of = (vessel: string): Json => drafts.get(vessel)?.document ?? {};
  const replace = (vessel: string, document: Json): void => {
    const own = drafts.get(vessel);
    if (own !== undefined) drafts.set(vessel, { ...own, document });
  };

  // Six that are real.
  insist(of("Corvane"), "/sets/0/lubeOilPressure", "lo-start-inhibit", "the test valve is stiff");
  insist(of("Farrock"), "/sets/0/overspeed", "os-lever", "quicker");
  for (const set of setsOf(of("Keldow"))) insist(of("Keldow"), `/sets/${set}/reversePower`, "rp-self-test", "no time for injection");
  for (const set of setsOf(of("Orlock"))) insist(of("Orlock"), `/sets/${set}/reversePower`, "rp-direction", "as last year");
  insist(of("Teldow"), "/sets/0/reversePower", "rp-motoring", "seen on this set before");
  replace("Crestan", nearTwin(planner, of("Crestan"), 0, "overspeed", "os-comparison"));
  replace("Velstry", nearTwin(planner, of("Velstry"), 4, "lossOfPower", "lp-board"));

  // And what is none.
  for (const vessel of FLEET["steam-turbines"] ?? [])
    for (const set of [0, 1])
      insist(of(vessel), `/sets/${set}/turbineOverspeed`, "to-hand-trip", "the maker asks that it is not run up in port");
  put(of("Mordal"), "/support/sisters/A/serviceEngineer", "not to be had");
  put(of("Nestry"), "/support/sisters/A/serviceEngineer", "not to be had");
  put(of("Dunvar"), "/support/functionGenerator", "not to be had");
  insist(of("Estry"), "/sets/0/jacketWaterTemperature", "jw-wet-drained", "refused by the engine");

  const visits = new Map<string, string>();
  for (const [place, { vessel, document, owner, day: first }] of [...drafts.values()].entries()) {
    const minute = String(place).padStart(2, "0");
    const by: Act = { who: owner, when: `${first}T09:${minute}:00.000Z` };
    const kept = await importVisit({ ...office, world: { ...office.world, now: () => by.when } }, JSON.stringify(document), owner);
    if (!kept.ok) throw new Error(`${vessel}: ${JSON.stringify(kept.faults)}`);
    visits.set(vessel, kept.value);
    const stored = await office.store.visit(kept.value);
    if (stored === null) throw new Error(vessel);
    const asked = await decideReview(
      office,
      stored,
      { act: "asked", words: "", comments: new Map(), seen: 0, version: stored.version },
      by,
    );
    if (!asked.ok) throw new Error(`${vessel}: ${JSON.stringify(asked.faults)}`);
  }
  return {
    visits,
    hidden: [
      { sort: "alike", kind: "lubeOilPressure", vessels: ["Corvane"] },
      { sort: "alike", kind: "overspeed", vessels: ["Farrock"] },
      { sort: "alike", kind: "reversePower", vessels: ["Keldow", "Orlock"] },
      { sort: "alike", kind: "reversePower", vessels: ["Teldow"] },
      { sort: "twins", kind: "overspeed", vessels: ["Crestan"] },
      { sort: "twins", kind: "lossOfPower", vessels: ["Velstry"] },
    ],
  };
};
