/** Chance by a seed: the same seed is the same bad input, on every machine. */
export interface Chance {
  readonly number: () => number;
  /** A whole number from 0 up to, but not, the most. */
  readonly below: (most: number) => number;
  readonly one: <Item>(of: readonly Item[]) => Item;
}

export const chanceOf = (seed: number): Chance => {
  let state = seed >>> 0;
  // mulberry32; the low bits of a plain linear generator repeat too soon for picking.
  const number = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  const below = (most: number): number => Math.floor(number() * most);
  return { number, below, one: (of) => of[below(of.length)] as (typeof of)[number] };
};

/** Short texts that programs stumble over. */
export const NASTY_TEXTS: readonly string[] = [
  "",
  " ",
  "\u0000",
  "a\u0000b",
  "\ud800",
  "\udc00x",
  "\u202egnp.exe",
  "\u200f\u200b\ufeff",
  "\ufeff{}",
  "\r\nBcc: all@ships.example",
  "__proto__",
  "constructor",
  "toString",
  "hasOwnProperty",
  "prototype",
  "NaN",
  "Infinity",
  "-Infinity",
  "-0",
  "1e308",
  "1e-400",
  "9".repeat(400),
  "0x10",
  "１２３",
  "٣٤",
  "Ⅻ",
  "1,2,3.4.5",
  "1''2",
  "+/-",
  "±",
  "..",
  "../../etc/passwd",
  "/sets/0",
  "/sets/-1/plate",
  "/sets/99999999999/overspeed",
  "/__proto__/x",
  "//",
  "~2",
  "%",
  "%00",
  "%zz",
  "<script>alert(1)</script>",
  "'; drop table visit; --",
  "$(7*7)",
  "=1+1",
  "@SUM(A1)",
  "-cmd|' /C calc'!A0",
  "ﷺ",
  "e\u0301".repeat(60),
  "🚢",
  "日本語",
  "T3",
  "Q9999",
  "2026-02-30",
  "99999-01-01",
  "-000001-01-01",
  "0000-00-00",
  "29 February",
  "31.31.2026",
  "3/4/2026",
  "not known",
  "yes",
  "no",
  "null",
  "undefined",
  "[object Object]",
  "a@b.c",
  "a@[127.0.0.1]",
  `${"a".repeat(300)}@b.example`,
  "smtp://[::1",
  "smtps://u:%@h",
];

export const NASTY_NUMBERS: readonly number[] = [
  0,
  -0,
  -1,
  1,
  0.1,
  1e308,
  -1e308,
  5e-324,
  2 ** 31,
  2 ** 53,
  -(2 ** 53) - 2,
  4294967296,
  1e21,
  123456789012345680000,
  0.30000000000000004,
];

/** Pieces of which long runs break slow expressions. */
export const PUMPS: readonly string[] = [
  " ",
  "\t",
  "\n",
  "\r\n",
  '"',
  '\\"',
  "\\",
  "“",
  "(",
  ".",
  ",",
  "'",
  "-",
  "–",
  "@",
  "a@",
  "a.",
  "1",
  "1,",
  "1 ",
  "Q1,",
  "Q1, ",
  "Q1: ",
  "Q1-Q9 ",
  "and ",
  "not known, ",
  "unknown - ",
  "{",
  "[",
  "[{",
  ",",
  "{},",
  "/",
  "/EF",
  "/EF ",
  "%",
  "%2",
  "$1",
  "e\u0301",
  "\u00a0",
  ";",
  "> ",
  "-- ",
  "mr.",
  "Dear ",
  "a b",
  "=",
  "!",
  "\u200b",
];

/** Any text, mostly short; now and then a long run, of at most so many characters. */
export const nastyText = (chance: Chance, longest = 4_000): string => {
  const kind = chance.below(20);
  if (kind < 12) return chance.one(NASTY_TEXTS);
  if (kind < 16)
    return Array.from({ length: 1 + chance.below(6) }, () => chance.one(NASTY_TEXTS)).join(chance.one(["", " ", ", ", "\n", ": "]));
  if (kind < 18) return String.fromCharCode(...Array.from({ length: 1 + chance.below(40) }, () => chance.below(65_536)));
  const pump = chance.one(PUMPS);
  return `${chance.one(["", "a", "Q3: ", '"'])}${pump.repeat(1 + Math.floor(chance.below(longest) / pump.length))}${chance.one(["", "a", "@", "!", '"'])}`;
};

const nastyValue = (chance: Chance): unknown => {
  const kind = chance.below(12);
  if (kind < 4) return nastyText(chance, 400);
  if (kind < 7) return chance.one(NASTY_NUMBERS);
  if (kind === 7) return chance.one([null, true, false]);
  if (kind === 8) return Array.from({ length: chance.below(40) }, () => chance.one<unknown>([null, 0, "", {}, []]));
  if (kind === 9)
    return JSON.parse(
      `{"${chance.one(["__proto__", "constructor", "toString", "valueOf", "length"])}":${chance.one(["1", "{}", "[]", "null"])}}`,
    );
  if (kind === 10)
    return {
      value: chance.one<unknown>([...NASTY_NUMBERS, "7", null]),
      unit: chance.one(["bar", "°F", "psi", "", "rpm", "__proto__", "kWh"]),
    };
  return nested(chance, 1 + chance.below(36));
};

