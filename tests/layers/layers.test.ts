import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { describe, expect, test } from "vitest";
import { importsIn, ORDER, wrongWith } from "./imports.ts";
import { tokensOf } from "./tokens.ts";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));

const sourcesIn = (folder: string): readonly string[] =>
  readdirSync(join(ROOT, folder), { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && /\.[cm]?[jt]sx?$/.test(entry.name))
    .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)))
    .sort();

const sources = ["lib", "components", "app"].flatMap((folder) => {
  try {
    return sourcesIn(folder);
  } catch {
    return [];
  }
});
const textOf = (file: string): string => readFileSync(join(ROOT, file), "utf8");

/** The command line starts the program that it has just bundled into the folder of made things. */
const WORKED_OUT: readonly string[] = ["lib/cli/run.mjs"];

test("every file imports only from the layers above it", () => {
  const wrong = sources.flatMap((file) =>
    importsIn(textOf(file)).flatMap(({ from, line }) => {
      const why = from === null && WORKED_OUT.includes(file) ? null : wrongWith(file, from);
      return why === null ? [] : [`${file}:${line} ${why}`];
    }),
  );
  expect(sources.length).toBeGreaterThan(60);
  expect(wrong).toEqual([]);
});

/** The thread in which a PDF is drawn. */
const DRAWS = "lib/letter/worker.ts";

test("what a letter or sheet says is made without what draws it as a PDF, which brings fonts along", () => {
  const wrong = sources
    .filter((file) => file.startsWith("lib/letter/") && !file.startsWith("lib/letter/pdf/") && file !== DRAWS)
    .flatMap((file) => importsIn(textOf(file)).flatMap(({ from, line }) => (from?.includes("/pdf/") === true ? [`${file}:${line}`] : [])));
  expect(wrong).toEqual([]);
});

test("every folder of lib stands in the order, and no source beside them", () => {
  const entries = readdirSync(join(ROOT, "lib"), { withFileTypes: true });
  expect(entries.filter((entry) => !entry.isDirectory()).map(({ name }) => name)).toEqual([]);
  expect(entries.map(({ name }) => name).filter((name) => !ORDER.some((layer) => layer === name))).toEqual([]);
});

const LOWER = "imports lib/plan/plan.ts, which stands below it in the order of layers";
const forms: readonly (readonly [string, string])[] = [
  ["static", 'import { a } from "../plan/plan.ts";'],
  ["default and named", "import b, { a } from '../plan/plan.ts'"],
  ["namespace", 'import * as a from "../plan/plan.ts";'],
  ["type", 'import type { A } from "../plan/plan.ts";'],
  ["inline type name", 'import { type A } from "../plan/plan.ts";'],
  ["over lines", 'import {\n  a,\n  b,\n} from "../plan/plan.ts";'],
  ["with comments between", 'import /* a */ { a } // from "x"\n  from /* b */ "../plan/plan.ts";'],
  ["with attributes", 'import a from "../plan/plan.ts" with { type: "json" };'],
  ["a name in quotes", 'import { "a from b" as c } from "../plan/plan.ts";'],
  ["side effect", 'import "../plan/plan.ts";'],
  ["written with escapes", 'import "\\u002e./plan/plan.ts";'],
  ["import equals", 'import a = require("../plan/plan.ts");'],
  ["re-export", 'export * from "../plan/plan.ts";'],
  ["re-export under a name", 'export * as a from "../plan/plan.ts";'],
  ["named re-export", 'export { a } from "../plan/plan.ts";'],
  ["type re-export", 'export type { A } from "../plan/plan.ts";'],
  ["type re-export of all", 'export type * from "../plan/plan.ts";'],
  ["dynamic", 'const a = await import("../plan/plan.ts");'],
  ["dynamic with options", 'const a = import("../plan/plan.ts", { with: { type: "json" } });'],
  ["dynamic in a template", "const a = import(`../plan/plan.ts`);"],
  ["dynamic inside a template", "const a = `x$" + '{(await import("../plan/plan.ts")).a}`;'],
  ["inline type", 'type A = import("../plan/plan.ts").A;'],
  ["require", 'const a = require("../plan/plan.ts");'],
  ["require.resolve", 'const a = require.resolve("../plan/plan.ts");'],
  ["require by another name", 'const find = createRequire(import.meta.url).resolve;\nfind("../plan/plan.ts");'],
  ["import.meta.resolve", 'import.meta.resolve("../plan/plan.ts");'],
  ["worker", 'new Worker(new URL("../plan/plan.ts", import.meta.url));'],
  ["worker, last comma", 'new Worker(\n  new URL(\n    "../plan/plan.ts",\n    import.meta.url,\n  ),\n);'],
  ["reference", '/// <reference path="../plan/plan.ts" />'],
];

