import { photographs } from "../../model/fact.ts";
import { figurePages } from "../../plan/figurePages/index.ts";
import { capital } from "../../plan/say.ts";
import { type BookKind, bookAt, slugOf } from "../../rulebook/places.ts";
import type { Hazard, Technique } from "../../rulebook/types.ts";
import type { Book } from "./book.ts";
import { figureTexts } from "./figures.ts";
import { methodSheet, methodTexts } from "./methods.ts";
import {
  basisSheet,
  basisTexts,
  cautionSheet,
  factSheet,
  factTexts,
  hazardSheet,
  needSheet,
  photographIds,
  photographSheet,
  techniqueSheet,
  titleOf,
} from "./others.ts";
import { protectionSheet, protectionTexts } from "./protections.ts";
import type { Sheet } from "./sheet.ts";

/** One thing of the rulebook: what it is called, where it is read up, and what it says. */
export interface Thing {
  readonly kind: BookKind;
  readonly slug: string;
  readonly to: string;
  readonly name: string;
  /** What tells it from others of its name. */
  readonly of?: string;
  readonly texts: readonly string[];
  /** Its page; null for figures, whose pages calculate. */
  readonly sheet: (() => Sheet) | null;
}

const thing = (kind: BookKind, id: string | number, name: string, texts: readonly string[], sheet: Thing["sheet"], of?: string): Thing => ({
  kind,
  slug: slugOf(String(id)),
  to: bookAt(kind, id),
  name: capital(name),
  texts,
  sheet,
  ...(of === undefined ? {} : { of }),
});

const TECHNIQUES: readonly Technique[] = [1, 2, 3, 4, 5, 6, 7];
const HAZARDS: readonly Hazard[] = [0, 1, 2, 3];

const thingsOf = (book: Book): readonly Thing[] => {
  const { rulebook } = book;
  return [
    ...rulebook.protections.map((one) =>
      thing("protections", one.kind, one.name, protectionTexts(one, book), () => protectionSheet(one, book)),
    ),
    ...book.entries.map((one) =>
      thing("methods", one.method.id, one.method.name, methodTexts(one), () => methodSheet(one, book), one.protection.name),
    ),
    ...rulebook.ruleBases.map((one) => thing("bases", one.id, one.name, basisTexts(one), () => basisSheet(one, book))),
    ...TECHNIQUES.map((one) => thing("techniques", one, `${one}: ${rulebook.techniques[one]}`, [], () => techniqueSheet(one, book))),
    ...HAZARDS.map((one) => thing("hazards", one, `${one}: ${rulebook.hazards[one]}`, [], () => hazardSheet(one, book))),
    ...rulebook.needs.map((one) => thing("needs", one.id, one.text, [], () => needSheet(one, book))),
    ...rulebook.cautions.map((one) => thing("cautions", one.id, titleOf(one.text), [one.text], () => cautionSheet(one, book))),
    ...rulebook.facts.map((one) => thing("questions", one.at, one.name, factTexts(one), () => factSheet(one, book))),
    ...photographIds.map((one) => thing("photographs", one, photographs[one], [], () => photographSheet(one, book))),
    ...figurePages.map((one) => thing("figures", one.id, one.name, figureTexts(one), null)),
  ];
};

const kept = new WeakMap<Book, readonly Thing[]>();

/** Everything in the rulebook that has a page, in the order of its kinds. */
export const things = (book: Book): readonly Thing[] => {
  const known = kept.get(book) ?? thingsOf(book);
  kept.set(book, known);
  return known;
};

/** The thing at an address; undefined where there is none. */
export const thingAt = (book: Book, kind: string, slug: string): Thing | undefined =>
  things(book).find((one) => one.kind === kind && one.slug === slug);

/** How each kind is headed in a list, and what it is in a word or two. */
export const KIND_TITLES: Readonly<Record<BookKind, { readonly title: string; readonly says: string }>> = {
  protections: { title: "Protections", says: "Safety functions of a set that must be proven, in the order in which they are." },
  methods: { title: "Methods", says: "Ways to prove parts of a loop, each with one technique, under their protections." },
  bases: { title: "Rule bases", says: "What each set of rules bars, opens, asks to be shown and limits." },
  techniques: { title: "Techniques", says: "From the real thing to what stimulates nothing. Rules allow or bar techniques." },
  hazards: { title: "Hazards", says: "How dangerous a method is by itself." },
  needs: { title: "Needs", says: "People, spares, equipment, documents and states of the plant that methods need." },
  cautions: { title: "Cautions", says: "What is said where an act is dangerous." },
  questions: { title: "Questions", says: "Every fact that can be asked, with what it decides." },
  photographs: { title: "Photographs", says: "Each answers several questions at once." },
  figures: { title: "Figures", says: "The arithmetic of the trade, with formula, source, a worked example and a calculator." },
};
