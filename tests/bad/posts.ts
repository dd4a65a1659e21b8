import { deflateSync, gzipSync } from "node:zlib";
import type { Route } from "../../lib/access/rules.ts";
import type { Field } from "./htmlForms.ts";
import { type Chance, NASTY_TEXTS, nastyText, spoiledBytes, spoiledText } from "./nasty.ts";

/** An address that is written to, with the form that a page of ours sends there. */
export interface Target {
  readonly route: Route;
  readonly path: string;
  readonly fields: readonly Field[];
}

/** What bad posts are made of, beside chance. */
export interface Material {
  readonly targets: readonly Target[];
  /** Seals of forms: of whoever sends, of others, run out, of nobody. */
  readonly tokens: readonly string[];
  /** Ids that are somebody else's or nobody's. */
  readonly ids: readonly string[];
  /** Files that are sent along: good ones, and ones that were spoiled before. */
  readonly files: readonly Uint8Array[];
}

/** A post as it goes over the wire, apart from the headers that say who sends it. */
export interface Post {
  readonly route: Route;
  /** What is bad of it. */
  readonly how: string;
  readonly path: string;
  readonly headers: readonly Field[];
  readonly body: Buffer;
  /** `whole`: an answer is due. `cut`: the sender stops before its end and waits. `torn`: he is gone. */
  readonly end: "whole" | "cut" | "torn";
}

/** A form on its way to be spoiled. */
interface Draft {
  readonly path: string;
  readonly fields: readonly Field[];
}

const URLENCODED = "application/x-www-form-urlencoded";
const asText = (fields: readonly Field[]): string => new URLSearchParams(fields.map(([name, value]) => [name, value])).toString();

interface Sent {
  readonly type: string;
  readonly body: Buffer;
  readonly path?: string;
  readonly more?: readonly Field[];
  readonly end?: Post["end"];
  /** What is said of the body's length in place of the truth. */
  readonly length?: readonly Field[];
}

const form = (fields: readonly Field[], more: Partial<Sent> = {}): Sent => ({
  type: URLENCODED,
  body: Buffer.from(asText(fields)),
  ...more,
});
const rawForm = (text: string | Buffer, more: Partial<Sent> = {}): Sent => ({ type: URLENCODED, body: Buffer.from(text), ...more });

const MARK = "----bad";
const partOf = (name: string, content: Uint8Array, more = ""): Buffer =>
  Buffer.concat([
    Buffer.from(`--${MARK}\r\nContent-Disposition: form-data; name="${name.replaceAll('"', "%22")}"${more}\r\n\r\n`),
    content,
    Buffer.from("\r\n"),
  ]);
const multipart = (fields: readonly Field[], files: readonly Buffer[] = []): Buffer =>
  Buffer.concat([...fields.map(([name, value]) => partOf(name, Buffer.from(value))), ...files, Buffer.from(`--${MARK}--\r\n`)]);
const parts = (body: Buffer, more: Partial<Sent> = {}): Sent => ({ type: `multipart/form-data; boundary=${MARK}`, body, ...more });

const isNumber = (value: string): boolean => /^-?\d+$/.test(value);
const NUMBERS = [
  "-1",
  "0",
  "1",
  "2147483648",
  "9007199254740993",
  "-9223372036854775809",
  "1e999",
  "NaN",
  "0x1F",
  "1.5",
  " 7 ",
  "9".repeat(400),
];
const NAMES = ["__proto__", "constructor", "prototype", "__proto__[x]", "toString", "token", "was", "seen", "act", "then", "sets", ""];

const changed = (fields: readonly Field[], chance: Chance, value: (given: string, name: string) => string): readonly Field[] => {
  const open = fields.filter(([name]) => name !== "token");
  const picked = new Set(Array.from({ length: 1 + chance.below(3) }, () => (open.length === 0 ? undefined : chance.one(open))));
  return fields.map((field) => (picked.has(field) ? [field[0], value(field[1], field[0])] : field));
};
const withToken = (fields: readonly Field[], token: string | null): readonly Field[] => [
  ...fields.filter(([name]) => name !== "token"),
  ...(token === null ? [] : [["token", token] as const]),
];

const chunked = (body: Buffer, sizes: (chunk: Buffer) => string, last = "0\r\n\r\n"): Buffer => {
  const middle = Math.floor(body.length / 2);
  return Buffer.concat(
    [body.subarray(0, middle), body.subarray(middle)]
      .filter((chunk) => chunk.length > 0)
      .flatMap((chunk) => [Buffer.from(`${sizes(chunk)}\r\n`), chunk, Buffer.from("\r\n")])
      .concat(Buffer.from(last)),
  );
};
const CHUNKED: readonly Field[] = [["transfer-encoding", "chunked"]];

