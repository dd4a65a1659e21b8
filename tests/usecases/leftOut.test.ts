import { expect, test } from "vitest";
import { leftOut, leftOutWords } from "../../lib/usecases/exchange/recipients.ts";

const one = (name: string, address: string) => ({ name, address });
const MASTER = one("H. Brandvoll", "master@vessel.example");
const CHIEF = one("E. Sund", "chief@vessel.example");

test("who got the last letter and does not get the next is named, by address and whatever its capitals", () => {
  expect(leftOut([MASTER, CHIEF], [one("E. Sund, chief", "Chief@vessel.example")])).toEqual([MASTER]);
  expect(leftOut([MASTER], [MASTER, CHIEF])).toEqual([]);
  expect(leftOutWords([MASTER], 2)).toMatch(/^H\. Brandvoll got letter 2 and does not get this one: /);
  expect(leftOutWords([MASTER, CHIEF], 2)).toMatch(/^H\. Brandvoll, E\. Sund got letter 2 and do not get this one: /);
});
