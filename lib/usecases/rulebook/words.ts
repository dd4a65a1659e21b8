import { type Condition, mentions } from "../../logic/condition.ts";
import { type FactSpec, said } from "../../model/fact.ts";
import { capital, isChoiceOf, listOr, sayCondition } from "../../plan/say.ts";
import type { Basis } from "../../rulebook/basis.ts";
import { bookAt } from "../../rulebook/places.ts";
import type { Actor, Bar, Grade, Lead, Method, NeedKind, Opener, Proves, RuleBasis, SetState, TechniqueBar } from "../../rulebook/types.ts";
import { PARTS } from "../../rulebook/types.ts";
import { formatNumber } from "../../units/units.ts";
import { type Book, byProtection, type Entry, toFact, toMethod, toProtection } from "./book.ts";
import { type Block, type Cell, cells, type Line, line, list, row } from "./sheet.ts";

/** How sure we are of a statement, in words. */
export const MARK_WORDS: Readonly<Record<Basis["mark"], string>> = {
  read: "read",
  memory: "from memory, not verified",
  practice: "common practice, no source",
  interpretation: "our reading, to be agreed with the authority",
};

const PRACTICE = "common practice of the trade";

/** Where a statement comes from, always with its mark. */
export const basisWords = ({ cite, paragraph, edition, mark }: Basis): string =>
  cite === PRACTICE && mark === "practice"
    ? `${PRACTICE}, no source`
    : `${cite}${paragraph === undefined ? "" : ` ${paragraph}`}${edition === undefined ? "" : ` (${edition})`}: ${MARK_WORDS[mark]}`;

export const basisCell = (bases: readonly Basis[]): Cell => cells(bases.map((basis) => line(basisWords(basis))));
export const basisList = (bases: readonly Basis[]): readonly Block[] =>
  bases.length === 0 ? [] : [list(bases.map((basis) => line(basisWords(basis))))];

/** The kinds of bar as they stand beside a condition. */
export const KIND_WORDS: Readonly<Record<Bar, string>> = {
  veto: "safety: never otherwise",
  rule: "the rules: not accepted otherwise",
  practical: "practice: not possible otherwise",
};

export const OPENER_WORDS: Readonly<Record<Opener, string>> = {
  danger: "danger: the real test would damage equipment or endanger people",
  "approved step": "it is the step of the procedure approved for the vessel",
  "written acceptance": "written acceptance by the authority",
};

export const GRADE_WORDS: Readonly<Record<Grade, string>> = {
  "as found": "known as found, by the element that is fitted",
  "in signal terms": "known in signal terms",
  "running value": "known at the running value only",
  "action only": "not known: only the action is seen",
};

export const STATE_OF_SET: Readonly<Record<SetState, string>> = {
  "at rest": "at rest",
  cold: "at rest and cold",
  "on the board": "running and on the board",
  "under way": "running, the ship under way",
  "without power": "as it stands when the ship has lost power",
};

export const NEED_WORDS: Readonly<Record<NeedKind, string>> = {
  technician: "a technician",
  spare: "a spare",
  equipment: "equipment",
  document: "a document",
  photograph: "a photograph",
  condition: "a state of plant or ship",
};

export const LEAD_WORDS: Readonly<Record<Lead, string>> = {
  reply: "asked for in the letter; by the day of the reply",
  local: "can be hired or bought at the place, in a few days",
  sent: "must be sent to the ship",
  specialist: "a specialist must travel",
  authority: "the authority must answer",
};

export const ACTOR_WORDS: Readonly<Record<Actor, string>> = {
  master: "the master",
  "chief engineer": "the chief engineer",
  electrician: "the electrician",
  superintendent: "the superintendent",
};

/** What a method proves of the loop, all four parts told. */
export const wholeLoop = ({ proves }: Pick<Method, "proves">): Proves => ({
  sensing: proves.sensing ?? "open",
  wiring: proves.wiring ?? "open",
  logic: proves.logic ?? "open",
  final: proves.final ?? "open",
});

