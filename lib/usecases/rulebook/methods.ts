import { barsOn } from "../../decide/compile.ts";
import { dependsDrawing } from "../../drawing/dependsOn.ts";
import { figurePages } from "../../plan/figurePages/index.ts";
import { capital, listOr } from "../../plan/say.ts";
import { bookAt } from "../../rulebook/places.ts";
import type { FigurePart, Need } from "../../rulebook/types.ts";
import { type Book, type Entry, toFact, toProtection } from "./book.ts";
import { branchesOf } from "./branches.ts";
import { exampleBlocks } from "./examples.ts";
import { type Block, type Cell, cell, cells, type Line, line, list, pairs, quiet, type Sheet, section, text } from "./sheet.ts";
import { standingBlocks } from "./standing.ts";
import {
  ACTOR_WORDS,
  basisCell,
  basisList,
  conditionCell,
  GRADE_WORDS,
  KIND_WORDS,
  LEAD_WORDS,
  NEED_WORDS,
  OPENER_WORDS,
  openersOf,
  STATE_OF_SET,
  takesWords,
  toBasis,
  wholeLoop,
} from "./words.ts";

/** Which figures a part of a method's steps is worked out with. */
const FIGURES_OF: Readonly<Record<FigurePart, readonly string[]>> = {
  heat: ["heatSource", "boiling"],
  drain: [],
  signal: ["platinum", "thermocouple", "thermistor", "currentLoop", "ratiometric"],
  "test mode": ["overspeed"],
  frequency: ["pickup"],
  raise: ["overspeed"],
  motoring: ["reversePower", "loadLeft"],
  "shaft frequency": ["shaftGenerator"],
};

/** Figures that belong to a method, as links to their pages. */
const figureLinks = ({ figures = [] }: Entry["method"]): readonly Line[] => {
  const ids = new Set(figures.flatMap((part) => FIGURES_OF[part]));
  return figurePages.filter(({ id }) => ids.has(id)).map(({ id, name }) => line({ words: capital(name), to: bookAt("figures", id) }));
};

const factsLine = (ats: readonly string[], { names }: Book): readonly Line[] =>
  ats.flatMap((at) => {
    const spec = names.specAt(at);
    return spec === undefined ? [] : [line(toFact(spec))];
  });

/** How a need can be met, best first. */
const waysCell = ({ at, ways = [] }: Need, { names }: Book): Cell => {
  const spec = at === undefined ? undefined : names.specAt(at);
  if (spec === undefined) return cell("asked for; nothing hangs on the answer");
  return cells([...ways.map(({ values }) => line(listOr(values))), line(toFact(spec))]);
};

const needRows = ({ method }: Entry, book: Book): Block[] => {
  const wanted = method.needs.flatMap((id) => book.rulebook.needs.filter((need) => need.id === id));
  if (wanted.length === 0) return [];
  return [
    {
      kind: "table",
      label: "What it needs",
      columns: [{ name: "Need" }, { name: "Kind" }, { name: "How it can be met, best first" }, { name: "Lead time" }, { name: "Asked of" }],
      rows: wanted.map((need) => [
        cell({ words: capital(need.text), to: bookAt("needs", need.id) }),
        cell(NEED_WORDS[need.kind]),
        waysCell(need, book),
        cell(LEAD_WORDS[need.lead]),
        cell(ACTOR_WORDS[need.actor]),
      ]),
    },
  ];
};

const conditionTable = (entry: Entry, book: Book): Block => ({
  kind: "table",
  label: "What must hold for this method",
  columns: [{ name: "Must hold" }, { name: "Kind of bar" }, { name: "Where it does not" }, { name: "Basis" }],
  rows: [
    [
      conditionCell(entry.protection.applies, book),
      cell("the protection does not apply"),
      cell(`${capital(entry.protection.appliesNot)}.`),
      basisCell(entry.protection.basis),
    ],
    ...book
      .clausesOf(entry)
      .map(
        ({ bar, when, otherwise, basis }) =>
          [conditionCell(when, book), cell(KIND_WORDS[bar]), cell(`${capital(otherwise)}.`), basisCell(basis)] as const,
      ),
  ],
});

const ruleLines = (entry: Entry, { rulebook }: Book): readonly Line[] =>
  barsOn(rulebook, entry.method).flatMap(({ ruleBasis, bar }) =>
    rulebook.ruleBases
      .filter(({ id }) => id === ruleBasis)
      .map((basis) =>
        line(
          toBasis(basis),
          openersOf(bar, entry).length === 0
            ? " bars this technique; nothing opens it for this method, which no approved procedure can name as its step."
            : ` bars this technique; it is opened by: ${openersOf(bar, entry)
                .map((opener) => OPENER_WORDS[opener])
                .join("; or ")}.`,
        ),
      ),
  );

