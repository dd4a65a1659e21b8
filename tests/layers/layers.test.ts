import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { importsIn, ORDER, wrongWith } from "./imports.ts";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));

const sourcesIn = (folder: string): readonly string[] =>
  readdirSync(join(ROOT, folder), { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && /\.(ts|tsx|mjs)$/.test(entry.name))
    .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)));

const sources = ["lib", "components", "app"].flatMap((folder) => {
  try {
    return sourcesIn(folder);
  } catch {
    return [];
  }
});

test("every file imports only from the layers above it", () => {
  const wrong = sources.flatMap((file) =>
    importsIn(readFileSync(join(ROOT, file), "utf8")).flatMap(({ from, line }) => {
      const why = wrongWith(file, from);
      return why === null ? [] : [`${file}:${line} ${why}`];
    }),
  );
  expect(sources.length).toBeGreaterThan(60);
  expect(wrong).toEqual([]);
});

test("every folder of lib stands in the order", () => {
  const folders = readdirSync(join(ROOT, "lib"), { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name);
  expect(folders.filter((name) => !ORDER.some((layer) => layer === name))).toEqual([]);
});

describe("the check sees every form of import", () => {
  const forms: readonly (readonly [string, string])[] = [
    ["static", 'import { a } from "../plan/plan.ts";'],
    ["type", 'import type { A } from "../plan/plan.ts";'],
    ["over lines", 'import {\n  a,\n  b,\n} from "../plan/plan.ts";'],
    ["side effect", 'import "../plan/plan.ts";'],
    ["re-export", 'export * from "../plan/plan.ts";'],
    ["named re-export", 'export { a } from "../plan/plan.ts";'],
    ["dynamic", 'const a = await import("../plan/plan.ts");'],
    ["inline type", 'type A = import("../plan/plan.ts").A;'],
    ["require", 'const a = require("../plan/plan.ts");'],
    ["worker", 'new Worker(new URL("../plan/plan.ts", import.meta.url));'],
  ];
  test.each(forms)("%s", (_, source) => {
    const wrong = importsIn(source).map(({ from }) => wrongWith("lib/decide/visit.ts", from));
    expect(wrong).toEqual(["imports lib/plan/plan.ts, which stands below it in the order of layers"]);
  });

  test("prose and strings are no imports", () => {
    expect(importsIn('// import { a } from "../plan/plan.ts";\n/* require("../plan/plan.ts") */')).toEqual([]);
  });

  test("tests, fixtures and absolute paths are told; packages and layers above are not", () => {
    expect(wrongWith("lib/decide/visit.ts", "../../tests/decide/oracle.ts")).toContain("not part of the program");
    expect(wrongWith("lib/decide/visit.ts", "/etc/passwd")).toContain("absolute");
    expect(wrongWith("lib/decide/visit.ts", "zod")).toBeNull();
    expect(wrongWith("lib/decide/visit.ts", "../logic/frame.ts")).toBeNull();
    expect(wrongWith("app/page.tsx", "../components/board.tsx")).toBeNull();
    expect(wrongWith("lib/cli/main.ts", "../../components/board.tsx")).toContain("below");
  });
});

test("the pure layers know no clock, chance, machine or locale", () => {
  const pure = ["kernel", "units", "figures", "logic", "model", "rulebook", "decide", "plan"];
  const forbidden = /\b(Date\b|Math\.random|process\.|localeCompare|toLocale\w*|Intl\.)|["']node:/;
  const wrong = pure.flatMap((folder) =>
    sourcesIn(`lib/${folder}`).flatMap((file) => {
      const code = readFileSync(join(ROOT, file), "utf8").replace(/\/\*[\s\S]*?\*\/|\/\/[^\n]*/g, "");
      const found = forbidden.exec(code);
      return found === null ? [] : [`${file}: ${found[0]}`];
    }),
  );
  expect(wrong).toEqual([]);
});
