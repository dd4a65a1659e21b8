import { loadLeftDrawing } from "../drawing/loadLeft.ts";
import type { Drawing } from "../drawing/shapes.ts";
import { loadLeft } from "../figures/loadLeft.ts";
import { loadBeside, motoringPower } from "../model/carrying.ts";
import type { ReadVisit } from "../model/read.ts";
import { namesIn, sayValue } from "../plan/readable.ts";
import { listAnd, type Names } from "../plan/say.ts";
import type { Plan, PlanFigure, PlanProtection } from "../plan/schema.ts";
import { basis } from "../rulebook/basis.ts";
import { MOTORED } from "../rulebook/protections/reversePower.ts";
import { PARTS, type PartState, type Rulebook } from "../rulebook/types.ts";
import { formatNumber, type UnitSystem } from "../units/units.ts";
import type { Block, Labelled, Strip } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { conditionWords, provisos } from "./conditions.ts";
import { markWords } from "./marks.ts";
import { capital, methodsOf, methodWords, openWords, protectionOf, refRange, setsInWords, unbroken, windowWords } from "./words.ts";

export interface PlanInput {
  readonly plan: Plan;
  readonly read: ReadVisit;
  readonly rulebook: Rulebook;
  readonly units: UnitSystem;
}

const PART_NAMES = { sensing: "sensing", wiring: "wiring", logic: "logic", final: "final element" } as const;
const STATE_WORDS = {
  "set point": "proven",
  "running value": "at running value only",
  movement: "only seen to move",
  open: "not proven",
} as const;

export const stripOf = ({ decision }: PlanProtection): readonly Strip[] =>
  PARTS.map((part) => ({ part: PART_NAMES[part], state: decision.proves[part] }));

/** Under the strip in words: the whole loop, or its parts by what is shown of them, the unproven first. */
export const provesWords = ({ decision }: PlanProtection): string => {
  const partsAt = (state: PartState): readonly string[] =>
    PARTS.filter((part) => decision.proves[part] === state).map((part) => PART_NAMES[part]);
  const states = (["open", "movement", "running value", "set point"] as const).filter((state) => partsAt(state).length > 0);
  if (states.length === 1 && states[0] === "set point") return SAY.notes.wholeLoop;
  return `${capital(states.map((state) => `${listAnd(partsAt(state))} ${STATE_WORDS[state]}`).join("; "))}.`;
};

const NOTHING_LEFT = "nothing acceptable is left";

export const optionWords = (kind: string, option: PlanProtection["options"][number], rulebook: Rulebook): string =>
  option.methods.length === 0
    ? option.unproven.length === 0
      ? "the protection does not apply"
      : NOTHING_LEFT
    : `${methodWords(rulebook, kind, option.methods)}${openWords(option.unproven)}`;

/** The next ways by the words they stand behind. */
export const OTHER_WAYS = [SAY.labels.ifNot, SAY.labels.failingThat] as const;

const appliesNot = ({ methods, unproven }: PlanProtection["options"][number]): boolean => methods.length === 0 && unproven.length === 0;

/** The next ways in words. The same way under other conditions reads alike and is told once; that it may not apply is plain. */
export const otherWays = ({ kind, options }: PlanProtection, rulebook: Rulebook): readonly string[] => {
  const [first, ...others] = [
    ...new Set(options.filter((option, place) => place === 0 || !appliesNot(option)).map((option) => optionWords(kind, option, rulebook))),
  ];
  // That nothing is left behind the last way goes without saying; that nothing is left behind the first is told.
  return first === undefined ? [] : others.slice(0, OTHER_WAYS.length).filter((words, place) => place === 0 || words !== NOTHING_LEFT);
};

/** The value of a figure with its note and mark. A set point is the vessel's own and a note may have said the mark already. */
export const valueWords = (figure: PlanFigure, units: UnitSystem): string => {
  const { note, ...bare } = figure;
  const said = sayValue(figure.noteForOffice === true ? bare : figure, units).replace(/\bR25\b/, "resistance at 25 °C");
  // What the vessel itself gave is no statement of ours.
  const ours = figure.basis.filter(({ cite }) => cite !== basis.own.cite);
  return said.includes("practice") ? said : `${said}${markWords(ours)}`;
};

