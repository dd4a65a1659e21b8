import { sayProves } from "../../plan/readable.ts";
import type { FindingView } from "./findingView.ts";

/** The columns of findings as a sheet, with their widths in characters. */
export const FINDING_COLUMNS = [
  { title: "Finding", width: 18 },
  { title: "Sort", width: 24 },
  { title: "Protection", width: 30 },
  { title: "Vessel", width: 24 },
  { title: "Set", width: 18 },
  { title: "Maker", width: 20 },
  { title: "Inspector", width: 20 },
  { title: "Plan of", width: 12 },
  { title: "Rules", width: 18 },
  { title: "Rulebook", width: 12 },
  { title: "Engine’s choice", width: 40 },
  { title: "Planned", width: 40 },
  { title: "Proves", width: 40 },
  { title: "Against the engine because", width: 40 },
  { title: "Differs in", width: 40 },
  { title: "Equal facts", width: 60 },
  { title: "Settled", width: 40 },
] as const;

export const SORT_WORDS: Readonly<Record<FindingView["sort"], string>> = {
  alike: "same facts, different ways",
  twins: "near twins",
  usual: "usually done so",
};

/** Findings as rows of a sheet, one a decision. */
export const findingRows = (views: readonly FindingView[], nameOf: (id: string) => string): readonly (readonly string[])[] =>
  views.flatMap(({ id, sort, protection, engine, equal, lines, settled }) =>
    lines.map((line) => [
      id,
      SORT_WORDS[sort],
      protection,
      line.vessel,
      line.set,
      line.maker,
      nameOf(line.inspector),
      line.when.slice(0, 10),
      line.ruleBasis,
      line.rulebook.split(" ")[0] ?? "",
      engine,
      line.way,
      sayProves(line.proves),
      line.reason,
      line.differs === null ? "" : `${line.differs.name}: ${line.differs.there}, not ${line.differs.here}`,
      equal.map(({ name, value }) => `${name}: ${value}`).join("\n"),
      settled.map(({ how, words, when }) => `${how}, ${when.slice(0, 10)}: ${words}`).join("\n"),
    ]),
  );
