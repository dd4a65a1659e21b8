import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, test } from "vitest";
import { KindList, Results } from "../../components/rulebook/Contents.tsx";
import { FigureView } from "../../components/rulebook/FigureView.tsx";
import { SheetView } from "../../components/rulebook/SheetView.tsx";
import { dependsDrawing } from "../../lib/drawing/dependsOn.ts";
import { plainIn } from "../../lib/drawing/shapes.ts";
import { mentions } from "../../lib/logic/condition.ts";
import { photographs, said } from "../../lib/model/fact.ts";
import { figurePages } from "../../lib/plan/figurePages/index.ts";
import { readSum } from "../../lib/plan/figurePages/read.ts";
import type { Sum } from "../../lib/plan/figurePages/types.ts";
import { sayCondition } from "../../lib/plan/say.ts";
import type { Basis } from "../../lib/rulebook/basis.ts";
import { BOOK_KINDS, bookAt, slugOf } from "../../lib/rulebook/places.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { bookOf } from "../../lib/usecases/rulebook/book.ts";
import { branchesOf } from "../../lib/usecases/rulebook/branches.ts";
import { KIND_TITLES, type Thing, thingAt, things } from "../../lib/usecases/rulebook/entries.ts";
import { casesOf, verdictOn } from "../../lib/usecases/rulebook/examples.ts";
import { exampleOf, fieldOf, tried } from "../../lib/usecases/rulebook/figures.ts";
import { PROTECTION_GROUPS } from "../../lib/usecases/rulebook/groups.ts";
import { search, wordsIn } from "../../lib/usecases/rulebook/search.ts";
import { linksOf } from "../../lib/usecases/rulebook/sheet.ts";
import { ranked } from "../../lib/usecases/rulebook/standing.ts";
import { basisWords } from "../../lib/usecases/rulebook/words.ts";
import { ROOT } from "../cli/cli.ts";

/** The outcomes of a sum's example, not yet put into words. */
const exampleOutcomes = (sum: Sum) => {
  const { given } = readSum(sum, (id) => sum.example.given[id] ?? "");
  const worked = sum.work(given);
  if (!worked.ok) throw new Error(worked.faults.join("; "));
  return worked.value;
};

const book = bookOf(rulebook);
const all = things(book);