const CHOICES_LABEL = SAY.labels.choices;
/** The set point in the ship's own units, where it was given in such; else nothing. */
export const givenWords = (
  figure: PlanFigure,
  { kind, at }: PlanProtection,
  { read, rulebook }: Pick<PlanInput, "read" | "rulebook">,
): string => {
  const set = at.split("/")[2] ?? "";
  const given = (template: string | undefined): string | undefined =>
    template === undefined ? undefined : read.own.get(template.replace("*", set));
  const entry = protectionOf(rulebook, kind);
  const [setPoint, tolerance] = [given(entry?.setPoint), given(entry?.tolerance)];
  if (!figure.name.startsWith("set point") || setPoint === undefined) return "";
  return `${setPoint}${tolerance === undefined ? "" : ` ± ${tolerance}`}`;
};

const ownWords = (figure: PlanFigure, protection: PlanProtection, input: PlanInput): string => {
  const given = givenWords(figure, protection, input);
  return given === "" || input.units === "us" ? "" : ` (as given: ${given})`;
};

/** What a person can do where no way is left. */
const CHOICES =
  "arrange one of the facts that would open a way; ask the authority for written acceptance of a technique; test on another occasion and record it as not proven; agree on another way with maker and class";

/** The figures that the planned methods are worked out with. Those of later ways stand in the inspector's plan. */
export const plannedFigures = ({ figures }: PlanProtection): readonly PlanFigure[] =>
  figures.filter(({ officeOnly, later }) => officeOnly !== true && later !== true);

/** The same in one line. */
export const figuresNow = (protection: PlanProtection, input: PlanInput): string =>
  plannedFigures(protection)
    .map((figure) => `${figure.name}: ${valueWords(figure, input.units)}${ownWords(figure, protection, input)}`)
    .join("; ");

const setOf = (at: string): number => Number(at.split("/")[2] ?? 0);

/** What would open a way; where it was worked out that the others cannot carry the ship, up to which load they could. */
const openerWords = (
  opener: { readonly at: string; readonly is: readonly string[] },
  { at }: PlanProtection,
  names: Names,
  { read }: PlanInput,
): string => {
  const set = setOf(at);
  const motoringKw = motoringPower(read.answers, set);
  const beside =
    motoringKw === undefined || !opener.at.endsWith("/othersCarry")
      ? undefined
      : loadBeside(read.answers, read.visit.sets.length, set, { motoringKw, limitPercent: read.visit.policy.loadLimit });
  if (beside === undefined) return conditionWords(opener, names);
  const most =
    (beside.remainingRatedKw.reduce((sum, kw) => sum + kw, 0) * beside.limitPercent) / 100 - beside.motoringKw - beside.largestStarterKw;
  return most > 0
    ? SAY.with.loadAtMost(formatNumber(Math.floor(most), 0), formatNumber(beside.shipLoadKw, 0))
    : conditionWords(opener, names);
};

const linesOf = (protection: PlanProtection, names: Names, input: PlanInput): readonly Labelled[] => {
  const { rulebook } = input;
  const { decision, options, kind } = protection;
  const figuresLine = (label: string, text: string): readonly Labelled[] => (text === "" ? [] : [{ label, text }]);
  const provided = decision.state === "proposed" ? provisos(options[0]?.when ?? true, names) : null;
  const openers = (decision.wouldOpen ?? []).map(
    ({ at, is, methods }) => `${openerWords({ at, is }, protection, names, input)} (then ${methodWords(rulebook, kind, methods)})`,
  );
  return [
    ...(provided === null ? [] : [{ label: SAY.labels.providedThat, text: provided }]),
    ...otherWays(protection, rulebook).map((text, place) => ({ label: OTHER_WAYS[place] ?? "", text })),
    ...(openers.length === 0 ? [] : [{ label: SAY.labels.wouldOpen, text: openers.join("; or ") }]),
    ...(decision.outcome === "nothing acceptable" ? [{ label: CHOICES_LABEL, text: CHOICES }] : []),
    ...(protection.notes.length === 0
      ? []
      : [
          {
            label: "Note",
            text: protection.notes.map(({ text, basis }) => `${text}${markWords(basis.filter(({ mark }) => mark === "memory"))}`).join(" "),
          },
        ]),
    ...figuresLine(SAY.labels.figures, figuresNow(protection, input)),
  ];
};

