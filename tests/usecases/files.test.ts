import { createHash } from "node:crypto";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { World } from "../../lib/kernel/ports.ts";
import type { SentLetter } from "../../lib/store/exchanges.ts";
import { openStore } from "../../lib/store/open.ts";
import type { Store } from "../../lib/store/store.ts";
import { addFile, downloadName, dropFile, fileToTake, type GivenFile, shownName, WHAT_FILES } from "../../lib/usecases/exchange/files.ts";
import { BASELINE, chunk, joined, PNG, zipOf } from "../reply/uploads.ts";
import { by, FRAME } from "../store/engines.ts";

let made = 0;
const world: World = {
  now: () => by("").when,
  newId: () => {
    made += 1;
    return `id${String(made).padStart(4, "0")}`;
  },
};
let store: Store;
beforeAll(async () => {
  const opened = await openStore(":memory:");
  if (!opened.ok) throw new Error(opened.faults.join());
  store = opened.value;
});
afterAll(() => store.close());

/** A letter of a visit of its own that went out. */
const letterOut = async (number = 2): Promise<SentLetter> => {
  const visit = world.newId();
  await store.createVisit(visit, "anna", FRAME, [], by("anna"));
  const [id, paper] = [world.newId(), world.newId()];
  const sent: SentLetter = {
    id,
    visit,
    kind: "letter",
    number,
    made: paper,
    mark: id,
    replyBy: "2026-03-09",
    to: [],
    asked: {},
    ...by("anna"),
  };
  const letter = { id: paper, visit, version: 1, rulebook: "-", file: "{}", plan: "{}", pdf: Uint8Array.of(1), ...by("anna") };
  expect((await store.keepSent({ sent, made: letter, links: [], frame: FRAME, seen: 99 })).ok).toBe(true);
  return sent;
};

const chief = by("chief", 5);
const office = () => ({ store, world });
const photo = (more: Partial<GivenFile> = {}): GivenFile => ({ what: "photograph", name: "IMG_1.jpg", content: BASELINE, ...more });
/** A picture of so many bytes, unlike any other. */
const large = (size: number, mark: number): Uint8Array =>
  joined(PNG.subarray(0, 33), chunk("teSt", new Uint8Array(size - PNG.length - 12).fill(mark)), PNG.subarray(33));

describe("a file that comes with a reply", () => {
  test("is kept as what it is by its content, with who, when, and the digest of what it holds", async () => {
    const sent = await letterOut();
    const kept = await addFile(office(), sent, photo({ type: "image/jpeg" }), chief);
    const digest = createHash("sha256").update(BASELINE).digest("hex");
    const facts = { sent: sent.id, what: "photograph", name: "IMG_1.jpg", type: "image/jpeg", size: BASELINE.length, digest, ...chief };
    expect(kept).toMatchObject({ ok: true, value: facts });
    expect(await store.attachmentsOf(sent.id)).toEqual(kept.ok ? [kept.value] : []);
    const taken = kept.ok ? await fileToTake(store, sent.visit, kept.value.id) : null;
    expect(taken).toEqual({ name: "letter-2-photograph-1.jpg", type: "image/jpeg", content: BASELINE });
  });

  test("that comes once more is the same, whatever it is called then and whoever sends it, also at once", async () => {
    const sent = await letterOut();
    const first = await addFile(office(), sent, photo(), chief);
    const again = [photo({ name: "copy.jpg", what: "certificate" }), photo()].map((file) => addFile(office(), sent, file, by("super", 9)));
    expect(await Promise.all(again)).toEqual([first, first]);
    expect(await store.attachmentsOf(sent.id)).toHaveLength(1);
    // In the reply to another letter it is another.
    const other = await addFile(office(), await letterOut(), photo(), chief);
    expect(other.ok && first.ok && other.value.id !== first.value.id).toBe(true);
  });

  test("is refused with what is wrong, and not kept: of another kind, said to be nothing that is on the list", async () => {
    const sent = await letterOut();
    const faults = async (file: GivenFile) => {
      const kept = await addFile(office(), sent, file, chief);
      return kept.ok ? [] : kept.faults;
    };
    expect(await faults(photo({ content: zipOf(["a"]) }))).toMatchObject([{ given: "an archive (ZIP)" }]);
    expect(await faults(photo({ content: new Uint8Array(10_000_001) }))).toMatchObject([{ given: "a file of 10.1 MB" }]);
    expect(await faults(photo({ name: "scan.pdf" }))).toMatchObject([{ given: "a JPEG picture that is said to be a PDF file" }]);
    expect(await faults(photo({ what: "<b>" }))).toEqual([
      {
        at: "",
        given: "a file that is said to be “<b>”",
        wanted: "one of: test procedure, certificate, last record, photograph, something else",
      },
    ]);
    expect(await faults(photo({ what: "__proto__" }))).toHaveLength(1);
    expect(await store.attachmentsOf(sent.id)).toEqual([]);
  });

  test("is refused where all files would have more than 40 MB together; one that fits is taken, and room made is room again", async () => {
    const sent = await letterOut();
    for (const mark of [1, 2, 3])
      expect((await addFile(office(), sent, photo({ name: "", content: large(10_000_000, mark) }), chief)).ok).toBe(true);
    const fourth = await addFile(office(), sent, photo({ name: "", content: large(9_999_000, 4) }), chief);
    expect(fourth.ok).toBe(true);
    const one = photo({ name: "", content: large(1_001, 5) });
    const told = { given: "a file of 0.1 MB with 40 MB of files there already", wanted: "at most 40 MB together" };
    expect(await addFile(office(), sent, one, chief)).toEqual({ ok: false, faults: [{ at: "", ...told }] });
    expect((await addFile(office(), sent, photo({ name: "", content: large(1_000, 5) }), chief)).ok).toBe(true);
    if (fourth.ok) expect(await dropFile(office(), sent, fourth.value.id)).toEqual({ ok: true, value: true });
    expect((await addFile(office(), sent, one, chief)).ok).toBe(true);
  });

  test("neither comes nor goes once the reply is confirmed, and that is told", async () => {
    const sent = await letterOut();
    const kept = await addFile(office(), sent, photo(), chief);
    await store.confirmReply(sent.id, {}, chief);
    const wanted = "none more: the reply was confirmed and sent already";
    expect(await addFile(office(), sent, photo({ name: "a.png", content: PNG }), chief)).toEqual({
      ok: false,
      faults: [{ at: "", given: "a file", wanted }],
    });
    const id = kept.ok ? kept.value.id : "";
    expect(await dropFile(office(), sent, id)).toEqual({ ok: false, faults: [{ at: "", given: "a file to be taken away", wanted }] });
    expect((await store.attachmentsOf(sent.id)).map((file) => file.id)).toEqual([id]);
  });

  test("is given out to its own visit only, numbered by its place among the letter's files", async () => {
    const [sent, other] = [await letterOut(), await letterOut()];
    const files = [photo(), photo({ name: "x.png", content: PNG, what: "test procedure" })];
    const ids: string[] = [];
    for (const [minute, file] of files.entries()) {
      const kept = await addFile(office(), sent, file, by("chief", 10 + minute));
      if (kept.ok) ids.push(kept.value.id);
    }
    const names = await Promise.all(ids.map(async (id) => (await fileToTake(store, sent.visit, id))?.name));
    expect(names).toEqual(["letter-2-photograph-1.jpg", "letter-2-test-procedure-2.png"]);
    expect(await fileToTake(store, other.visit, ids[0] ?? "")).toBeNull();
    expect(await fileToTake(store, sent.visit, "none")).toBeNull();
  });
});

