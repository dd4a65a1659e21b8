import { provenBy, unprovenIn } from "../../decide/combine.ts";
import { compareRanks, rankOf } from "../../decide/rank.ts";
import { listAnd } from "../../plan/say.ts";
import type { Method, Part, Protection, Rulebook } from "../../rulebook/types.ts";
import type { Book, Entry } from "./book.ts";
import { type Block, cell, text } from "./sheet.ts";
import { GRADE_WORDS, PART_WORDS, takesWords } from "./words.ts";

/** The best way in which each need of a method can be met. */
const bestWays = ({ needs }: Method, rulebook: Rulebook) =>
  rulebook.needs.filter(({ id, at }) => needs.includes(id) && at !== undefined).flatMap(({ ways }) => ways?.slice(0, 1) ?? []);

/** The methods of a protection that are ever done, in the order of preference, each taken alone and with its needs aboard. */
export const ranked = ({ methods }: Protection, rulebook: Rulebook): readonly Method[] => {
  const positions = new Map(methods.map(({ id }, place) => [id, place]));
  const rank = (method: Method) => rankOf({ methods: [method], approved: null }, bestWays(method, rulebook), positions);
  return methods.filter(({ hazard }) => hazard < 3).toSorted((a, b) => compareRanks(rank(a), rank(b)));
};

const partsOpen = (method: Method, among: readonly Part[]): string => {
  const open = unprovenIn(provenBy([method])).filter((part) => among.includes(part));
  return open.length === 0 ? "leaves neither open" : `leaves open: ${listAnd(open.map((part) => PART_WORDS[part] ?? part))}`;
};

/** How a method stands to each criterion, by the criterion's id; what hangs on the visit is said to. */
const STANDS: Readonly<Record<string, (method: Method) => string>> = {
  approved: ({ approvable }) => (approvable === true ? "it may be such a step" : "it is not one of those that are approved as steps"),
  maker: ({ makers }) => (makers === true ? "it is the maker’s procedure" : "it is not the maker’s procedure"),
  dormant: (method) => partsOpen(method, ["sensing", "final"]),
  hazard2: ({ hazard }) => (hazard === 2 ? "it is of class 2" : "it is not of class 2"),
  others: (method) => partsOpen(method, ["wiring", "logic"]),
  methods: () => "one, where nothing must be added to it",
  hazard: ({ hazard }) => `class ${hazard}`,
  grade: ({ grade }) => GRADE_WORDS[grade],
  technique: ({ technique }) => `technique ${technique} of 7, of which 1 is the real thing`,
  burden: ({ needs }) => (needs.length === 0 ? "it needs nothing" : "see what it needs, above"),
  stops: takesWords,
  minutes: ({ minutes }) => `${minutes} minutes`,
  order: () => "decides only where all else is equal",
};

/** Where a method stands in the order of preference. */
export const standingBlocks = ({ method, protection }: Entry, { rulebook }: Book): readonly Block[] => {
  if (method.hazard === 3) return [text("Nowhere: it is never done.")];
  const order = ranked(protection, rulebook);
  const place = order.findIndex(({ id }) => id === method.id) + 1;
  return [
    text(
      `Taken alone, with all it needs aboard, it is number ${place} of the ${order.length} methods of this protection that are ever done. What a visit decides is the best combination that its facts leave.`,
    ),
    {
      kind: "table",
      label: "The order of preference, and how this method stands to it",
      columns: [{ name: "No.", number: true }, { name: "Preferred is what" }, { name: "This method" }],
      rows: rulebook.orderOfPreference.map(({ id, text: criterion }, number) => [
        cell(String(number + 1)),
        cell(criterion),
        cell(STANDS[id]?.(method) ?? ""),
      ]),
    },
  ];
};
