import { approvedStepAt } from "../../decide/compile.ts";
import { mentions } from "../../logic/condition.ts";
import { type FactSpec, type PhotographId, photographs, said } from "../../model/fact.ts";
import { capital, listOr } from "../../plan/say.ts";
import { bookAt } from "../../rulebook/places.ts";
import type { Asks, Caution, Hazard, Need, RuleBasis, Technique } from "../../rulebook/types.ts";
import { formatNumber } from "../../units/units.ts";
import { type Book, toFact, toProtection } from "./book.ts";
import { type Block, cell, type Line, line, list, pairs, row, type Sheet, section, text } from "./sheet.ts";
import { ACTOR_WORDS, basisCell, basisList, conditionCell, LEAD_WORDS, methodList, NEED_WORDS, OPENER_WORDS, toBasis } from "./words.ts";

const asksTable = (label: string, asked: readonly Asks[]): readonly Block[] =>
  asked.length === 0
    ? []
    : [
        {
          kind: "table",
          label,
          columns: [{ name: label }, { name: "Basis" }],
          rows: asked.map(({ text: words, basis }) => [cell(capital(words)), basisCell(basis)]),
        },
      ];

/** The page of one rule basis. */
export const basisSheet = (basis: RuleBasis, { rulebook }: Book): Sheet => ({
  title: capital(basis.name),
  caption: "Rule basis",
  lead: [text(basis.says)],
  sections: [
    ...section("Techniques that it bars, and what opens them", [
      basis.bars.length === 0
        ? text("It bars none.")
        : {
            kind: "table",
            label: "Techniques that it bars",
            columns: [{ name: "Technique" }, { name: "Opened by" }, { name: "Otherwise" }, { name: "Basis" }],
            rows: basis.bars.map((bar) => [
              cell({ words: `${bar.technique}: ${rulebook.techniques[bar.technique]}`, to: bookAt("techniques", bar.technique) }),
              bar.openedBy.length === 0 ? cell("nothing") : { lines: bar.openedBy.map((opener) => line(OPENER_WORDS[opener])) },
              cell(`${capital(bar.otherwise)}.`),
              basisCell(bar.basis),
            ]),
          },
    ]),
    ...section(
      "What must be shown",
      basis.shows.length === 0
        ? [text("It names no protection; what is fitted is proven.")]
        : [
            {
              kind: "table",
              label: "What must be shown",
              columns: [{ name: "Protection" }, { name: "What is asked" }, { name: "Basis" }],
              rows: basis.shows.map((shows) => {
                const protection = rulebook.protections.find(({ kind }) => kind === shows.protection);
                return [
                  protection === undefined ? cell(shows.text) : cell({ ...toProtection(protection), words: capital(protection.name) }),
                  cell(shows.text),
                  basisCell(shows.basis),
                ];
              }),
            },
          ],
    ),
    ...section("Limits", asksTable("Limit", basis.limits)),
    ...section("How often", asksTable("What is done how often", basis.intervals)),
    ...section(
      "What a written test procedure must contain",
      basis.procedure.length === 0 ? [] : [list(basis.procedure.map((one) => line(capital(one))))],
    ),
    ...section(
      "Overspeed",
      basis.overspeedFactor === null
        ? [text("It sets no limit to the trip speed.")]
        : [
            text(`Trip at most ${formatNumber(basis.overspeedFactor * 100, 1)} % of rated speed. `, {
              words: "Work it out",
              to: bookAt("figures", "overspeed"),
            }),
          ],
    ),
    ...section("Basis", basisList(basis.basis)),
  ],
});

export const basisTexts = (basis: RuleBasis): readonly string[] => [
  basis.says,
  ...basis.bars.map(({ otherwise }) => otherwise),
  ...[...basis.shows, ...basis.limits, ...basis.intervals].map(({ text: words }) => words),
  ...basis.procedure,
];

