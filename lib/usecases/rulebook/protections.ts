import { mentions } from "../../logic/condition.ts";
import { capital } from "../../plan/say.ts";
import { bookAt } from "../../rulebook/places.ts";
import type { Bar, Protection } from "../../rulebook/types.ts";
import { type Book, type Entry, toFact, toMethod } from "./book.ts";
import { type Block, cell, type Line, line, list, quiet, type Sheet, section, text } from "./sheet.ts";
import { basisCell, basisList, conditionCell, toBasis, underBasis, wholeLoop } from "./words.ts";

const entriesOf = (protection: Protection): readonly Entry[] => protection.methods.map((method) => ({ method, protection }));

const methodTable = (protection: Protection, { rulebook }: Book): readonly Block[] => {
  const barring = rulebook.ruleBases.filter(({ bars }) => bars.length > 0);
  const others = rulebook.ruleBases.filter(({ bars }) => bars.length === 0);
  return [
    {
      kind: "table",
      label: "The methods, in the order in which the rulebook has them",
      columns: [
        { name: "No.", number: true },
        { name: "Method" },
        { name: "Technique" },
        { name: "Hazard" },
        { name: "Proves" },
        ...barring.map(({ name }) => ({ name })),
      ],
      rows: entriesOf(protection).map((entry, place) => [
        cell(String(place + 1)),
        cell({ ...toMethod(entry.method), words: capital(entry.method.name) }),
        cell({ words: String(entry.method.technique), to: bookAt("techniques", entry.method.technique) }),
        cell({ words: String(entry.method.hazard), to: bookAt("hazards", entry.method.hazard) }),
        cell(entry.method.hazard === 3 ? "never done" : { strip: wholeLoop(entry.method) }),
        ...barring.map((basis) => cell(entry.method.hazard === 3 ? "never done" : underBasis(basis, entry))),
      ]),
    },
    quiet(
      "Technique: 1 is the real thing, 7 the furthest from it. Hazard: 0 is the least, 3 is never done. Proves, from left to right: sensing, wiring, logic, final element; filled where proven at set point, hatched at running value only or seen to move, empty where open. ",
      others.length === 0 ? "" : `Every technique is accepted under: ${others.map(({ name }) => name).join("; ")}.`,
    ),
  ];
};

/** Letters by which the matrix tells the kinds of bar, strongest first. */
const LETTERS: readonly (readonly [Bar, string])[] = [
  ["veto", "S"],
  ["rule", "R"],
  ["practical", "P"],
];

/** Facts down, methods across: which kind of bar a fact decides. */
const matrix = (protection: Protection, book: Book): readonly Block[] => {
  const entries = entriesOf(protection);
  const barsOn = entries.map((entry) => {
    const found = new Map<string, Set<Bar>>();
    for (const { bar, when } of book.clausesOf(entry))
      for (const at of mentions(when)) found.set(at, (found.get(at) ?? new Set<Bar>()).add(bar));
    return found;
  });
  const facts = book.rulebook.facts.filter(({ at }) => barsOn.some((bars) => bars.has(at)));
  if (facts.length === 0) return [text("No open fact bars any of them.")];
  return [
    {
      kind: "table",
      narrow: true,
      label: "Which fact can bar which method",
      columns: [{ name: "Fact" }, ...entries.map((_, place) => ({ name: String(place + 1) }))],
      rows: facts.map((fact) => [
        cell(toFact(fact)),
        ...barsOn.map((bars) =>
          cell(LETTERS.flatMap(([bar, letter]) => (bars.get(fact.at)?.has(bar) === true ? [letter] : [])).join(" ") || "·"),
        ),
      ]),
    },
    quiet(
      "Numbers across are those of the methods above. S: safety, never otherwise. R: the rules do not accept it otherwise. P: not possible otherwise. A dot: the fact does not touch the method.",
    ),
  ];
};

const asks = (protection: Protection, { rulebook }: Book): readonly Line[] =>
  rulebook.ruleBases.flatMap((basis) =>
    basis.shows.filter((shows) => shows.protection === protection.kind).map((shows) => line(toBasis(basis), `: ${shows.text}`)),
  );

const valueLines = ({ setPoint, tolerance }: Protection, { names }: Book): readonly Line[] =>
  [setPoint, tolerance].flatMap((at) => {
    const spec = at === undefined ? undefined : names.specAt(at);
    return spec === undefined ? [] : [line(toFact(spec))];
  });

/** The page of one protection. */
export const protectionSheet = (protection: Protection, book: Book): Sheet => {
  const asking = asks(protection, book);
  const values = valueLines(protection, book);
  return {
    title: capital(protection.name),
    caption: "Protection",
    lead: [
      ...(protection.onWish === true ? [text("It is proven only where the office’s policy wants it.")] : []),
      ...(protection.besideAnother === true ? [text("It stands beside another protection’s channel; most sets do not have it.")] : []),
    ],
    sections: [
      ...section("When it applies", [list(conditionCell(protection.applies, book).lines), quiet(`Where not: ${protection.appliesNot}.`)]),
      ...section("Its methods", methodTable(protection, book)),
      ...section("What they depend on", matrix(protection, book)),
      ...section("Who asks for it", [
        asking.length === 0 ? text("No rule basis of the rulebook names it; it is proven where it is fitted.") : list(asking),
      ]),
      ...section("Set point", values.length === 0 ? [] : [list(values)]),
      ...section(
        "Where the real excursion would be a danger",
        protection.danger !== true && mentions(protection.danger).length === 0
          ? [text("The rulebook knows no state in which it would be.")]
          : [list(conditionCell(protection.danger, book).lines), text(`Because ${protection.dangerReason}.`)],
      ),
      ...section(
        "What must be known or seen besides",
        (protection.notes ?? []).length === 0
          ? []
          : [
              {
                kind: "table",
                label: "What must be known or seen besides",
                columns: [{ name: "Where" }, { name: "Then" }, { name: "Basis" }],
                rows: (protection.notes ?? []).map((note) => [conditionCell(note.when, book), cell(note.text), basisCell(note.basis)]),
              },
            ],
      ),
      ...section("Basis", basisList(protection.basis)),
    ],
  };
};

/** Everything that a protection says in words of its own. */
export const protectionTexts = (protection: Protection, { rulebook }: Book): readonly string[] => [
  protection.short,
  protection.appliesNot,
  protection.dangerReason,
  ...(protection.notes ?? []).map(({ text: words }) => words),
  ...rulebook.ruleBases.flatMap(({ shows }) => shows.filter((one) => one.protection === protection.kind).map((one) => one.text)),
  ...protection.basis.map(({ cite, paragraph }) => `${cite} ${paragraph ?? ""}`.trim()),
];