test("the name of a download is ours, whatever the file is", () => {
  expect(downloadName(2, { what: "test procedure", type: "application/pdf" }, 1)).toBe("letter-2-test-procedure-1.pdf");
  for (const what of WHAT_FILES)
    for (const type of ["application/pdf", "image/jpeg", "image/png"])
      expect(downloadName(1, { what, type }, 3)).toMatch(/^letter-1-[a-z-]+-3\.(?:pdf|jpg|png)$/);
  expect(downloadName(1, { what: 'x"\r\ny: z', type: "text/html" }, 1)).toBe("letter-1-x-y-z-1.bin");
});

describe("a name as it is shown", () => {
  test.each([
    ["Zażółć – próba nr 3.pdf", "Zażółć – próba nr 3.pdf"],
    ["C:\\Users\\Chief\\scan.pdf", "scan.pdf"],
    ["../../etc/passwd", "passwd"],
    ["two\r\nlines\tand\u2028more.pdf", "two lines and more.pdf"],
    ["invoice\u202efdp.exe", "invoicefdp.exe"],
    ["\u200bhid\u00adden\ufeff.pdf", "hidden.pdf"],
    ["half \ud83d a sign", "half a sign"],
    ["", "without a name"],
    [" \u0000 ", "without a name"],
    [`${"long ".repeat(40)}.pdf`, `${"long ".repeat(40).slice(0, 115)}….pdf`],
    ["😀".repeat(100), `${"😀".repeat(59)}…`],
  ])("%j", (given, shown) => {
    expect(shownName(given)).toBe(shown);
  });

  test("is one line of at most 120 characters with nothing hidden in it, whatever is given", () => {
    const sign = fc.oneof(fc.integer({ min: 0, max: 0x2fff }), fc.integer({ min: 0, max: 0x10ffff }));
    const anything = fc.array(sign, { maxLength: 300 }).map((signs) => String.fromCodePoint(...signs));
    fc.assert(
      fc.property(anything, fc.constantFrom("", "\u202e", "\r\n", "\ud800"), (name, more) => {
        const shown = shownName(`${more}${name}${more}`);
        expect(shown.length).toBeGreaterThan(0);
        expect(shown.length).toBeLessThanOrEqual(120);
        expect(shown).not.toMatch(/[\p{C}\p{Zl}\p{Zp}/\\]|^\s|\s$/u);
      }),
    );
  });
});