/** The page of one technique. */
export const techniqueSheet = (technique: Technique, { rulebook, entries }: Book): Sheet => ({
  title: `Technique ${technique}: ${rulebook.techniques[technique]}`,
  caption: "Technique",
  lead: [text("Rules allow or bar techniques, never methods by name. 1 is the real thing, 7 the furthest from it.")],
  sections: [
    ...section("What each rule basis says of it", [
      {
        kind: "pairs",
        pairs: rulebook.ruleBases.map((basis) => {
          const bar = basis.bars.find((one) => one.technique === technique);
          return [
            capital(basis.name),
            bar === undefined
              ? cell("accepted. ", { words: "The rule basis", to: toBasis(basis).to })
              : {
                  lines: [
                    line(`${bar.otherwise}. `, { words: "The rule basis", to: toBasis(basis).to }),
                    line(`Opened by: ${bar.openedBy.map((opener) => OPENER_WORDS[opener]).join("; or ")}`),
                  ],
                },
          ] as const;
        }),
      },
    ]),
    ...section("Methods of this technique", methodList(entries.filter(({ method }) => method.technique === technique))),
  ],
});

/** The page of one class of hazard. */
export const hazardSheet = (hazard: Hazard, { rulebook, entries }: Book): Sheet => ({
  title: `Hazard class ${hazard}: ${rulebook.hazards[hazard]}`,
  caption: "Hazard",
  lead: [
    text(
      hazard === 3
        ? "What is of this class is never planned, whatever is known."
        : "The lower class is preferred; class 2 is avoided before much else is weighed.",
    ),
  ],
  sections: section("Methods of this class", methodList(entries.filter(({ method }) => method.hazard === hazard))),
});

/** The page of one need. */
export const needSheet = (need: Need, { rulebook, entries, names }: Book): Sheet => {
  const spec = need.at === undefined ? undefined : names.specAt(need.at);
  return {
    title: capital(need.text),
    caption: "Need",
    lead: [
      pairs(
        ["Kind", cell(NEED_WORDS[need.kind])],
        ["Asked of", cell(ACTOR_WORDS[need.actor])],
        ["Lead time", cell(LEAD_WORDS[need.lead])],
        need.perSet === true ? ["How many", cell("one for each set that uses it")] : null,
        spec === undefined ? ["If it is refused", cell("nothing is decided by it")] : ["Asked as", cell(toFact(spec))],
        need.ways === undefined ? null : ["Met, best first", { lines: need.ways.map(({ values }) => line(listOr(values))) }],
        need.refusedIs === undefined ? null : ["A refusal counts as", cell(need.refusedIs)],
      ),
    ],
    sections: [
      ...section(
        "Asked for always",
        rulebook.always.includes(need.id) ? [text("It is asked for whatever the methods, wherever a protection may apply.")] : [],
      ),
      ...section("Methods that need it", methodList(entries.filter(({ method }) => method.needs.includes(need.id)))),
    ],
  };
};

/** The page of one caution. */
export const cautionSheet = (caution: Caution, book: Book): Sheet => ({
  title: titleOf(caution.text),
  caption: "Caution",
  lead: [{ kind: "caution", line: line(caution.text) }],
  sections: [
    ...section("When it stands", [
      caution.when === undefined
        ? text("With every method below, whatever is known.")
        : list([
            ...conditionCell(caution.when, book).lines,
            line(
              caution.onAnySet === true
                ? "It is enough that this may hold on any set of the vessel."
                : "It is left out where this cannot hold.",
            ),
          ]),
    ]),
    ...section("Methods that bear it", methodList(book.entries.filter(({ method }) => method.cautions.includes(caution.id)))),
    ...section("Basis", basisList(caution.basis)),
  ],
});

/** A caution is known by its first sentence, or what stands before its first colon. */
export const titleOf = (words: string): string => words.split(/[.:;](?:\s|$)/)[0] ?? words;

const domainLines = (fact: FactSpec): readonly Line[] => {
  const { domain, unit } = fact;
  const of = unit === undefined ? "" : ` ${unit}`;
  if (domain.kind === "number")
    return [
      line(
        `a number from ${formatNumber(domain.from, 4)} to ${formatNumber(domain.to, 4)}${of}, in steps of ${formatNumber(domain.step, 4)}`,
      ),
    ];
  return domain.values.map((value) => line(said(fact, value)));
};

const USE_WORDS: Readonly<Record<FactSpec["use"], string>> = {
  deciding: "it decides which methods can be taken",
  detail: "a figure or a step is worked out with it",
  record: "it is kept, and compared with what else is known",
};