type Spoiling = (draft: Draft, chance: Chance, material: Material) => Sent;

/** Any text as a path or query can hold it; halves of signs become other signs. */
const inPath = (text: string): string => encodeURIComponent(Buffer.from(text).toString().slice(0, 200));

/** An id of a path in place of another, or a strange one. */
const otherPath = (path: string, chance: Chance, ids: readonly string[]): string => {
  const strange = inPath(chance.one(NASTY_TEXTS));
  const step = (): string =>
    chance.one([chance.one(ids), chance.one(ids), strange, "%00", "%E0%A4%A", "..%2f..", "__proto__", "9".repeat(300), "-1", "1e21"]);
  const steps = path.split("/");
  const free = steps.flatMap((one, place) => (place > 0 && /^[\w-]*\d[\w-]*$/.test(one) ? [place] : []));
  const at = free.length === 0 ? steps.length - 1 : chance.one(free);
  return steps.map((one, place) => (place === at ? step() : one)).join("/");
};

/** Each kind of bad post, by what is bad of it. */
export const SPOILINGS: Readonly<Record<string, Spoiling>> = {
  "as a page sends it": ({ fields }) => form(fields),
  "strange values": ({ fields }, chance) => form(changed(fields, chance, () => nastyText(chance, 400))),
  "values of a kind that is none": ({ fields }, chance) =>
    form(changed(fields, chance, () => chance.one(["[]", "{}", "null", "true", '{"a":1}', "[object Object]", "\ufffd"]))),
  "fields left out": ({ fields }, chance) => form(fields.filter(() => chance.below(3) > 0)),
  "nothing but the seal": ({ fields }) => form(fields.filter(([name]) => name === "token")),
  "fields twice": ({ fields }, chance) =>
    form(fields.flatMap((field) => (chance.below(2) === 0 ? [field] : [field, [field[0], nastyText(chance, 50)]]))),
  "no seal": ({ fields }) => form(withToken(fields, null)),
  "another's seal": ({ fields }, chance, { tokens }) => form(withToken(fields, chance.one(tokens))),
  "a spoiled seal": ({ fields }, chance, { tokens }) => form(withToken(fields, spoiledText(chance.one(tokens), chance, 200))),
  "two seals": ({ fields }, chance, { tokens }) => form([...fields, ["token", chance.one(tokens)]]),
  "values that are too long": ({ fields }, chance) =>
    form(changed(fields, chance, () => chance.one(["a", "é", "\n", "=1+"]).repeat(chance.one([5_000, 60_000, 250_000])))),
  "the sign NUL": ({ fields }, chance) => form(changed(fields, chance, (given) => `${given}\0`)),
  "halves of signs": ({ fields }, chance) => {
    const name = chance.one(fields)?.[0] ?? "a";
    return rawForm(`${asText(fields)}&${encodeURIComponent(name)}=%ED%A0%80x%ED%B0%80&%FF=%C0%80`);
  },
  "halves of signs in parts": ({ fields }, chance) =>
    parts(
      Buffer.concat([
        ...fields.map(([name, value]) =>
          partOf(name, Buffer.concat([Buffer.from(value), chance.below(2) === 0 ? Buffer.of(0xed, 0xa0, 0x80) : Buffer.alloc(0)])),
        ),
        Buffer.from(`--${MARK}--\r\n`),
      ]),
    ),
  "marks of per cent": ({ fields }, chance) =>
    rawForm(spoiledText(asText(fields), chance, 100).replace(/%2F/gi, () => chance.one(["%", "%zz", "%2", "%u002f", "%%32%66"]))),
  "ten thousand fields": ({ fields }, chance) =>
    rawForm(
      `${asText(fields)}${Array.from({ length: 10_000 }, (_, place) => `&${chance.below(2) === 0 ? "a" : `/sets/0/a${place}.text`}=${place}`).join("")}`,
    ),
  "one name ten thousand times": ({ fields }, chance) =>
    rawForm(`${asText(fields)}${`&${encodeURIComponent(chance.one(fields)?.[0] ?? "a")}=1`.repeat(10_000)}`),
  "names of the machine's own": ({ fields }, chance) =>
    form([...fields, ...NAMES.map((name) => [name, nastyText(chance, 30)] as const)].sort(() => chance.below(3) - 1)),
  "strange names": ({ fields }, chance) =>
    form([...fields.map(([name, value]) => [chance.below(4) === 0 ? nastyText(chance, 60) : name, value] as const)]),
  "names with another place": ({ fields }, chance) =>
    form(fields.map(([name, value]) => [name.replace(/\d+/, () => chance.one(NUMBERS).slice(0, 20)), value])),
  "numbers that cannot be": ({ fields }, chance) =>
    form(fields.map(([name, value]) => [name, isNumber(value) ? chance.one(NUMBERS) : value])),
  "numbers a little off": ({ fields }, chance) =>
    form(fields.map(([name, value]) => [name, isNumber(value) ? String(Number(value) + chance.below(3) - 1) : value])),
  "another id in the form": ({ fields }, chance, { ids }) =>
    form(fields.map(([name, value]) => [name, /[0-9a-f-]{36}/.test(value) ? chance.one(ids) : value])),
  "another id in the address": ({ path, fields }, chance, { ids }) => form(fields, { path: otherPath(path, chance, ids) }),
  "fields of another page": ({ fields }, chance, { targets }) =>
    form(withToken(chance.one(targets).fields, fields.find(([name]) => name === "token")?.[1] ?? null)),
  "fields of two pages": ({ fields }, chance, { targets }) => form([...fields, ...chance.one(targets).fields]),
  "JSON for a form": ({ fields }, chance) => ({
    type: chance.one(["application/json", URLENCODED, "text/plain"]),
    body: Buffer.from(JSON.stringify(Object.fromEntries(fields))),
  }),
  "another type": ({ fields }, chance) =>
    form(fields, {
      type: chance.one([
        "text/plain",
        "text/html",
        "multipart/form-data",
        "application/xml",
        "image/png",
        `${URLENCODED}; charset=utf-7`,
        "x".repeat(4_000),
        "multipart/form-data; boundary=",
        "/",
        "",
      ]),
    }),
  "nothing at all": () => rawForm(""),
  "any bytes": (_, chance) => rawForm(Buffer.from(Array.from({ length: chance.below(3_000) }, () => chance.below(256)))),
  packed: ({ fields }, chance) => {
    const [name, pack] = chance.one([
      ["gzip", gzipSync],
      ["deflate", deflateSync],
    ] as const);
    return rawForm(pack(asText(fields)), { more: [["content-encoding", name]] });
  },
  "packed, of much more": () => rawForm(gzipSync(Buffer.alloc(30_000_000)), { more: [["content-encoding", "gzip"]] }),
  parts: ({ fields }) => parts(multipart(fields)),
  "parts cut off": ({ fields }, chance) => {
    const whole = multipart(fields);
    return parts(whole.subarray(0, chance.below(whole.length + 1)));
  },
  "parts spoiled": ({ fields }, chance) =>
    parts(Buffer.from(spoiledBytes(multipart(fields), [Buffer.from(`--${MARK}\r\n`), Buffer.from("\r\n\r\n")], chance))),
  "parts with strange heads": ({ fields }, chance) =>
    parts(
      multipart(fields, [
        partOf(
          "file",
          Buffer.from("x"),
          chance.one([
            '; filename="',
            "; filename*=UTF-8''%ff%00",
            "\r\nContent-Type: \0",
            `\r\n${"X-A: b\r\n".repeat(2_000)}X: y`,
            '; filename="a\r\nb.json"',
            "; name=token",
          ]),
        ),
      ]),
    ),
  "files where texts are wanted": ({ fields }, chance) =>
    parts(
      multipart(
        fields.filter(([name]) => name === "token"),
        fields
          .filter(([name]) => name !== "token")
          .map(([name, value]) => partOf(name, Buffer.from(value), chance.below(2) === 0 ? '; filename="a.txt"' : "")),
      ),
    ),
  "a text where a file is wanted": ({ fields }, chance) =>
    parts(multipart([...fields.filter(([name]) => name !== "file"), ["file", nastyText(chance)]])),
  "a file": ({ fields }, chance, { files }) => fileOf(fields, chance, chance.one(files)),
  "a spoiled file": ({ fields }, chance, { files }) => fileOf(fields, chance, Buffer.from(spoiledBytes(chance.one(files), files, chance))),
  "two files": ({ fields }, chance, { files }) =>
    parts(
      multipart(
        fields.filter(([name]) => name !== "file"),
        [0, 1].map(() => partOf("file", chance.one(files), '; filename="a.pdf"\r\nContent-Type: application/pdf')),
      ),
    ),
  "longer by its own account": ({ fields }) => form(fields, { length: [["content-length", "5000"]], end: "cut" }),
  "shorter by its own account": ({ fields }, chance) =>
    form(fields, { length: [["content-length", String(chance.below(asText(fields).length + 1))]] }),
  "far too large by its own account": ({ fields }, chance) =>
    form(fields, { length: [["content-length", chance.one(["50000000", "9007199254740993", "99999999999999999999999"])]], end: "cut" }),
  "a length that is none": ({ fields }, chance) =>
    form(fields, { length: [["content-length", chance.one(["-1", "x", "1e3", "0x10", "5, 6", "+7"])]] }),
  "two lengths": ({ fields }) =>
    form(fields, {
      length: [
        ["content-length", "3"],
        ["content-length", "4"],
      ],
    }),
  "a length and chunks": ({ fields }) =>
    rawForm(
      chunked(Buffer.from(asText(fields)), (chunk) => chunk.length.toString(16)),
      { length: [["content-length", "7"], ...CHUNKED] },
    ),
  "in chunks": ({ fields }) =>
    rawForm(
      chunked(Buffer.from(asText(fields)), (chunk) => chunk.length.toString(16)),
      { length: CHUNKED },
    ),
  "in chunks, cut off": ({ fields }) =>
    rawForm(
      chunked(Buffer.from(asText(fields)), (chunk) => chunk.length.toString(16), ""),
      { length: CHUNKED, end: "cut" },
    ),
  "in chunks that lie": ({ fields }, chance) =>
    rawForm(
      chunked(Buffer.from(asText(fields)), (chunk) =>
        chance.one([(chunk.length + 7).toString(16), "0", "zz", "-1", "ffffffffffffffff", "1;x=y"]),
      ),
      { length: CHUNKED, end: "cut" },
    ),
  "in chunks, too many": ({ fields }) =>
    rawForm(
      chunked(Buffer.concat([Buffer.from(`${asText(fields)}&a=`), Buffer.alloc(3_000_000, "a")]), (chunk) => chunk.length.toString(16)),
      { length: CHUNKED },
    ),
  "broken off": ({ fields }, chance) => {
    const body = Buffer.from(asText(fields));
    return rawForm(body.subarray(0, chance.below(body.length)), {
      length: [["content-length", String(body.length)]],
      end: chance.one(["cut", "torn"]),
    });
  },
  "gone before the answer": ({ fields }) => form(fields, { end: "torn" }),
  "from elsewhere": ({ fields }, chance) =>
    form(fields, {
      more: chance.one<readonly Field[]>([
        [["origin", "https://elsewhere.example"]],
        [["origin", "null"]],
        [["origin", ""]],
        [["sec-fetch-site", "cross-site"]],
        [["origin", "x".repeat(3_000)]],
      ]),
    }),
  "strange headers": ({ fields }, chance) =>
    form(fields, {
      more: [
        [
          chance.one([
            "accept",
            "referer",
            "accept-language",
            "x-forehail-path",
            "x-action",
            "next-action",
            "rsc",
            "next-router-state-tree",
            "if-match",
            "range",
            "upgrade",
            "x-middleware-subrequest",
            "x-forwarded-host",
            "x-http-method-override",
          ]),
          chance.one(["", "*/*", "application/json", "%", "x".repeat(5_000), "\u00e9\u00ff", "http://[", "[]", "1", "0"]),
        ],
      ],
    }),
  "for a script": ({ fields }, chance) =>
    form(
      changed(fields, chance, () => nastyText(chance, 200)),
      { more: [["accept", "application/json"]] },
    ),
  "a strange query": ({ path, fields }, chance) =>
    form(fields, {
      path: `${path}?${chance.one(["said=x.y", "__proto__=1", "%", "a[b]=c", "said=%00", "x=".repeat(2_000), `said=${inPath(chance.one(NASTY_TEXTS))}`])}`,
    }),
};

const fileOf = (fields: readonly Field[], chance: Chance, content: Uint8Array): Sent => {
  const name = chance.one(["a.pdf", "visit.json", "a.png", "a.jpg", "..%2f..%2fx", "a".repeat(300), "\u202egnp.exe", ""]);
  const type = chance.one(["application/pdf", "image/png", "application/json", "", "text/html"]);
  return parts(
    multipart(
      fields.filter(([own]) => own !== "file"),
      [partOf("file", content, `; filename="${name}"\r\nContent-Type: ${type}`)],
    ),
  );
};

export const HOWS: readonly string[] = Object.keys(SPOILINGS);

/** A post to an address in one of the ways in which posts are bad. */
export const badPost = ({ route, path, fields }: Target, how: string, chance: Chance, material: Material): Post => {
  const sent = SPOILINGS[how]?.({ path, fields }, chance, material) ?? form(fields);
  const length = sent.length ?? [["content-length", String(sent.body.length)] as const];
  return {
    route,
    how,
    path: sent.path ?? path,
    headers: [["content-type", sent.type], ...length, ...(sent.more ?? [])],
    body: sent.body,
    end: sent.end ?? "whole",
  };
};
