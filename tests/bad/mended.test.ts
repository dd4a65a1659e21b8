import { deflateSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { readBody } from "../../app/_server/readForm.ts";
import { strangeIn } from "../../app/_server/stepForm.ts";
import { failedBy } from "../../lib/kernel/result.ts";
import { channelsBy } from "../../lib/model/contradictions.ts";
import { readVisit, sistersIn } from "../../lib/model/read.ts";
import { isEmail } from "../../lib/model/text.ts";
import { askedOf } from "../../lib/plan/asked.ts";
import { knownOf } from "../../lib/plan/plan.ts";
import { replyFromMail } from "../../lib/reply/fromMail.ts";
import { formReader } from "../../lib/reply/readForm.ts";
import { keyOf, saysUnknown } from "../../lib/reply/values.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { openStore } from "../../lib/store/open.ts";
import { alone } from "../../lib/usecases/alone.ts";
import { parseJson } from "../../lib/usecases/parseJson.ts";
import { bundled } from "../letter/forms.ts";
import { planned, visitText } from "../letter/letters.ts";

// Each of these once never ended, took all memory or threw; with what was wrong then they run into the limit of a test or throw.

const known = knownOf(rulebook);
const good = JSON.parse(visitText("old-mechanical")) as Record<string, unknown>;
const faultOf = (text: string): string => {
  const document = parseJson(text, "a visit file");
  return document.ok ? "" : `${document.faults[0]?.given}; wanted ${document.faults[0]?.wanted}`;
};
const list = (count: number, of: (place: number) => unknown): readonly unknown[] => Array.from({ length: count }, (_, place) => of(place));
const keys = (count: number): object => Object.fromEntries(list(count, (place) => [`k${place}`, 0]) as readonly [string, number][]);

describe("a JSON text", () => {
  test("of a megabyte of marks in a text that does not end is told at once", () => {
    expect(faultOf(`"${'\\"'.repeat(1_000_000)}`)).toMatch(/^text that is not JSON/);
  });

  test("with more entries in a list or an object than any of ours is not read", () => {
    expect(faultOf(JSON.stringify(list(5_001, () => 0)))).toMatch(/^a list or an object of more than 5000 entries/);
    expect(faultOf(JSON.stringify(keys(5_001)))).toMatch(/^a list or an object of more than 5000 entries/);
    expect(faultOf(JSON.stringify(list(5_000, () => 0)))).toBe("");
  });

  test("with more values than any of ours is not read", () => {
    expect(faultOf(JSON.stringify(list(60, () => list(2_000, () => 0))))).toMatch(/^more than 100000 values/);
  });

  test("nested deep within texts only is read", () => {
    expect(faultOf(JSON.stringify({ a: "[".repeat(100_000) }))).toBe("");
    expect(faultOf("[".repeat(100_000))).toMatch(/^JSON nested too deep/);
  });
});

describe("a visit file", () => {
  const faultsIn = (document: unknown): readonly { readonly at: string; readonly given: string }[] => {
    const read = readVisit(document, rulebook.facts, known);
    return read.ok ? [] : read.faults;
  };

  test("of more faults than a function can be called with tells them", () => {
    expect(failedBy(list(300_000, String)).ok).toBe(false);
    const faults = faultsIn({ ...good, ...keys(140_000) });
    expect(faults).toHaveLength(140_000);
  });

  test("of more sets than there can be is not laid out", () => {
    expect(sistersIn({ sets: list(61, () => ({})) })).toEqual([]);
    expect(faultsIn({ ...good, sets: list(5_000, (place) => ({ name: `${place}` })) }).map(({ at }) => at)).toContain("/sets");
  });

  test("whose letters of sister sets are none is refused by their places", () => {
    const sets = (good["sets"] as readonly object[]).map((set) => ({ ...set, sisters: { toString: 1 } }));
    expect(faultsIn({ ...good, sets })[0]?.at).toBe("/sets/0/sisters");
  });

  test("that sets aside what is no answer is refused", () => {
    expect(faultsIn({ ...good, setAside: { "/sets/0/governor": { toString: 1 } } })[0]?.at).toBe("/setAside/~1sets~10~1governor");
    expect(faultsIn({ ...good, setAside: { "/sets/0/governor": "electronic" } })).toEqual([]);
  });

  test("tells what stands at a name with a stroke in it", () => {
    expect(faultsIn({ ...good, "a/b": 7 })).toEqual([expect.objectContaining({ at: "/a~1b", given: "7" })]);
  });

  test("deviations are looked up among references once", () => {
    const channels = ["/sets/0/overspeed", "/sets/0/handStop"];
    const named = channelsBy([{ ref: "T7", for: "/sets/0/handStop" }], channels);
    expect([named.get("T7"), named.get("T8"), named.get("/sets/0/overspeed"), named.get("")]).toEqual([
      "/sets/0/handStop",
      "/sets/0/overspeed",
      "/sets/0/overspeed",
      undefined,
    ]);
  });
});

describe("what is written", () => {
  test("with a long run of marks within it is compared at once", () => {
    expect(keyOf(`a${'"'.repeat(1_000_000)}a`)).toHaveLength(1_000_002);
    expect(keyOf(" “Dry.” ")).toBe("dry");
    expect(saysUnknown(`${" ".repeat(500_000)}x`)).toBe(false);
    expect(isEmail(`a@${".".repeat(1_000_000)}@`)).toBe(false);
    expect(isEmail("mara@office.example")).toBe(true);
  });

  test("in a mail in thousands of ways for one request is told short", async () => {
    const { plan, read } = await planned(visitText("mixed-channels"));
    const asked = askedOf(plan, rulebook, new Set(), { read, units: "metric" });
    const text = Array.from({ length: 1_500 }, (_, place) => `R1: yes, way ${place}`).join("\n");
    const reply = replyFromMail(text, { mark: "M/1", asked }, { name: "A. Brandvold" });
    if (!reply.ok) throw new Error(reply.faults[0]?.wanted);
    expect(reply.value.reply.requests).toEqual({});
    expect(JSON.stringify(reply.value.told[0])).toContain("line 6 says “yes, way 5”, 1494 more say otherwise again");
  });

  test("in tens of thousands of fields is looked through once", () => {
    const form = new FormData();
    for (let place = 0; place < 100_000; place += 1) form.append(`/a${place}.text`, "");
    form.append("/a7.seen", "3");
    expect(strangeIn(form, [])).toHaveLength(99_999);
  });
});

/** A PDF file whose catalogue lies packed, and unpacks to so many bytes. */
const bomb = (bytes: number): Uint8Array => {
  const packed = deflateSync(Buffer.alloc(bytes, " "));
  const head = Buffer.from("%PDF-1.7\n", "latin1");
  const objects = Buffer.concat([
    Buffer.from(`4 0 obj\n<</Type/ObjStm/N 3/First 20/Filter/FlateDecode/Length ${packed.length}>>stream\n`, "latin1"),
    packed,
    Buffer.from("\nendstream\nendobj\n", "latin1"),
  ]);
  const at = head.length + objects.length;
  const place = (kind: number, where: number, last: number): Buffer => {
    const row = Buffer.from([kind, 0, 0, 0, 0, last]);
    row.writeUInt32BE(where, 1);
    return row;
  };
  const rows = Buffer.concat([place(0, 0, 0), place(2, 4, 0), place(2, 4, 1), place(2, 4, 2), place(1, head.length, 0), place(1, at, 0)]);
  const list = `5 0 obj\n<</Type/XRef/Size 6/Root 1 0 R/W[1 4 1]/Length ${rows.length}>>stream\n`;
  return new Uint8Array(
    Buffer.concat([
      head,
      objects,
      Buffer.from(list, "latin1"),
      rows,
      Buffer.from(`\nendstream\nendobj\nstartxref\n${at}\n%%EOF\n`, "latin1"),
    ]),
  );
};

test("a PDF file that unpacks to more than its reader may take is given up before it has taken it", async () => {
  const readForm = formReader({ timeout: 100_000, memory: 512 }, await bundled("formReader"));
  expect(await readForm(bomb(200 * 1024 * 1024))).toEqual({ found: "too slow" });
});

test.each([
  ["a value", "a=%00"],
  ["a name", "a%00=1"],
])("a form with the sign NUL in %s is no form", async (_, body) => {
  const request = new Request("http://localhost/x", {
    method: "POST",
    headers: { "content-type": "application/x-www-form-urlencoded" },
    body,
  });
  expect(await readBody(request, 1_000)).toMatchObject({ ok: false, faults: [{ status: 400 }] });
});

test("an act that is named by a long text is done, told to a second press of its page, and kept under a short name", async () => {
  const opened = await openStore(":memory:");
  if (!opened.ok) throw new Error(opened.faults.join());
  const store = opened.value;
  const act = `remind ${"é".repeat(100_000)}`;
  const world = { store, secret: "a secret of thirty-two characters or more", clock: () => 1_772_000_000_000 };
  let done = 0;
  const once = (): Promise<string> => alone(world, act, "page", async () => `/visits?done=${++done}`);
  expect(await once()).toBe("/visits?done=1");
  expect(await once()).toBe("/visits?done=1");
  expect(await store.actUnderWay(act, world.clock())).toBeNull();
  await store.close();
});
