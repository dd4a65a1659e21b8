import { afterEach, beforeAll, expect, test } from "vitest";
import { textsIn, wasIn } from "../../app/_server/particularsForm.ts";
import { policyTextsIn } from "../../app/_server/policyForm.ts";
import { fieldsIn, strangeIn } from "../../app/_server/stepForm.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { readRulebook } from "../../lib/rulebook/schema.ts";
import { parseJson } from "../../lib/usecases/parseJson.ts";
import { PARSERS } from "./parsers.ts";
import { tried } from "./try.ts";

const SHARED = [Object.prototype, Array.prototype, Function.prototype, String.prototype, Map.prototype, Promise.prototype];
/** Everything that all objects of a kind have in common, and what it is. */
const common = (): readonly unknown[] =>
  SHARED.map((one) => Reflect.ownKeys(one).map((key) => [key, Object.getOwnPropertyDescriptor(one, key)?.value]));

const NAMES = [
  "__proto__",
  "constructor",
  "prototype",
  "__proto__[x]",
  "constructor.prototype.x",
  "constructor[prototype][x]",
  "/__proto__/x",
];
const formOf = (ends: readonly string[]): FormData => {
  const form = new FormData();
  for (const name of NAMES) for (const end of ends) form.append(`${name}${end}`, "1");
  return form;
};

let before: readonly unknown[];
beforeAll(() => {
  before = common();
});
afterEach(() => {
  expect(common()).toEqual(before);
  expect(Reflect.get({}, "x")).toBeUndefined();
});

test("names of a form that are names of every object are no fields, and change nothing of other objects", () => {
  const form = formOf(["", ".text", ".seen", ".unit"]);
  expect(Object.keys(textsIn(form))).toEqual([]);
  expect(Reflect.ownKeys(policyTextsIn(form)).filter((name) => NAMES.includes(String(name)))).toEqual([]);
  expect(fieldsIn(form).map(({ at }) => at)).toEqual(["/__proto__/x"]);
  expect(strangeIn(form, ["token"])).toContain("__proto__");
  form.append("was", '{"__proto__":{"x":"1"},"constructor":{"prototype":{"x":"1"}}}');
  expect(wasIn(form)).toEqual({});
});

test("a JSON text with such names is taken as it is written, a rulebook with them refused", () => {
  const text = '{"__proto__":{"x":1},"constructor":{"prototype":{"x":1}},"a":{"__proto__":{"x":1}}}';
  const read = parseJson(text, "a file");
  expect(read.ok).toBe(true);
  expect(Reflect.get({}, "x")).toBeUndefined();
  const spoiled = parseJson(JSON.stringify(rulebook).replace("{", '{"__proto__":{"x":1},'), "a rulebook");
  expect(spoiled.ok).toBe(true);
  expect(readRulebook(spoiled.ok ? spoiled.value : null).ok).toBe(false);
});

test("whatever comes to any reader of outside data, what objects have in common stays as it is", async () => {
  for (const parser of PARSERS) expect((await tried(parser, 77, 3 * parser.share)).crashes).toEqual([]);
}, 120_000);