const ENTITIES: readonly (readonly [RegExp, string])[] = [
  [/&#x27;/g, "'"],
  [/&quot;/g, '"'],
  [/&lt;/g, "<"],
  [/&gt;/g, ">"],
  [/&amp;/g, "&"],
];
const plain = (html: string): string => ENTITIES.reduce((text, [from, to]) => text.replace(from, to), html.replace(/<[^>]*>/g, "\u0001"));
/** What a reader sees of markup, every piece apart, what only a reader for the ear is told among it. */
const shownIn = (html: string): readonly string[] => [
  ...plain(html).split("\u0001"),
  ...[...html.matchAll(/(?:aria-label|title|data-label)="([^"]*)"/g)].map(([, one = ""]) => plain(one)),
];

const pages = new Map<Thing, string>(
  all.map((one) => {
    const sheet = one.sheet?.();
    const figure = figurePages.find(({ id }) => id === one.slug);
    if (sheet !== undefined)
      return [one, `${renderToStaticMarkup(<SheetView sheet={sheet} />)}<h1>${sheet.title}</h1><p>${sheet.caption}</p>`];
    if (figure === undefined) throw new Error(`${one.to} has no page`);
    return [one, renderToStaticMarkup(<FigureView page={figure} sum="" now={null} />)];
  }),
);
const pageOf = (to: string): string => {
  const found = [...pages].find(([one]) => one.to === to);
  if (found === undefined) throw new Error(`there is no ${to}`);
  return plain(found[1]).replaceAll("\u0001", "");
};

describe("addresses", () => {
  test("everything in the rulebook has exactly one, and no two share one", () => {
    const ids = [
      ...rulebook.protections.map(({ kind }) => bookAt("protections", kind)),
      ...rulebook.protections.flatMap(({ methods }) => methods.map(({ id }) => bookAt("methods", id))),
      ...rulebook.ruleBases.map(({ id }) => bookAt("bases", id)),
      ...Object.keys(rulebook.techniques).map((id) => bookAt("techniques", id)),
      ...Object.keys(rulebook.hazards).map((id) => bookAt("hazards", id)),
      ...rulebook.needs.map(({ id }) => bookAt("needs", id)),
      ...rulebook.cautions.map(({ id }) => bookAt("cautions", id)),
      ...rulebook.facts.map(({ at }) => bookAt("questions", at)),
      ...Object.keys(photographs).map((id) => bookAt("photographs", id)),
      ...figurePages.map(({ id }) => bookAt("figures", id)),
    ];
    expect(new Set(ids).size).toBe(ids.length);
    expect(all.map(({ to }) => to).sort()).toEqual([...ids].sort());
    for (const id of ids) expect(id).toMatch(/^\/rulebook\/[a-z]+\/[A-Za-z0-9-]+$/);
  });

  test("are read as written, and lead to their own thing", () => {
    expect(slugOf("/sets/*/lubeOilPressure/setPoint")).toBe("sets-lubeOilPressure-setPoint");
    expect(slugOf("46 CFR 61.40")).toBe("46-CFR-61-40");
    for (const one of all) expect(thingAt(book, one.kind, one.slug)).toBe(one);
    for (const [kind, slug] of [
      ["protections", "none"],
      ["nothing", "overspeed"],
      ["methods", "__proto__"],
      ["methods", ""],
    ] as const)
      expect(thingAt(book, kind, slug)).toBeUndefined();
  });

  test("every link inside leads to one that there is", () => {
    const known = new Set([
      ...all.map(({ to }) => to),
      ...BOOK_KINDS.map((kind) => `/rulebook/${kind}`),
      "/rulebook",
      "/rulebook#preference",
    ]);
    const led = [...pages.values()].flatMap((html) => [...html.matchAll(/ href="([^"#][^"]*)"/g)].map(([, to = ""]) => to));
    expect(led.length).toBeGreaterThan(3000);
    expect(led.filter((to) => !known.has(to))).toEqual([]);
    for (const one of all) for (const { to } of one.sheet === null ? [] : linksOf(one.sheet())) expect(known.has(to), to).toBe(true);
  });

  test("whatever can be reached is listed once under its kind", () => {
    for (const kind of BOOK_KINDS) {
      const html = renderToStaticMarkup(<KindList kind={kind} things={all} />);
      const listed = [...html.matchAll(/ href="([^"]*)"/g)].map(([, to]) => to);
      expect(listed.toSorted()).toEqual(
        all
          .filter((one) => one.kind === kind)
          .map(({ to }) => to)
          .toSorted(),
      );
      expect(KIND_TITLES[kind].says.endsWith(".")).toBe(true);
    }
    expect(PROTECTION_GROUPS.flatMap(({ kinds }) => kinds).toSorted()).toEqual(rulebook.protections.map(({ kind }) => kind).toSorted());
  });
});

describe("what is shown", () => {
  test("is never a pointer, an id or the end of an address", () => {
    // An id that is a word of the trade too ("coolant") is no slip where it stands as that word.
    const ids = [
      ...rulebook.protections.flatMap(({ kind, methods }) => [kind, ...methods.map(({ id }) => id)]),
      ...rulebook.needs.map(({ id }) => id),
      ...rulebook.cautions.map(({ id }) => id),
      ...Object.keys(photographs),
      ...figurePages.map(({ id }) => id),
    ].filter((id) => /^[a-z0-9]+-[a-z0-9-]+$/.test(id) || /[a-z][A-Z]/.test(id));
    const slips = (text: string): readonly string[] =>
      [...text.matchAll(/\/(?:sets|support|plant|policy)\/[\w*/]+|[A-Za-z][A-Za-z0-9]*(?:-[a-z0-9]+)+|\b[a-z]+[A-Z]\w*/g)]
        .map(([found]) => found)
        .filter((found) => found.startsWith("/") || /[a-z][A-Z]/.test(found) || ids.includes(found));
    const known = new Set(["kPa", "hPa", "kVA", "kW", "kV", "mA", "mV", "dB"]);
    const words =
      rulebook.needs.flatMap(({ text }) => text).join(" ") +
      JSON.stringify(rulebook.protections.map(({ methods }) => methods.map((one) => [one.name, one.does, one.expected])));
    for (const [one, html] of pages) {
      for (const text of shownIn(html))
        for (const slip of slips(text))
          expect(known.has(slip) || (ids.includes(slip) && words.includes(` ${slip} `)), `${one.to}: ${text}`).toBe(true);
      expect(plain(html), one.to).not.toMatch(/undefined|NaN|\[object|Infinity/);
    }
  });

  test.each(rulebook.protections.flatMap((protection) => protection.methods.map((method) => [method.id, method, protection] as const)))(
    "the page of the method %s holds all that the rulebook says of it",
    (id, method, protection) => {
      const page = pageOf(bookAt("methods", id));
      const bases: readonly Basis[] = [...method.basis, ...method.requirements.flatMap(({ basis }) => basis)];
      for (const words of [
        protection.name,
        method.does,
        method.expected,
        method.restore ?? "",
        ...(method.steps ?? []),
        ...bases.map(basisWords),
        rulebook.techniques[method.technique],
        rulebook.hazards[method.hazard],
        ...rulebook.cautions.filter((one) => method.cautions.includes(one.id)).map(({ text }) => text),
        ...rulebook.needs.filter((one) => method.needs.includes(one.id)).map(({ text }) => text.slice(1)),
        ...method.requirements.map(({ otherwise }) => otherwise.slice(1)),
        ...method.details.map((at) => book.names.specAt(at)?.name ?? "none"),
      ])
        expect(page).toContain(words);
      for (const { when } of method.requirements)
        for (const at of mentions(when)) expect(page.toLowerCase()).toContain((book.names.specAt(at)?.name ?? "none").toLowerCase());
      expect(page).toContain("Examples");
      expect(page).toContain(method.hazard === 3 ? "it is never done" : "of the");
    },
  );

  test("of a protection is when it applies, its methods, danger, notes and who asks for it", () => {
    for (const protection of rulebook.protections) {
      const page = pageOf(bookAt("protections", protection.kind));
      for (const words of [
        protection.appliesNot,
        ...protection.methods.map(({ name }) => name.slice(1)),
        ...(protection.notes ?? []).map(({ text }) => text),
        ...(mentions(protection.danger).length > 0 || protection.danger === true ? [protection.dangerReason] : []),
        ...rulebook.ruleBases.flatMap(({ shows, name }) =>
          shows.filter((one) => one.protection === protection.kind).flatMap((one) => [one.text, name]),
        ),
        ...protection.basis.map(basisWords),
      ])
        expect(page).toContain(words);
    }
  });

  test("of rule bases, needs, cautions, questions and photographs is all their words", () => {
    for (const one of rulebook.ruleBases) {
      const page = pageOf(bookAt("bases", one.id));
      for (const words of [
        one.says,
        ...[
          ...one.bars.map(({ otherwise }) => otherwise),
          ...one.limits.map(({ text }) => text),
          ...one.intervals.map(({ text }) => text),
          ...one.procedure,
        ].map((text) => text.slice(1)),
      ])
        expect(page).toContain(words);
      for (const bar of one.bars) expect(page).toContain(rulebook.techniques[bar.technique]);
    }
    for (const one of rulebook.cautions) {
      const page = pageOf(bookAt("cautions", one.id));
      expect(page).toContain(one.text);
      for (const method of book.entries.filter(({ method: { cautions } }) => cautions.includes(one.id)))
        expect(page).toContain(method.method.name);
    }
    for (const one of rulebook.needs) expect(pageOf(bookAt("needs", one.id))).toContain(one.text.slice(1));
    for (const fact of rulebook.facts) {
      const page = pageOf(bookAt("questions", fact.at));
      for (const words of [
        fact.question,
        fact.why,
        ...(fact.domain.kind === "choice" ? fact.domain.values.map((value) => said(fact, value)) : []),
      ])
        expect(page).toContain(words);
      if (fact.look !== undefined) expect(page.toLowerCase()).toContain(fact.look.toLowerCase());
      for (const { method } of book.hangOn(fact.at)) expect(page).toContain(method.name);
    }
    for (const [id, words] of Object.entries(photographs))
      expect(pageOf(bookAt("photographs", id)).toLowerCase()).toContain(words.toLowerCase());
  });

  test("a fact that decides says of at least one thing what", () => {
    for (const fact of rulebook.facts.filter(({ use }) => use === "deciding")) {
      const page = pageOf(bookAt("questions", fact.at));
      expect(/Methods that it decides|Whether these apply|hangs on it|Questions that follow/.test(page), fact.at).toBe(true);
    }
  });
});

describe("examples", () => {
  test.each(book.entries.map((entry) => [entry.method.id, entry] as const))(
    "of %s run through the engine and are shown with its verdict",
    (id, entry) => {
      const verdicts = casesOf(entry.method.examples).map(([, facts]) => verdictOn(book, entry, facts)?.verdict);
      expect(verdicts).toEqual(entry.method.examples.fit === null ? ["barred"] : ["fit", "barred", "depends"]);
      const page = pageOf(bookAt("methods", id));
      const table = page.slice(page.indexOf("Worked by the engine now"), page.indexOf("Where it stands in the order"));
      for (const verdict of verdicts) expect(table).toContain(verdict);
    },
  );

  test("another answer gives another verdict", () => {
    const entry = book.entries.find(({ method }) => method.id === "lo-bleed");
    if (entry?.method.examples.fit === undefined || entry.method.examples.fit === null) throw new Error("no such method");
    const fit = entry.method.examples.fit;
    expect(verdictOn(book, entry, { ...fit, "/sets/*/lubeOilPressure/makerForbids": "yes" })?.verdict).toBe("barred");
    expect(verdictOn(book, entry, {})?.verdict).toBe("depends");
  });
});

describe("the order of preference", () => {
  test("has every method that is ever done once, nothing that is never done", () => {
    for (const protection of rulebook.protections) {
      const order = ranked(protection, rulebook).map(({ id }) => id);
      expect(order.toSorted()).toEqual(protection.methods.flatMap(({ id, hazard }) => (hazard < 3 ? [id] : [])).toSorted());
    }
  });

  test("puts a whole loop at the set point before a signal at the plug", () => {
    const oil = rulebook.protections.find(({ kind }) => kind === "lubeOilPressure");
    const order = oil === undefined ? [] : ranked(oil, rulebook).map(({ id }) => id);
    expect(order.indexOf("lo-bleed")).toBeLessThan(order.indexOf("lo-plug"));
    expect(order.indexOf("lo-bleed")).toBeGreaterThanOrEqual(0);
  });
});

describe("the drawing of what a method depends on", () => {
  test.each(book.entries.map((entry) => [entry.method.id, entry] as const))(
    "of %s says every fact, stays inside its frame and lets no words meet",
    (_, entry) => {
      const branches = branchesOf(entry, book);
      const { width, height, says, ...drawing } = dependsDrawing(entry.method.name, branches);
      for (const { when } of book.clausesOf(entry))
        for (const at of mentions(when)) expect(says.toLowerCase()).toContain((book.names.specAt(at)?.name ?? "none").toLowerCase());
      const shapes = plainIn(drawing);
      const words = shapes.flatMap((shape) => ("words" in shape ? [shape] : []));
      const written = words
        .map((one) => one.words)
        .join(" ")
        .toLowerCase();
      const wanted = sayCondition(entry.protection.applies, book.names).toLowerCase().split(/\s/)[0] ?? "";
      expect(written).toContain(wanted);
      for (const one of words) {
        expect(one.at[0]).toBeGreaterThan(0);
        expect(one.at[1]).toBeLessThan(height);
      }
      const lines = words.map(({ at }) => at[1]).toSorted((a, b) => a - b);
      for (const [place, y] of lines.entries()) if (place > 0) expect(y - (lines[place - 1] ?? 0)).toBeGreaterThanOrEqual(8);
      for (const shape of shapes)
        if ("strokes" in shape)
          for (const [x, y] of shape.strokes.flat()) {
            expect(x).toBeLessThan(width);
            expect(y).toBeLessThan(height);
          }
      const heads = words.filter(({ strong, size }) => strong === true && size === 8.5);
      expect(heads).toHaveLength(branches.length);
    },
  );

  test("tells the kinds of bar by word and by shape", () => {
    const of = (bar: "applies" | "veto" | "rule" | "practical") => dependsDrawing("A", [{ bar, leans: { fact: "B" } }]).shapes;
    const drawn = (["applies", "veto", "rule", "practical"] as const).map((bar) =>
      JSON.stringify(of(bar).filter((shape) => !("words" in shape))),
    );
    expect(new Set(drawn).size).toBe(4);
    const joints = (["allOf", "oneOf"] as const).map((kind) =>
      JSON.stringify(
        dependsDrawing("A", [
          { bar: "rule", leans: kind === "allOf" ? { allOf: [{ fact: "B" }, { fact: "C" }] } : { oneOf: [{ fact: "B" }, { fact: "C" }] } },
        ]).shapes,
      ),
    );
    expect(joints[0]).toContain("all of");
    expect(joints[1]).toContain("one of");
    expect(joints[1]).toContain("dashed");
    expect(joints[0]).not.toContain("dashed");
  });
});

describe("search", () => {
  test("finds everything by its name", () => {
    for (const one of all) {
      const found = search(
        book,
        one.name.slice(0, 100).replace(/\S*$/, (end) => (one.name.length > 100 ? "" : end)),
      );
      expect(
        found.find(({ kind }) => kind === one.kind)?.hits.some(({ thing }) => thing === one),
        one.to,
      ).toBe(true);
    }
  });

  test("finds by the words of a text, shows them, and puts names first", () => {
    const found = search(book, "prelubricated");
    const hit = found.flatMap(({ hits }) => hits).find(({ thing }) => thing.to === bookAt("methods", "lo-bleed"));
    expect(hit?.excerpt?.hit).toBe("prelubricated");
    expect(`${hit?.excerpt?.before}${hit?.excerpt?.hit}${hit?.excerpt?.after}`).toContain("prelubricated as the maker asks");
    const [first] = search(book, "overspeed").find(({ kind }) => kind === "protections")?.hits ?? [];
    expect(first?.excerpt).toBeNull();
    expect(search(book, "61.40-10(b)").some(({ kind }) => kind === "bases")).toBe(true);
  });

  test("wants all words, minds neither capitals nor hyphens, and takes what it cannot find for nothing", () => {
    expect(wordsIn("  Lube-Oil   LUBE ")).toEqual(["lube", "oil"]);
    const count = (query: string): number => search(book, query).reduce((sum, { hits }) => sum + hits.length, 0);
    expect(count("SET-POINT")).toBe(count("set point"));
    expect(count("set point bleed")).toBeLessThan(count("bleed"));
    expect(count("set point bleed")).toBeGreaterThan(0);
    for (const nothing of ["", "   ", "-", "zebra", "<script>", "(", "\\"]) expect(count(nothing), nothing).toBe(0);
    expect(count("x".repeat(100_000))).toBe(0);
    expect(renderToStaticMarkup(<Results found={[]} find="<b>" />)).toContain("&lt;b&gt;");
  });
});

describe("figures", () => {
  test("every file of the arithmetic has a page, but for what only helps", () => {
    const files = readdirSync(join(ROOT, "lib", "figures")).map((name) => name.replace(/\.ts$/, ""));
    expect(figurePages.map(({ id }) => id).toSorted()).toEqual(files.filter((name) => name !== "cited" && name !== "readDay").toSorted());
  });

  const sums = figurePages.flatMap((page) => page.sums.map((sum) => [`${page.id} ${sum.id}`, page, sum] as const));

  test.each(sums)("%s gives the published values, and shows them as its example", (_, page, sum) => {
    const { faults, told } = exampleOf(sum);
    expect(faults).toEqual([]);
    const worked = exampleOutcomes(sum);
    for (const [name, value, within = 0] of sum.example.gives) {
      const found = worked.find((one) => one.name === name);
      expect(found, name).toBeDefined();
      if (typeof value === "number") expect(Math.abs(Number(found?.value) - value), name).toBeLessThanOrEqual(within);
      else expect(found?.value).toBe(value);
    }
    const html = pageOf(bookAt("figures", page.id));
    for (const { value } of told) expect(html).toContain(value);
    expect(html).toContain(sum.example.source);
    for (const formula of sum.formula) expect(html).toContain(formula);
  });

  test("the values stand in the tests against the standards, or in their tables", () => {
    const folders = [join(ROOT, "fixtures", "tables"), join(ROOT, "tests", "standards")];
    const held = folders.flatMap((folder) => readdirSync(folder).map((name) => readFileSync(join(folder, name), "utf8"))).join("\n");
    /** The digits alone: a table may hold kPa where the calculator tells MPa. */
    const digits = (number: string): string => number.replace(/[._]/g, "").replace(/^0+|0+$/g, "");
    const published = new Set([...held.matchAll(/\d[\d_]*(?:\.\d+)?/g)].map(([number]) => digits(number)));
    for (const [name, , { example }] of sums)
      for (const [of, value] of example.gives)
        if (typeof value === "number") expect(published.has(digits(String(value))), `${name}: ${of} ${value}`).toBe(true);
  });

  test.each(sums)("%s refuses bad input, naming field, given and wanted", (_, __, sum) => {
    const nothing = tried(sum, () => "");
    const wanted = sum.inputs.filter(({ optional }) => optional !== true);
    expect(nothing.faults.map(({ id }) => id)).toEqual(wanted.map(({ id }) => fieldOf(sum, id)));
    for (const [place, { label }] of wanted.entries())
      expect(nothing.faults[place]?.says.startsWith(`${label}: given nothing; wanted `)).toBe(true);
    for (const input of sum.inputs.filter(({ kind }) => kind !== "text")) {
      const bad = tried(sum, (id) => (id === input.id ? "a fair few" : (sum.example.given[id] ?? "")));
      expect(bad.told).toEqual([]);
      expect(bad.faults[0]?.says).toMatch(/^.*: given “a fair few”; wanted .{8}/);
      expect(bad.typed[input.id]).toBe("a fair few");
    }
  });

  test.each(sums)("%s gives no number that is none, whatever number it is given", (_, __, sum) => {
    for (const extreme of ["0", "-1", "1e308", "99999999999", "0.0000001"]) {
      for (const input of sum.inputs.filter(({ kind }) => kind === "number" || kind === "whole")) {
        const { told } = tried(sum, (id) => (id === input.id ? extreme : (sum.example.given[id] ?? "")));
        for (const { value, means } of told) expect(`${value} ${means}`, `${input.id} ${extreme}`).not.toMatch(/NaN|Infinity|undefined|^–/);
      }
    }
  });

  test("units are taken as they are written", () => {
    const heat = figurePages.find(({ id }) => id === "heatSource")?.sums[0];
    if (heat === undefined) throw new Error("no such sum");
    const metric = tried(heat, (id) => ({ setPoint: "95 °C", margin: "3", ambient: "1000 hPa" })[id] ?? "");
    const us = tried(heat, (id) => ({ setPoint: "203 °F", margin: "3", ambient: "100 kPa" })[id] ?? "");
    expect(us.told).toEqual(metric.told);
    expect(us.told[0]?.value).toBe("serves");
    const wrong = tried(heat, (id) => ({ setPoint: "22 psi", margin: "3", ambient: "1000 hPa" })[id] ?? "");
    expect(wrong.faults[0]?.says).toContain("Set point: given “22 psi”; wanted a number such as 1250 or 2.5, in °C, °F");
  });

  test("what cannot be worked out is told in the figure's own words", () => {
    const plate = figurePages.find(({ id }) => id === "overspeed")?.sums.find(({ id }) => id === "frequency");
    if (plate === undefined) throw new Error("no such sum");
    const { faults } = tried(plate, (id) => ({ speed: "1800", poles: "3" })[id] ?? "");
    expect(faults.map(({ says }) => says)).toEqual(["It cannot be worked out: a generator has an even number of poles, not 3"]);
  });
});