const nested = (chance: Chance, depth: number): unknown => {
  let inner: unknown = 0;
  for (let at = 0; at < depth; at += 1) inner = chance.below(2) === 0 ? [inner] : { a: inner };
  return inner;
};

type Container = Record<string, unknown> | unknown[];
const isContainer = (value: unknown): value is Container => typeof value === "object" && value !== null;

/** Any list or object within a value, the value itself among them; deep ones as likely as high ones. */
const somewhere = (document: Container, chance: Chance): Container => {
  let here = document;
  for (let steps = chance.below(6); steps > 0; steps -= 1) {
    const inner: readonly Container[] = Object.values(here).filter(isContainer);
    if (inner.length === 0) break;
    here = chance.one(inner);
  }
  return here;
};

const spoil = (here: Container, chance: Chance): void => {
  const keys = Object.keys(here);
  const key = keys.length === 0 ? "0" : chance.one(keys);
  const kind = chance.below(6);
  if (kind === 0 && !Array.isArray(here)) delete here[key];
  else if (kind === 1 && Array.isArray(here)) here.push(...Array.from({ length: chance.below(70) }, () => structuredClone(here[0])));
  else if (kind === 2 && !Array.isArray(here))
    Object.defineProperty(here, chance.one(NASTY_TEXTS), {
      value: nastyValue(chance),
      enumerable: true,
      configurable: true,
      writable: true,
    });
  else if (kind === 3) Reflect.set(here, key, structuredClone(somewhere(here, chance)));
  else Reflect.set(here, key, nastyValue(chance));
};

/** A valid document with one to four things of it changed. */
export const spoiled = (document: object, chance: Chance): unknown => {
  const copy = structuredClone(document) as Container;
  for (let times = 1 + chance.below(4); times > 0; times -= 1) spoil(somewhere(copy, chance), chance);
  return copy;
};

/** A text cut, spliced, doubled or with signs of it changed. */
export const spoiledText = (text: string, chance: Chance, longest?: number): string => {
  const [from, to] = [chance.below(text.length + 1), chance.below(text.length + 1)];
  const kind = chance.below(6);
  if (kind === 0) return text.slice(0, from);
  if (kind === 1) return `${text.slice(0, from)}${nastyText(chance, longest)}${text.slice(from)}`;
  if (kind === 2) return `${text.slice(0, from)}${text.slice(to)}`;
  if (kind === 3) return `${text.slice(0, from)}${nastyText(chance, longest)}${text.slice(from + 1 + chance.below(8))}`;
  if (kind === 4) return `\ufeff${text.slice(from)}${text.slice(0, from)}`;
  return [...text.split("\n")].map((line) => (chance.below(8) === 0 ? nastyText(chance, longest) : line)).join("\n");
};

/** A file with bytes of it flipped, cut out, doubled or written over by a piece of another. */
export const spoiledBytes = (bytes: Uint8Array, others: readonly Uint8Array[], chance: Chance): Uint8Array => {
  const kind = chance.below(6);
  const at = chance.below(bytes.length + 1);
  if (kind === 0) return bytes.slice(0, at);
  if (kind === 1) return new Uint8Array(Buffer.concat([bytes.subarray(0, at), bytes.subarray(chance.below(bytes.length + 1))]));
  if (kind === 2) return new Uint8Array(Buffer.concat([bytes.subarray(0, at), chance.one(others), bytes.subarray(at)]));
  if (kind === 3) return new Uint8Array(Buffer.concat([chance.one(others), bytes]));
  const copy = bytes.slice();
  for (let times = 1 + chance.below(kind === 4 ? 3 : 60); times > 0; times -= 1)
    copy[chance.below(copy.length)] = chance.one([0, 255, 32, chance.below(256)]);
  return copy;
};

const NAMES: readonly string[] = [
  "token",
  "was",
  "act",
  "seen",
  "__proto__",
  "constructor",
  "words",
  "/sets/0/plate/ratedPower.text",
  "/sets/0/plate/ratedPower.seen",
];

/** A form with fields of these names, missing, doubled, strange, with files where texts are wanted. */
export const nastyForm = (names: readonly string[], chance: Chance): FormData => {
  const form = new FormData();
  const add = (name: string): void => {
    if (chance.below(30) === 0) form.append(name, new File([nastyText(chance)], nastyText(chance, 50)));
    else form.append(name, chance.below(6) === 0 ? JSON.stringify(nastyValue(chance)) : nastyText(chance));
  };
  for (const name of names) for (let times = chance.one([0, 1, 1, 1, 1, 2]); times > 0; times -= 1) add(name);
  for (let more = chance.below(5); more > 0; more -= 1) add(chance.one([chance.one(NAMES), nastyText(chance, 60)]));
  return form;
};
