import type { Plan, PlanProtection } from "../plan/schema.ts";
import { PARTS, type Part, type PartState, type Rulebook } from "../rulebook/types.ts";

/** Where a protection stands, in one of six words. */
export type Standing = "settled" | "proposed" | "may apply" | "nothing acceptable" | "does not apply";

/** One protection at a glance: its loop, its way, what is still asked for it. */
export interface GlanceProtection {
  readonly ref: string;
  readonly at: string;
  readonly kind: string;
  readonly name: string;
  readonly short: string;
  readonly standing: Standing;
  readonly proves: Readonly<Record<Part, PartState>>;
  readonly ways: readonly string[];
  /** How many open questions can still decide it. */
  readonly open: number;
  /** How many ways are still possible. */
  readonly options: number;
  readonly deviation: boolean;
}

/** What the vessel is to arrange, in one line. */
export interface GlanceSupport {
  readonly ref: string;
  readonly kind: string;
  readonly text: string;
  readonly confirmBy: string;
  readonly late: boolean;
}

/** Where a plan stands: beside the questions, on the board, in lists. */
export interface Glance {
  readonly sets: readonly {
    readonly at: string;
    readonly name: string;
    readonly minutes: number;
    readonly protections: readonly GlanceProtection[];
  }[];
  readonly support: readonly GlanceSupport[];
  readonly deciding: number;
  readonly details: number;
  readonly settled: number;
  readonly proposed: number;
  readonly stuck: number;
}

const standingOf = ({ applies, decision }: PlanProtection): Standing => {
  if (decision.outcome === "does not apply" && decision.state === "settled") return "does not apply";
  if (decision.outcome === "nothing acceptable") return "nothing acceptable";
  if (applies !== "yes") return "may apply";
  return decision.state;
};

const SUPPORT = ["technician", "spare", "equipment"];

/** A plan at a glance, in words. Pure. */
export const glanceOf = (plan: Plan, rulebook: Rulebook): Glance => {
  const words = new Map(rulebook.protections.map((entry) => [entry.kind, entry]));
  const methods = new Map(rulebook.protections.flatMap((entry) => entry.methods.map(({ id, name }) => [id, name] as const)));
  const open = new Map<string, number>();
  for (const { decides } of plan.questions)
    for (const ref of new Set(decides.map(({ protection }) => protection))) open.set(ref, (open.get(ref) ?? 0) + 1);
  const sets = plan.sets.map(({ name, minutes, protections }, set) => ({
    at: `/sets/${set}`,
    name,
    minutes,
    protections: protections.map((protection): GlanceProtection => {
      const { ref, at, kind, decision, options, deviation } = protection;
      return {
        ref,
        at,
        kind,
        name: words.get(kind)?.name ?? kind,
        short: words.get(kind)?.short ?? kind,
        standing: standingOf(protection),
        proves: Object.fromEntries(PARTS.map((part) => [part, decision.proves[part]])) as Record<Part, PartState>,
        ways: decision.methods.map((id) => methods.get(id) ?? id),
        open: open.get(ref) ?? 0,
        options: options.length,
        deviation: deviation !== undefined && !deviation.refused,
      };
    }),
  }));
  const all = sets.flatMap(({ protections }) => protections);
  const count = (...standings: readonly Standing[]): number => all.filter(({ standing }) => standings.includes(standing)).length;
  return {
    sets,
    support: plan.requests
      .filter(({ kind, hold }) => SUPPORT.includes(kind) && hold !== true)
      .map(({ ref, kind, text, confirmBy, late }) => ({ ref, kind, text, confirmBy, late: late === true })),
    deciding: plan.questions.filter(({ decides }) => decides.length > 0).length,
    details: plan.questions.filter(({ decides }) => decides.length === 0).length,
    settled: count("settled"),
    proposed: count("proposed", "may apply"),
    stuck: count("nothing acceptable"),
  };
};

const methodsIn = ({ sets }: Glance): ReadonlyMap<string, GlanceProtection> =>
  new Map(sets.flatMap(({ protections }) => protections.map((protection) => [protection.at, protection] as const)));

const plural = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

/** How much is settled and asked, in one sentence. */
export const sumOf = ({ settled, proposed, stuck, deciding }: Glance): string =>
  `${plural(settled, "test", "tests")} settled, ${proposed} proposed${stuck === 0 ? "" : `, ${stuck} with nothing acceptable`}; ${plural(deciding, "question decides", "questions decide")} the rest.`;

const MOST_TOLD = 3;

/** What a change of answers did to a plan, to be said once; empty where it did nothing that one would say. */
export const changeWords = (before: Glance, after: Glance): string => {
  const old = methodsIn(before);
  const changed = [...methodsIn(after).values()].filter((protection) => {
    const was = old.get(protection.at);
    return was === undefined || was.standing !== protection.standing || was.ways.join() !== protection.ways.join();
  });
  if (changed.length === 0) return before.deciding === after.deciding ? "" : `Plan: ${sumOf(after)}`;
  const told = changed
    .slice(0, MOST_TOLD)
    .map(({ ref, name, standing, ways }) => `${ref} ${name}: ${standing}${ways.length === 0 ? "" : `, ${ways.join(" and ")}`}`);
  const more = changed.length > MOST_TOLD ? [`${changed.length - MOST_TOLD} more tests changed`] : [];
  return `Plan changed. ${[...told, ...more].join(". ")}. ${sumOf(after)}`;
};
