import type { Branch, Leans } from "../../drawing/dependsOn.ts";
import type { Condition } from "../../logic/condition.ts";
import { capital, sayCondition } from "../../plan/say.ts";
import type { Book, Entry } from "./book.ts";

/** A condition as a tree of what it leans on. */
const leansOf = (condition: Condition, book: Book): Leans => {
  const parts = condition === true ? [] : "all" in condition ? condition.all : "any" in condition ? condition.any : [];
  const [only] = parts;
  if (only === undefined) return { fact: capital(sayCondition(condition, book.names)) };
  if (parts.length === 1) return leansOf(only, book);
  const leans = parts.map((part) => leansOf(part, book));
  return condition !== true && "any" in condition ? { oneOf: leans } : { allOf: leans };
};

/** What a method hangs on, one branch a condition, in the order in which the engine asks them. */
export const branchesOf = (entry: Entry, book: Book): readonly Branch[] => [
  { bar: "applies", leans: leansOf(entry.protection.applies, book) },
  ...book.clausesOf(entry).map(({ bar, when }) => ({ bar, leans: leansOf(when, book) })),
];
