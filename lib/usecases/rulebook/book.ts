import { type Engine, newEngine } from "../../decide/engine.ts";
import { mentions } from "../../logic/condition.ts";
import type { FactSpec } from "../../model/fact.ts";
import { specsBy } from "../../model/places.ts";
import type { Names } from "../../plan/say.ts";
import { bookAt } from "../../rulebook/places.ts";
import { type Method, PARTS, type Protection, type Rulebook } from "../../rulebook/types.ts";
import type { Link } from "./sheet.ts";

/** A method with the protection that it proves. */
export interface Entry {
  readonly method: Method;
  readonly protection: Protection;
}

/** The rulebook with what its pages look up again and again. */
export interface Book {
  readonly rulebook: Rulebook;
  readonly engine: Engine;
  readonly names: Names;
  readonly entries: readonly Entry[];
  /** Every condition of a method as the engine reads it, the rule bases' bars and what it needs among them. */
  readonly clausesOf: (entry: Entry) => Clauses;
  /** Methods with a condition that mentions a fact. */
  readonly hangOn: (at: string) => readonly Entry[];
}

type Clauses = NonNullable<ReturnType<Engine["compiled"]>>["methods"][number]["clauses"];

const made = new WeakMap<Rulebook, Book>();

const newBook = (rulebook: Rulebook): Book => {
  // Which parts may stay open decides no verdict, only combinations.
  const engine = newEngine(rulebook, PARTS);
  const entries = rulebook.protections.flatMap((protection) => protection.methods.map((method) => ({ method, protection })));
  const clausesOf = ({ method, protection }: Entry): Clauses =>
    engine.compiled(protection.kind)?.methods.find((one) => one.method.id === method.id)?.clauses ?? [];
  const byFact = new Map<string, Entry[]>();
  for (const entry of entries) {
    for (const at of new Set(clausesOf(entry).flatMap(({ when }) => mentions(when)))) byFact.set(at, [...(byFact.get(at) ?? []), entry]);
  }
  return {
    rulebook,
    engine,
    names: { specAt: specsBy(rulebook.facts), refAt: () => undefined },
    entries,
    clausesOf,
    hangOn: (at) => byFact.get(at) ?? [],
  };
};

/** A rulebook made ready for its pages; once made it is kept. */
export const bookOf = (rulebook: Rulebook): Book => {
  const known = made.get(rulebook);
  if (known !== undefined) return known;
  const book = newBook(rulebook);
  made.set(rulebook, book);
  return book;
};

export const toProtection = ({ kind, name }: Protection): Link => ({ words: name, to: bookAt("protections", kind) });
export const toMethod = ({ id, name }: Method): Link => ({ words: name, to: bookAt("methods", id) });
export const toFact = ({ at, name }: FactSpec): Link => ({ words: name, to: bookAt("questions", at) });

/** Methods under their protections, one line each. */
export const byProtection = (entries: readonly Entry[]): readonly (readonly [Protection, readonly Method[]])[] => {
  const found = new Map<Protection, Method[]>();
  for (const { method, protection } of entries) found.set(protection, [...(found.get(protection) ?? []), method]);
  return [...found];
};