describe("the check sees every form of import", () => {
  test.each(forms)("%s", (_, source) => {
    expect(importsIn(source).map(({ from }) => wrongWith("lib/decide/visit.ts", from))).toEqual([LOWER]);
  });

  test.each([
    ["a variable", "await import(name);"],
    ["a template", "await import(`../plan/$" + "{name}.ts`);"],
    ["a sum", 'await import("../plan/" + name);'],
    ["require of a variable", "require(name);"],
    ["address of a template", "new URL(`a/$" + "{name}.ts`, import.meta.url);"],
    ["address of a variable", "new URL(name, import.meta.url);"],
    ["folder of the file", "join(import.meta.dirname, name);"],
  ])("what is worked out when it runs is told: %s", (_, source) => {
    expect(importsIn(source).map(({ from }) => wrongWith("lib/decide/visit.ts", from))).toEqual([
      "imports from a place that is worked out when it runs, which cannot be checked",
    ]);
  });

  test.each([
    ["comments", '// import { a } from "../plan/plan.ts";\n/* require("../plan/plan.ts") */'],
    ["strings", "const a = 'import { a } from \"../plan/plan.ts\"';"],
    ["templates", 'const a = `import("../plan/plan.ts") and $' + '{"from"} "../plan/plan.ts"`;'],
    ["regular expressions", 'const a = /import "x"; require("..\\/plan")/.test(b);'],
    ["members", 'a.export({ b }); a.import("../plan/plan.ts"); list.find("../plan/plan.ts");'],
    ["an export of its own", 'export { a };\nexport const from = "../plan/plan.ts";'],
    ["an address elsewhere", 'new URL("../plan/plan.ts", base);'],
  ])("%s are no imports", (_, source) => {
    expect(importsIn(source)).toEqual([]);
  });

  test.each([
    ["an apostrophe in an element", "const a = <p>the vessel's letter</p>;"],
    ["a backtick in an element", "const a = <p>a ` sign</p>;"],
    ["an element that ends itself", "const a = <p {...b} />;"],
    ["quotes in a regular expression", "const a = b.replace(/[\"'`/]/g, '');"],
    ["divisions", "const a = (b / c) / d[0] / 2;"],
    ["templates in templates", "const a = `$" + "{b ? `$" + "{c}'` : '}'}`;"],
  ])("is not led astray by %s", (_, source) => {
    const wrong = importsIn(`${source}\nimport "../plan/plan.ts";`).map(({ from, line }) => [from, line]);
    expect(wrong).toEqual([["../plan/plan.ts", 2]]);
  });

  test("each form is still seen at the end of every file of the program", () => {
    for (const file of sources) {
      const text = textOf(file);
      const [own, both] = [importsIn(text), importsIn([text, ...forms.map(([, source]) => source)].join("\n"))];
      expect(both.length, file).toBe(own.length + forms.length);
    }
  });

  test("a template that stays in a package can be read", () => {
    expect(importsIn("require.resolve(`@fonts/sans/$" + "{name}.ttf`);").map(({ from }) => from)).toEqual(["@fonts/sans/"]);
  });

  test("tests, fixtures, absolute and named paths are told; packages and layers above are not", () => {
    const decide = (from: string) => wrongWith("lib/decide/visit.ts", from);
    expect(decide("../../tests/decide/oracle.ts")).toContain("not part of the program");
    expect(decide("../../fixtures/tables/plates.json")).toContain("not part of the program");
    expect(wrongWith("components/board.tsx", "../tests/cli/cli.ts")).toContain("not part of the program");
    expect(wrongWith("app/page.tsx", "../fixtures/visits/a.json")).toContain("not part of the program");
    expect(importsIn('new URL("../../fixtures/a.json", import.meta.url)').map(({ from }) => wrongWith("lib/cli/demo.ts", from))).toEqual([
      "imports fixtures/a.json, which is not part of the program",
    ]);
    for (const from of ["/etc/passwd", "file:///etc/passwd", "C:\\plan.ts", "c:/plan.ts"]) expect(decide(from)).toContain("absolute");
    for (const from of ["@/lib/plan", "#plan", "lib/plan/plan.ts", "forehail/lib"]) expect(decide(from)).toContain("by a name");
    expect(decide("../../../elsewhere/a.ts")).toContain("outside the project");
    expect(decide("../../package.json")).toContain("in no layer");
    expect(decide("../unheardOf/a.ts")).toContain("in no layer");
    for (const from of ["zod", "node:fs", "@react-pdf/renderer", "../logic/frame.ts", "./rank.ts"]) expect(decide(from)).toBeNull();
    expect(wrongWith("tests/decide/oracle.ts", "../../lib/cli/main.ts")).toBeNull();
    expect(wrongWith("components/board.tsx", "../app/page.tsx")).toContain("below");
    expect(wrongWith("app/page.tsx", "../components/board.tsx")).toBeNull();
    expect(wrongWith("lib/cli/main.ts", "../../components/board.tsx")).toContain("below");
  });

  test("each layer sees those before it and none after it", () => {
    for (const [own, folder] of ORDER.entries()) {
      for (const [other, target] of ORDER.entries()) {
        expect(wrongWith(`lib/${folder}/a.ts`, `../${target}/b.ts`) === null, `${folder} → ${target}`).toBe(other <= own);
      }
    }
  });
});