/** Approved steps bar nothing: they put the way that holds them first. */
const firstWays = (at: string, { entries }: Book): readonly Block[] => {
  const steps = entries.filter(({ method, protection }) => method.approvable === true && approvedStepAt(protection.kind) === at);
  return steps.length === 0
    ? []
    : [text("Where one of these is the step of the procedure approved for the vessel, the way with it comes first:"), ...methodList(steps)];
};

/** The page of one question. */
export const factSheet = (fact: FactSpec, book: Book): Sheet => {
  const { rulebook, entries } = book;
  const { at } = fact;
  const uses = (condition: Parameters<typeof mentions>[0] | undefined): boolean =>
    condition !== undefined && mentions(condition).includes(at);
  const children = rulebook.facts.filter(({ parent }) => uses(parent));
  const needs = rulebook.needs.filter((need) => need.at === at);
  const applying = rulebook.protections.filter(({ applies }) => uses(applies));
  const noted = rulebook.protections.filter(({ danger, notes = [] }) => uses(danger) || notes.some(({ when }) => uses(when)));
  const cautions = rulebook.cautions.filter(({ when }) => uses(when));
  const valued = rulebook.protections.filter(({ setPoint, tolerance }) => setPoint === at || tolerance === at);
  return {
    title: capital(fact.name),
    caption: fact.carriedBy === "request" ? "Question, asked by a request" : "Question",
    lead: [text(fact.question)],
    sections: [
      ...section("Why it is asked", [text(fact.why)]),
      ...section("Where to look", [
        ...(fact.look === undefined ? [] : [text(`${capital(fact.look)}.`)]),
        ...(fact.photograph === undefined
          ? []
          : [
              text("A photograph may stand instead: ", { words: photographs[fact.photograph], to: bookAt("photographs", fact.photograph) }),
            ]),
      ]),
      ...section("Answers", [list([...domainLines(fact), line("not known")])]),
      ...section(
        "When it is asked",
        fact.parent === undefined ? [] : [text("Only where this holds:"), list(conditionCell(fact.parent, book).lines)],
      ),
      ...section("What it is for", [text(`${capital(USE_WORDS[fact.use])}.`)]),
      ...section(
        "Asked for as",
        needs.length === 0 ? [] : [list(needs.map(({ id, text: words }) => line({ words, to: bookAt("needs", id) })))],
      ),
      ...section(
        "Whether these apply hangs on it",
        applying.length === 0 ? [] : [list(applying.map((one) => line({ ...toProtection(one), words: capital(one.name) })))],
      ),
      ...section("Methods that it decides", methodList(book.hangOn(at))),
      ...section("Which way comes first hangs on it", firstWays(at, book)),
      ...section(
        "What must be seen or is a danger hangs on it",
        noted.length === 0 ? [] : [list(noted.map((one) => line({ ...toProtection(one), words: capital(one.name) })))],
      ),
      ...section(
        "Set point or tolerance of",
        valued.length === 0 ? [] : [list(valued.map((one) => line({ ...toProtection(one), words: capital(one.name) })))],
      ),
      ...section(
        "Methods that are worked out with it",
        methodList(entries.filter(({ method }) => method.details.includes(at) || method.repeats === at)),
      ),
      ...section(
        "Cautions that hang on it",
        cautions.length === 0
          ? []
          : [list(cautions.map(({ id, text: words }) => line({ words: titleOf(words), to: bookAt("cautions", id) })))],
      ),
      ...section("Questions that follow from it", children.length === 0 ? [] : [list([row(children.map(toFact))])]),
    ],
  };
};

export const factTexts = (fact: FactSpec): readonly string[] => [
  fact.question,
  fact.why,
  ...(fact.look === undefined ? [] : [fact.look]),
  ...(fact.domain.kind === "choice" ? fact.domain.values.map((value) => said(fact, value)) : []),
];

/** The page of a photograph that answers several questions at once. */
export const photographSheet = (id: PhotographId, { rulebook }: Book): Sheet => ({
  title: capital(photographs[id]),
  caption: "Photograph",
  lead: [text("One photograph may answer all of these questions.")],
  sections: section("Questions that it answers", [
    list(rulebook.facts.filter((fact) => fact.photograph === id).map((fact) => line(toFact(fact)))),
  ]),
});

export const photographIds = Object.keys(photographs) as readonly PhotographId[];