/** The facts that a condition names, each once. */
export const factsIn = (condition: Condition, { names }: Book): readonly FactSpec[] =>
  [...new Set(mentions(condition))].flatMap((at) => names.specAt(at) ?? []);

const leafLine = (leaf: Condition, book: Book): Line => {
  const words = sayCondition(leaf, book.names);
  const [fact, ...others] = factsIn(leaf, book);
  if (fact === undefined) return line(words);
  if (others.length === 0) return line({ ...toFact(fact), words });
  return line(`${words} (`, ...row([fact, ...others].map(toFact)), ")");
};

const partsOf = (condition: Condition): readonly Condition[] => {
  if (condition === true) return [];
  if ("all" in condition) return condition.all;
  return "any" in condition ? condition.any : [];
};

/** A condition one part a line, each leading to its question. */
export const conditionCell = (condition: Condition, book: Book): Cell => {
  const parts = partsOf(condition);
  const [only] = parts;
  if (only === undefined) return cells([leafLine(condition, book)]);
  if (parts.length === 1) return conditionCell(only, book);
  if (isChoiceOf(condition))
    return cells(
      parts.map((part) => allLine(part, book)),
      "one of these:",
    );
  return cells(parts.flatMap((part) => (isChoiceOf(part) ? [choiceLine(part.any, book)] : conditionCell(part, book).lines)));
};

const allLine = (part: Condition, book: Book): Line =>
  part !== true && "all" in part
    ? part.all.flatMap((one, place) => [...(place === 0 ? [] : ["; and "]), ...leafLine(one, book)])
    : leafLine(part, book);

const choiceLine = (parts: readonly Condition[], book: Book): Line =>
  parts.flatMap((part, place) => [place === 0 ? "either " : ", or ", ...allLine(part, book)]);

/** An answer of a fact as a reader says it. */
export const answerWords = (spec: FactSpec | undefined, value: string | number): string => {
  if (typeof value === "string") return spec === undefined ? value : said(spec, value);
  return spec?.unit === undefined ? formatNumber(value, 3) : `${formatNumber(value, 3)} ${spec.unit}`;
};

/** What of that which a rule names really opens a technique for a method: not every method can be an approved step, nor every protection a danger. */
export const openersOf = ({ openedBy }: TechniqueBar, { method, protection }: Entry): readonly Opener[] =>
  openedBy.filter(
    (opener) =>
      (opener !== "approved step" || method.approvable === true) &&
      (opener !== "danger" || protection.danger === true || mentions(protection.danger).length > 0),
  );

/** What a rule basis says of a method's technique, in a few words. */
export const underBasis = ({ bars }: RuleBasis, entry: Entry): string => {
  const { method, protection } = entry;
  const bar = bars.find(({ technique }) => technique === method.technique);
  if (bar === undefined) return "accepted";
  const openers = openersOf(bar, entry);
  if (openers.includes("danger") && protection.danger === true) return "accepted: the real test would be a danger";
  return openers.length === 0 ? "barred; nothing opens it" : `barred; opened by ${listOr(openers)}`;
};

/** Methods under their protections, as a list of links. */
export const methodList = (entries: readonly Entry[]): readonly Block[] =>
  entries.length === 0
    ? []
    : [
        list(
          byProtection(entries).map(([protection, methods]) =>
            line({ ...toProtection(protection), words: capital(protection.name) }, ": ", ...row(methods.map(toMethod))),
          ),
        ),
      ];

export const toBasis = ({ id, name }: RuleBasis): { readonly words: string; readonly to: string } => ({
  words: name,
  to: bookAt("bases", id),
});

/** How often more a method is done, minutes, stops and starts, in a line. */
export const takesWords = ({ minutes, stops, starts }: Method): string =>
  `${minutes} minutes, ${stops} ${stops === 1 ? "stop" : "stops"}, ${starts} ${starts === 1 ? "start" : "starts"}`;

export const PART_WORDS = Object.fromEntries(PARTS.map((part) => [part, part === "final" ? "final element" : part]));