export const howWords = ({ decision, kind }: PlanProtection, rulebook: Rulebook): string => {
  if (decision.outcome === "does not apply")
    return `${decision.state === "settled" ? "does not apply" : "not known whether it applies; it does not where"} ${protectionOf(rulebook, kind)?.appliesNot ?? ""}`;
  if (decision.outcome === "nothing acceptable") return "no acceptable way to prove this protection is left";
  return methodWords(rulebook, kind, decision.methods);
};

/** One protection of one or more sets that is planned alike on all of them. */
export interface Entry {
  readonly sets: number[];
  readonly refs: string[];
  readonly protection: PlanProtection;
}

/** Alike are protections that read the same once each question is named by what it asks, not by its number. */
const keyOf = (protection: PlanProtection, input: PlanInput): string => {
  const names = namesIn(input.plan, input.rulebook);
  const plain: Names = {
    specAt: names.specAt,
    refAt: (at) => (names.refAt(at) === undefined ? undefined : `[${names.specAt(at)?.at ?? at}]`),
  };
  const { kind, decision, options } = protection;
  return JSON.stringify([
    kind,
    decision.state,
    decision.outcome,
    decision.methods,
    decision.proves,
    options.map(({ methods, unproven }) => [methods, unproven]),
    linesOf(protection, plain, input),
  ]);
};

/** Every protection that applies or may apply, those of several sets that are planned alike together. */
export const entriesOf = (input: PlanInput): readonly Entry[] => {
  const told = new Map<string, Entry>();
  input.plan.sets.forEach((set, place) => {
    for (const protection of set.protections) {
      if (protection.applies === "no") continue;
      const key = keyOf(protection, input);
      const entry = told.get(key) ?? { sets: [], refs: [], protection };
      entry.sets.push(place);
      entry.refs.push(protection.ref);
      told.set(key, entry);
    }
  });
  return [...told.values()];
};

/** A pointer of one set as the same pointer of another. */
const moved = (at: string, from: number, to: number, { read }: PlanInput): string =>
  at
    .replace(`/sets/${from}/`, `/sets/${to}/`)
    .replace(`/sisters/${read.sets[from]?.sisters ?? ""}/`, `/sisters/${read.sets[to]?.sisters ?? ""}/`);

/** So many sets are named one by one; of more, the first stands for the others. */
const MOST_NAMES = 6;

/** Names for several sets at once: each question by its references on all of them. */
export const namesFor = (sets: readonly number[], input: PlanInput): Names => {
  const names = namesIn(input.plan, input.rulebook);
  if (sets.length > MOST_NAMES) return names;
  const first = sets[0] ?? 0;
  const refAt = (at: string): string | undefined => {
    const refs = sets.flatMap((set) => names.refAt(moved(at, first, set, input)) ?? []);
    return refs.length === 0 ? undefined : refRange(refs);
  };
  return { specAt: names.specAt, refAt };
};

/** The sets in the order of their references; where they are very many, not each by name. */
export const namesOf = (sets: readonly number[], plan: Plan): string =>
  sets.length > MOST_NAMES ? setsInWords(sets, plan) : sets.map((place) => plan.sets[place]?.name ?? "").join(", ");

/** What was said under a test before, so that it is not said twice. */
type Told = Map<string, string>;

/** The reference under which a text was told before; notes it where it was not. */
const before = (told: Told, text: string, ref: string): string | undefined => {
  const known = told.get(text);
  if (known === undefined) told.set(text, ref);
  return known;
};

const blockOf = ({ sets, refs, protection }: Entry, told: Told, input: PlanInput): Block => {
  const { plan, rulebook } = input;
  const { decision, kind } = protection;
  const own = refs[0] ?? "";
  const methods = methodsOf(rulebook, kind, decision.methods);
  const does = methods.map((method) => {
    const known = before(told, method.does, own);
    if (known === undefined) return method.does;
    return methods.length === 1 ? SAY.with.doneAs(known) : SAY.with.methodDoneAs(capital(method.name), known);
  });
  const lines = linesOf(protection, namesFor(sets, input), input).flatMap(({ label, text }): readonly Labelled[] => {
    // Figures stand with each test: nobody looks up a trip speed on another page.
    const long = label === CHOICES_LABEL || label === "Note";
    const known = long ? before(told, label === CHOICES_LABEL ? text : `${kind}|${text}`, own) : undefined;
    const others =
      label === SAY.labels.providedThat && sets.length > MOST_NAMES
        ? ` (${plan.sets[sets[0] ?? 0]?.name ?? ""}; the like for the others)`
        : "";
    if (known === undefined) return [{ label, text: `${capital(text)}${others}` }];
    // Where the test itself is done as another, so much is said already.
    return does.some((line) => line.toLowerCase().endsWith(SAY.with.doneAs(known).toLowerCase()))
      ? []
      : [{ label, text: SAY.with.as(known) }];
  });
  return {
    kind: "protection",
    refs: refs.join(", "),
    name: capital(protectionOf(rulebook, kind)?.name ?? kind),
    where: plan.sets.length > 1 ? namesOf(sets, plan) : "",
    state: decision.state === "settled" && decision.outcome === "nothing acceptable" ? "no way left" : decision.state,
    how: capital(howWords(protection, rulebook)),
    does,
    strip: decision.outcome === "combination" ? stripOf(protection) : [],
    proves: decision.outcome === "combination" ? provesWords(protection) : "",
    lines,
    drawings: loadDrawings({ sets, protection }, input),
  };
};