test("a real parser finds no import that this check does not", async () => {
  const seen: string[] = [];
  await build({
    absWorkingDir: ROOT,
    entryPoints: sources.filter((file) => !file.endsWith(".d.mts")),
    outdir: "never-written",
    write: false,
    bundle: true,
    platform: "node",
    format: "esm",
    jsx: "automatic",
    logLevel: "silent",
    tsconfigRaw: { compilerOptions: { verbatimModuleSyntax: true } },
    plugins: [
      {
        name: "record",
        setup: ({ onResolve }) => {
          onResolve({ filter: /.*/ }, ({ path, importer, kind }) => {
            if (kind === "entry-point") return null;
            // esbuild itself adds the import that turns elements into calls.
            if (path !== "react/jsx-runtime") seen.push(`${relative(ROOT, importer)} ${path}`);
            return { path, external: true };
          });
        },
      },
    ],
  });
  const found = new Set(sources.flatMap((file) => importsIn(textOf(file)).map(({ from }) => `${file} ${from}`)));
  expect(seen.length).toBeGreaterThan(200);
  expect(seen.filter((one) => !found.has(one))).toEqual([]);
});

/** The folders that must give the same answer on every machine, in every place, at every time. */
const PURE = ["kernel", "units", "figures", "logic", "model", "rulebook", "decide", "plan", "flow", "compare", "drawing"] as const;
const IMPURE = new Set(
  ["Date", "process", "fs", "Intl", "localeCompare", "performance", "crypto", "globalThis", "setTimeout", "setInterval", "fetch"].values(),
);
const impure = (name: string): boolean => IMPURE.has(name) || name.startsWith("toLocale");

/** Names of clock, chance, machine and locale in a source; words in texts and comments are none, names in brackets are. */
const impureIn = (source: string): readonly string[] => {
  const tokens = tokensOf(source);
  return tokens.flatMap(({ kind, text, line }, place) => {
    const [before, earlier] = [tokens[place - 1]?.text, tokens[place - 2]?.text];
    const named = kind === "name" || (kind === "string" && before === "[" && tokens[place + 1]?.text === "]");
    const random = text === "random" && (earlier === "Math" || before === "{");
    return named && (impure(text) || random) ? [`${line}: ${text}`] : [];
  });
};

describe("the pure layers know no clock, chance, machine or locale", () => {
  test.each(PURE)("lib/%s", (folder) => {
    const wrong = sourcesIn(`lib/${folder}`).flatMap((file) => {
      const text = textOf(file);
      const packages = importsIn(text).flatMap(({ from }) => (from === null || from.startsWith(".") ? [] : [from]));
      return [
        ...impureIn(text).map((found) => `${file}:${found}`),
        ...packages.filter((name) => folder === "kernel" || name !== "zod").map((name) => `${file} imports ${name}`),
      ];
    });
    expect(wrong).toEqual([]);
  });

  test.each([
    "const a = new Date();",
    "const a = Date.now();",
    "const a = Math.random();",
    'const a = Math["random"]();',
    "const { random } = Math;",
    "const a = process.env;",
    "const { env } = process;",
    "fs.readFileSync(a);",
    "a.localeCompare(b);",
    'a["localeCompare"](b);',
    "a.toLocaleString();",
    "a.toLocaleUpperCase();",
    "new Intl.NumberFormat();",
    "const a = `$" + "{Date.now()}`;",
  ])("it is seen in %s", (source) => {
    expect(impureIn(source).length).toBe(1);
  });

  test("words in texts and comments are no offence, and other names are not", () => {
    expect(impureIn('// Date\nconst a = "the Date of the process"; const isDate = plainDate; a.random = 1; /* Intl */')).toEqual([]);
  });
});
