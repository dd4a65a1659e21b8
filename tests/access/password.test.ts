import { expect, test } from "vitest";
import { unfitBecause } from "../../lib/access/password.ts";

const ABOUT = ["Mara Tellingen", "mara.tellingen@office.example"];

test("what would be tried first is no password: common ones, rows of keys, names, the same signs again", () => {
  for (const password of [
    ...["password1234", "Password12345!", "P4ssword-2026", "administrator", "welcome12345", "letmeinletmein", "iloveyou1234"],
    ...["qwertyuiop123", "1q2w3e4r5t6y", "123456789012", "abcdefghijkl", "forehail-office", "inspector1234", "chief engineer"],
    ...["mara tellingen", "Tellingen2026", "mara.tellingen@office.example", "aaaaaaaaaaaa", "abababababab"],
  ])
    expect(unfitBecause(password, ABOUT), password).toMatch(/^(?:is one that would be tried first|needs at least 6 different)/);
});

test("any other of a fit length is taken, of whatever signs, spaces at its ends among them", () => {
  for (const password of [
    ...["four quiet lanterns", "six lamps by the sea", "a long enough one", "correct horse battery", "zażółć gęślą jaźń", "gXk2!vQm9#Lp"],
    ...[" four quiet lanterns ", "the chief engineer sings at noon", "漢字仮名交じり文でも十二字以上あり", "3141592653589793"],
  ])
    expect(unfitBecause(password, ABOUT), password).toBeNull();
});

test("is at least 12 and at most 128 characters long", () => {
  const long = "four quiet lanterns at the quay ".repeat(5);
  expect([11, 12, 64, 128, 129].map((length) => unfitBecause(long.slice(0, length), ABOUT) === null)).toEqual([
    false,
    true,
    true,
    true,
    false,
  ]);
});