/** What the others carry while a set is motored, drawn, where the first way does that and every power is known. */
export const loadDrawings = ({ sets, protection }: Pick<Entry, "sets" | "protection">, { read }: PlanInput): readonly Drawing[] => {
  const [set = 0] = sets;
  const motoringKw = motoringPower(read.answers, set);
  if (motoringKw === undefined || !protection.decision.methods.includes(MOTORED)) return [];
  const beside = loadBeside(read.answers, read.visit.sets.length, set, { motoringKw, limitPercent: read.visit.policy.loadLimit });
  const left = beside === undefined ? null : loadLeft(beside);
  return beside === undefined || left?.ok !== true ? [] : [loadLeftDrawing(beside, left.value)];
};

const HALF_HOUR = 30;

/** When each set is out of use, and for how long: the minutes of its planned methods, in half hours. */
export const outOfUse = ({ plan }: PlanInput): string => {
  const spans = plan.sets.map(({ minutes }) => unbroken(SAY.with.hours(Math.ceil(minutes / HALF_HOUR))));
  const [span] = spans;
  const alike = spans.length > MOST_NAMES && span !== undefined && spans.every((other) => other === span);
  const hours = alike ? [`each set ${span}`] : plan.sets.map(({ name }, place) => `${name} ${spans[place] ?? ""}`);
  const { window } = plan.visit;
  return SAY.with.outOfUse(windowWords(window), window.from === window.to, plan.sets.length, hours.join(", "));
};

/** What is not proven, and on which sets: protections that do not apply, and what the visit leaves out. */
const notProven = ({ plan, rulebook }: PlanInput): readonly Block[] => {
  const sets = new Map<string, number[]>();
  plan.sets.forEach(({ protections }, place) => {
    for (const { kind, applies, decision } of protections) {
      // That a second channel is not fitted is among the answers; what belongs to another kind of machinery nobody misses.
      const other = decision.because.every((at) => at.endsWith("/primeMover") || at.endsWith("/role"));
      if (applies === "no" && !other && protectionOf(rulebook, kind)?.besideAnother !== true)
        sets.set(kind, [...(sets.get(kind) ?? []), place]);
    }
  });
  const places = new Map<string, string[]>();
  for (const [kind, own] of sets) {
    const where = setsInWords(own, plan);
    places.set(where, [...(places.get(where) ?? []), protectionOf(rulebook, kind)?.name ?? kind]);
  }
  const items = [...places].map(([where, names]) => ({ label: capital(where), text: `${capital(names.join("; "))}.` }));
  const leftOut = plan.leftOut.map(({ kind }) => protectionOf(rulebook, kind)?.name ?? kind);
  const all = [...items, ...(leftOut.length === 0 ? [] : [{ label: SAY.labels.leftOut, text: `${capital(leftOut.join("; "))}.` }])];
  if (all.length === 0) return [];
  return [
    { kind: "subheading", text: SAY.headings.notProven, note: SAY.notes.saySoIfOne },
    { kind: "labelled", items: all },
  ];
};

/** The plan set by set. Sister sets whose protection is planned alike are told once, with all their references. */
export const protectionBlocks = (input: PlanInput): readonly Block[] => {
  const told: Told = new Map();
  return [
    { kind: "paragraph", text: outOfUse(input) },
    ...entriesOf(input).map((entry) => blockOf(entry, told, input)),
    ...notProven(input),
  ];
};
