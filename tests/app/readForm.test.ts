import fc from "fast-check";
import { defaultConfig } from "next/dist/server/config-shared.js";
import { describe, expect, test } from "vitest";
import { LARGEST_UPLOAD_FORM, readBody, tellsTooMuch } from "../../app/_server/readForm.ts";
import { LARGEST_UPLOAD } from "../../lib/reply/fileKind.ts";

const MOST = 1000;

interface Sending {
  readonly type?: string;
  /** As it is told, right or wrong. */
  readonly length?: string;
}

const requestOf = (
  body: ReadableStream<Uint8Array> | null,
  { type = "application/x-www-form-urlencoded", length }: Sending = {},
): Request =>
  new Request("http://localhost/reply", {
    method: "POST",
    headers: { "content-type": type, ...(length === undefined ? {} : { "content-length": length }) },
    body,
    duplex: "half",
  } as RequestInit);

/** A body that comes in parts; `asked` counts how many were called for, `ended` whether it was told to stop. */
const inParts = (parts: Iterable<Uint8Array>) => {
  const [seen, iterator] = [{ asked: 0, ended: false }, parts[Symbol.iterator]()];
  const body = new ReadableStream<Uint8Array>(
    {
      pull: (out) => {
        const next = iterator.next();
        seen.asked += 1;
        if (next.done === true) out.close();
        else out.enqueue(next.value);
      },
      cancel: () => {
        seen.ended = true;
      },
    },
    { highWaterMark: 0 },
  );
  return { body, seen };
};

const encoded = (text: string): Uint8Array => new TextEncoder().encode(text);
const endless = function* (part: Uint8Array): Generator<Uint8Array> {
  for (;;) yield part;
};

const TOO_LARGE = { ok: false, faults: [{ status: 413, words: "this is too large: at most 0.1 MB can be sent at once" }] };

describe("a form", () => {
  test("with a file is read as it was sent, however it is parted on its way", async () => {
    const file = Uint8Array.from({ length: 600 }, (_, at) => at % 256);
    const form = new FormData();
    form.set("what", "certificate");
    form.set("file", new File([file], "Zażółć.pdf", { type: "application/pdf" }));
    const whole = new Response(form);
    const [type, bytes] = [whole.headers.get("content-type") ?? "", new Uint8Array(await whole.arrayBuffer())];
    await fc.assert(
      fc.asyncProperty(fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 1, maxLength: 20 }), async (sizes) => {
        const parts: Uint8Array[] = [];
        for (let at = 0; at < bytes.length; at += parts.at(-1)?.length ?? 1)
          parts.push(bytes.slice(at, at + (sizes[parts.length % sizes.length] ?? 1)));
        const read = await readBody(requestOf(inParts(parts).body, { type }), bytes.length);
        if (!read.ok) throw new Error(read.faults[0]?.words);
        expect(read.value.get("what")).toBe("certificate");
        const got = read.value.get("file");
        if (!(got instanceof File)) throw new Error("no file");
        expect([got.name, got.type, new Uint8Array(await got.arrayBuffer())]).toEqual(["Zażółć.pdf", "application/pdf", file]);
      }),
      { numRuns: 20 },
    );
    expect(await readBody(requestOf(inParts([bytes]).body, { type }), bytes.length - 1)).toMatchObject({
      ok: false,
      faults: [{ status: 413 }],
    });
  });

  test("that tells to be too large is refused before any of it is read", async () => {
    const { body, seen } = inParts(endless(encoded("a=b&")));
    expect(await readBody(requestOf(body, { length: "1001" }), MOST)).toEqual(TOO_LARGE);
    expect(seen.asked).toBe(0);
  });

  test.each([undefined, "5", "-1", "none"])(
    "that tells %s and does not end is read no further than the most, and told to stop",
    async (length) => {
      const { body, seen } = inParts(endless(encoded("a".repeat(100))));
      expect(await readBody(requestOf(body, length === undefined ? {} : { length }), MOST)).toEqual(TOO_LARGE);
      expect(seen).toEqual({ asked: 11, ended: true });
    },
  );

  test("of just the most is read", async () => {
    const read = await readBody(requestOf(inParts([encoded("a="), encoded("b".repeat(MOST - 2))]).body), MOST);
    expect(read.ok && read.value.get("a")).toBe("b".repeat(MOST - 2));
  });

  test("that breaks off, is cut off or is none is told so", async () => {
    const broken = new ReadableStream<Uint8Array>({ pull: (out) => out.error(new Error("gone")) });
    expect(await readBody(requestOf(broken), MOST)).toMatchObject({
      faults: [{ status: 400, words: "this broke off on its way; send it once more" }],
    });
    const none = { ok: false, faults: [{ status: 400, words: "this is no form" }] };
    expect(await readBody(requestOf(null), MOST)).toEqual(none);
    expect(await readBody(requestOf(inParts([encoded("x")]).body, { type: "text/plain" }), MOST)).toEqual(none);
    const cut = encoded('--mark\r\ncontent-disposition: form-data; name="a"\r\n\r\nb');
    expect(await readBody(requestOf(inParts([cut]).body, { type: "multipart/form-data; boundary=mark" }), MOST)).toEqual(none);
  });
});

test("a length that is told is weighed by itself too", () => {
  const told = (length: string) => tellsTooMuch(new Headers({ "content-length": length }), MOST)?.status ?? null;
  expect([told("1000"), told("1001"), told("1e9"), told("x")]).toEqual([null, 413, 413, null]);
  expect(tellsTooMuch(new Headers(), MOST)).toBeNull();
});

test("a form with the largest file fits into what the framework hands on of a body", () => {
  expect(LARGEST_UPLOAD_FORM).toBeGreaterThan(LARGEST_UPLOAD + 100_000);
  expect(LARGEST_UPLOAD_FORM).toBeLessThan(Number(defaultConfig.experimental.proxyClientMaxBodySize));
});
