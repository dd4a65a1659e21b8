import { knowledgeOf } from "../../decide/knowledge.ts";
import { type Verdict, verdictsOf } from "../../decide/verdict.ts";
import { resolve } from "../../model/fact.ts";
import { capital, listAnd } from "../../plan/say.ts";
import type { Examples } from "../../rulebook/types.ts";
import { type Book, type Entry, toFact } from "./book.ts";
import { type Bit, type Block, cell, cells, type Line, line, text } from "./sheet.ts";
import { answerWords } from "./words.ts";

type Facts = Readonly<Record<string, string | number>>;

/** What the engine says of a method where just these facts are known of a set. */
export const verdictOn = ({ engine }: Book, { method, protection }: Entry, given: Facts): Verdict | undefined => {
  const compiled = engine.compiled(protection.kind);
  if (compiled === undefined) return undefined;
  const answers = new Map(Object.entries(given).map(([at, value]) => [resolve(at, 0, "A"), value]));
  const facts = { sets: [{ sisters: "A" }], answers, insisted: new Map(), inTime: () => true };
  const verdicts = verdictsOf(compiled, knowledgeOf(facts, engine.leads, compiled, 0));
  return verdicts[compiled.methods.findIndex((one) => one.method.id === method.id)];
};

/** The facts of an example: nothing known, or each with its answer. */
const factLines = (given: Facts, { names }: Book): readonly Line[] =>
  Object.entries(given).flatMap(([at, value]) => {
    const spec = names.specAt(at);
    return spec === undefined ? [] : [line(toFact(spec), `: ${answerWords(spec, value)}`)];
  });

const becauseOf = (verdict: Verdict, book: Book, { protection }: Entry): string => {
  if (verdict.verdict === "fit") return "Everything that must hold, holds.";
  if (verdict.verdict === "barred") return `${capital(verdict.clause.otherwise)}.`;
  const variables = book.engine.compiled(protection.kind)?.frame.variables ?? [];
  const open = verdict.open.flatMap((index) => book.names.specAt(variables[index]?.at ?? "")?.name ?? []);
  return `It hangs on what is not known: ${listAnd(open)}.`;
};

/** The states of facts that a method's examples give, best first. */
export const casesOf = ({ fit, barred, open }: Examples): readonly (readonly [name: string, facts: Facts, note: string])[] => {
  if (fit === null) return [["Nothing known", {}, "nothing is known"]];
  return [
    ["It fits", fit, ""],
    ["Changed so that it is barred", { ...fit, ...barred }, ""],
    ["One fact left open", Object.fromEntries(Object.entries(fit).filter(([at]) => at !== open)), ""],
  ];
};

/** What an example changes stands first; the rest is as in the first example. */
const shown = (name: string, facts: Facts, { examples: { fit, barred, open } }: Entry["method"], book: Book): readonly Line[] => {
  if (fit === null || name === "It fits") return factLines(facts, book);
  if (name === "One fact left open") {
    const spec = book.names.specAt(open ?? "");
    return spec === undefined ? [] : [line("as in the first example, but "), line(toFact(spec), ": not known")];
  }
  return [line("as in the first example, but"), ...factLines(barred, book)];
};

/** The examples of a method, each with the verdict that the engine gives on it. */
export const exampleBlocks = (entry: Entry, book: Book): readonly Block[] => {
  const { method } = entry;
  return [
    text("Worked by the engine now, on these facts and no others."),
    {
      kind: "table",
      label: "Examples with the verdict of the engine",
      columns: [{ name: "Example" }, { name: "Known" }, { name: "Verdict" }, { name: "Because" }],
      rows: casesOf(method.examples).flatMap(([name, facts, note]) => {
        const verdict = verdictOn(book, entry, facts);
        if (verdict === undefined) return [];
        const lines = shown(name, facts, method, book);
        const mark: Bit = { verdict: verdict.verdict, ...(verdict.verdict === "barred" ? { bar: verdict.clause.bar } : {}) };
        return [[cell(name), lines.length === 0 ? cell(note) : cells(lines), cell(mark), cell(becauseOf(verdict, book, entry))]];
      }),
    },
  ];
};