const standing = ({ method }: Entry): readonly Line[] => [
  ...(method.makers === true ? [line("This is the maker’s own published procedure.")] : []),
  ...(method.approvable === true ? [line("It may be named as the step of a procedure approved for the vessel.")] : []),
  ...(method.lastResort === true ? [line("It is only taken when everything better has fallen.")] : []),
  ...(method.blinds ? [line("The channel cannot act while the engine runs: the safeguards of a blind channel go with it.")] : []),
];

const doneBlocks = ({ method }: Entry): readonly Block[] => [
  text(method.does),
  ...(method.steps === undefined ? [] : [{ kind: "list", ordered: true, lines: method.steps.map((step) => line(step)) } as const]),
  ...(method.stepsBasis ?? []).slice(0, 1).map(() => quiet("The steps are common practice; the maker’s own procedure goes before them.")),
  ...(method.inTurn === undefined ? [] : [text(`It is done at one ${method.inTurn} after the other.`)]),
  ...(method.reads === undefined
    ? []
    : [text(`Written down: ${method.reads.map(({ name, unit }) => (unit === undefined ? name : `${name} in ${unit}`)).join("; ")}.`)]),
];

const cautionBlocks = ({ method }: Entry, { rulebook }: Book): readonly Block[] =>
  rulebook.cautions
    .filter(({ id }) => method.cautions.includes(id))
    .map(({ id, text: words }) => ({
      kind: "caution",
      line: line(words, " ", { words: "When it stands, and its basis", to: bookAt("cautions", id) }),
    }));

/** The page of one method. */
export const methodSheet = (entry: Entry, book: Book): Sheet => {
  const { method, protection } = entry;
  const { rulebook, names } = book;
  const repeats = method.repeats === undefined ? undefined : names.specAt(method.repeats);
  return {
    title: capital(method.name),
    caption: `Method, ${protection.name}`,
    lead: [
      pairs(
        ["Protection", cell({ ...toProtection(protection), words: capital(protection.name) })],
        [
          "Technique",
          cell({ words: `${method.technique}: ${rulebook.techniques[method.technique]}`, to: bookAt("techniques", method.technique) }),
        ],
        ["Hazard", cell({ words: `class ${method.hazard}: ${rulebook.hazards[method.hazard]}`, to: bookAt("hazards", method.hazard) })],
        method.hazard === 3 ? null : ["Takes", cell(takesWords(method))],
        method.hazard === 3 ? null : ["The set is", cell(method.setIs === undefined ? "running at no load" : STATE_OF_SET[method.setIs])],
        method.hazard === 3 ? null : ["Set value", cell(GRADE_WORDS[method.grade])],
        repeats === undefined ? null : ["Done more than once", cell("as often as this says: ", toFact(repeats))],
      ),
      ...(standing(entry).length === 0 ? [] : [list(standing(entry))]),
    ],
    sections: [
      ...section("What is done", doneBlocks(entry)),
      ...section("Cautions", cautionBlocks(entry, book)),
      ...section(
        "What it proves",
        method.hazard === 3 ? [text("Nothing: it is never done.")] : [{ kind: "strip", proves: wholeLoop(method) }],
      ),
      ...section("What must hold", [conditionTable(entry, book)]),
      ...section("What it depends on", [
        {
          kind: "drawing",
          title: "From the facts to the method; the table above says the same in full",
          drawing: dependsDrawing(capital(method.name), branchesOf(entry, book)),
        },
      ]),
      ...section("What it needs", needRows(entry, book)),
      ...section("What is seen, and what is put back", [
        text(`To be seen: ${method.expected}.`),
        ...(method.restore === undefined ? [] : [text(`To be put back: ${method.restore}.`)]),
      ]),
      ...section("Asked with it", method.details.length === 0 ? [] : [list(factsLine(method.details, book))]),
      ...section("Worked out with it", figureLinks(method).length === 0 ? [] : [list(figureLinks(method))]),
      ...section("What the rules say of its technique", [
        ruleLines(entry, book).length === 0 ? text("No rule basis bars this technique.") : list(ruleLines(entry, book)),
      ]),
      ...section("Examples", exampleBlocks(entry, book)),
      ...section("Where it stands in the order of preference", [
        ...standingBlocks(entry, book),
        text({ words: "The whole order of preference", to: "/rulebook#preference" }),
      ]),
      ...section("Basis", basisList(method.basis)),
    ],
  };
};

/** Everything that a method says in words of its own. */
export const methodTexts = ({ method }: Entry): readonly string[] => [
  method.does,
  ...(method.steps ?? []),
  method.expected,
  ...(method.restore === undefined ? [] : [method.restore]),
  ...method.requirements.map(({ otherwise }) => otherwise),
  ...method.basis.map(({ cite, paragraph }) => `${cite} ${paragraph ?? ""}`.trim()),
];
