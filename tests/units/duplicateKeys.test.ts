import fc from "fast-check";
import { expect, test } from "vitest";
import { duplicateKeys } from "../../lib/model/duplicateKeys.ts";

test("a field that stands twice in one object is found, wherever it lies", () => {
  expect(duplicateKeys('{"a":1,"b":2,"a":3}')).toEqual([["a"]]);
  expect(duplicateKeys('{"a":{"x":[1,{"y":1,"y":2}]}}')).toEqual([["a", "x", 1, "y"]]);
  expect(duplicateKeys('{"a":1,"\\u0061":2}')).toEqual([["a"]]);
  expect(duplicateKeys('[{"a":1},{"a":1}]')).toEqual([]);
  expect(duplicateKeys('{"a":"a","b":"a\\",\\"a\\":","c":["a","a"]}')).toEqual([]);
});

test("no JSON that a program writes has one; written twice, every key of an object has", () => {
  fc.assert(
    fc.property(fc.jsonValue(), (value) => {
      expect(duplicateKeys(JSON.stringify(value, null, 1))).toEqual([]);
    }),
  );
  fc.assert(
    fc.property(fc.dictionary(fc.string(), fc.jsonValue(), { minKeys: 1 }), (object) => {
      const inner = JSON.stringify(object).slice(1, -1);
      expect(duplicateKeys(`{${inner},${inner}}`).filter((path) => path.length === 1)).toHaveLength(Object.keys(object).length);
    }),
  );
});
