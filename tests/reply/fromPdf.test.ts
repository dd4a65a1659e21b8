import { readFileSync } from "node:fs";
import fc from "fast-check";
import { PDFDict, PDFDocument, PDFName, PDFString } from "pdf-lib";
import { afterAll, describe, expect, test } from "vitest";
import type { Fault } from "../../lib/model/fault.ts";
import type { Reply } from "../../lib/model/reply.ts";
import { replyFromForm } from "../../lib/reply/fromForm.ts";
import { LARGEST_PDF, replyFromPdf, sizeFault } from "../../lib/reply/fromPdf.ts";
import { formReader } from "../../lib/reply/readForm.ts";
import { bundled, type FormLetter, fileOf, formLetter, formRenderer } from "../letter/forms.ts";
import { byPdfLib, byPdftk, byQpdf, changed, throughQpdf } from "./fill.ts";
import { someReply, written } from "./replies.ts";

const LIMITS = { timeout: 60_000, memory: 512 } as const;
const readForm = formReader(LIMITS, await bundled("formReader"));
const renderer = await formRenderer();
afterAll(() => renderer.close());

interface Form extends FormLetter {
  readonly pdf: Uint8Array;
}

const made = new Map<string, Promise<Form>>();
const formOf = (name: string, mark?: string): Promise<Form> => {
  const key = `${name} ${mark ?? ""}`;
  const form =
    made.get(key) ??
    formLetter(name, mark).then(async (letter) => ({ ...letter, pdf: readFileSync(await fileOf(renderer, letter.letter)) }));
  made.set(key, form);
  return form;
};

const REPLY: Reply = {
  format: "forehail reply 1",
  letter: "mixed-channels/1",
  by: { name: "Zażółć Gęślą-Jaźń", role: "chief engineer", contact: "Καπετάνιος Ωρίων, γέφυρα" },
  questions: {
    Q2: { says: "answer", value: "alarm only" },
    Q3: { says: "answer", value: "yes" },
    Q4: { says: "answer", value: { value: 8.5, unit: "mm" } },
    Q5: { says: "we will find out", by: "2026-05-28" },
    Q6: { says: "we will find out" },
    Q12: { says: "answer", value: "dry" },
    Q35: { says: "answer", value: 98 },
  },
  requests: {
    R1: { says: "yes", had: "in time", words: "z Łodzi, przez kuriera", contact: "Żaneta" },
    R2: { says: "by another date", by: "2026-06-12" },
    R5: { says: "instead", words: "η πηγή του πλοίου" },
    R9: { says: "no" },
  },
  tests: {
    T1: { says: "agreed" },
    T4: { says: "another way", words: "w łaźni olejowej" },
    T5: { says: "another way", method: "os-running-comparison" },
  },
  remarks: "Maszynownia gorąca; ευχαριστώ.",
};

const PROGRAMS: readonly (readonly [string, (pdf: Uint8Array, values: ReadonlyMap<string, string>) => Uint8Array | Promise<Uint8Array>])[] =
  [
    ["pdf-lib", byPdfLib],
    ["pdftk", byPdftk],
    ["qpdf", byQpdf],
  ];

describe.each(PROGRAMS)("filled in by %s", (_, fill) => {
  test("Polish and Greek, choices, numbers and days become the reply that was meant", async () => {
    const form = await formOf("mixed-channels");
    const method = form.asked.tests.find(({ ref }) => ref === "T5")?.others[0]?.value ?? "";
    const [first, second] = form.asked.known.filter(({ choices }) => choices.length > 2);
    const [number] = form.asked.known.filter(({ unit }) => unit === "kW");
    const corrections = {
      [first?.ref ?? ""]: first?.choices[1]?.value ?? "",
      [second?.ref ?? ""]: "not known",
      [number?.ref ?? ""]: { value: 0.8, unit: "MW" },
    };
    const reply: Reply = { ...REPLY, tests: { ...REPLY.tests, T5: { says: "another way", method } }, corrections };
    const filled = await fill(form.pdf, written(reply, form.asked));
    expect(await replyFromPdf(filled, form, readForm, { specAt: form.specAt })).toEqual({ ok: true, value: reply });
  });

  test.each(["modern-electronic", "shaft-generator"])("replies drawn at random to %s are read back equal", async (name) => {
    const form = await formOf(name);
    await fc.assert(
      fc.asyncProperty(someReply(form.asked, form.mark, form.specAt), async (reply) => {
        const filled = await fill(form.pdf, written(reply, form.asked));
        expect(await replyFromPdf(filled, form, readForm, { specAt: form.specAt })).toEqual({ ok: true, value: reply });
      }),
      { numRuns: 3, seed: 20261126 },
    );
  });
});

test.each(["mixed-channels", "modern-electronic", "passenger-ship", "steam-turbines"])(
  "%s: what is written into the fields is the reply that was meant, for many replies",
  async (name) => {
    const { asked, mark, specAt, letter } = await formLetter(name);
    // What the empty form holds: the fields that are kept.
    const kept = letter.blocks.flatMap((block) =>
      block.kind === "formMark" ? block.kept.map(({ name: own, value }) => [own, value] as const) : [],
    );
    const empty = letter.blocks
      .flatMap((block) => (block.kind === "form" ? block.rows.flatMap(({ lines }) => lines.flat()) : []))
      .flatMap((field) => (field === null ? [] : [[field.name, ""] as const]));
    fc.assert(
      fc.property(someReply(asked, mark, specAt), (reply) => {
        const fields = new Map([...kept, ...empty, ...written(reply, asked)]);
        expect(replyFromForm(fields, { asked, mark }, { specAt })).toEqual({ ok: true, value: reply });
      }),
      { numRuns: 150 },
    );
  },
);

const faultsOf = async (
  pdf: Uint8Array,
  more: { readonly mark?: string; readonly earlier?: readonly string[]; readonly later?: readonly string[]; readonly today?: string } = {},
): Promise<readonly Fault[]> => {
  const { asked, mark, specAt } = await formOf("mixed-channels");
  const { today, ...letter } = more;
  const read = await replyFromPdf(pdf, { asked, mark, ...letter }, readForm, { specAt, ...(today === undefined ? {} : { today }) });
  if (read.ok) throw new Error("it was taken");
  return read.faults;
};

const NAMED = new Map([["by.name", "A. Brandvold"]]);

describe("a file that is not the form as it was sent", () => {
  test("200 MB are refused by their length; a file over the limit is not even looked at", async () => {
    const { asked, mark } = await formOf("mixed-channels");
    expect(sizeFault(200_000_000)).toEqual({ at: "", given: "a file of 200 MB", wanted: "a filled form of at most 40 MB" });
    expect(sizeFault(LARGEST_PDF)).toBeNull();
    const never = () => Promise.reject(new Error("it was read"));
    expect(await replyFromPdf(new Uint8Array(LARGEST_PDF + 1), { asked, mark }, never)).toMatchObject({
      ok: false,
      faults: [{ given: "a file of 40.1 MB" }],
    });
    expect(await replyFromPdf(new Uint8Array(1001), { asked, mark }, never, { most: 1000 })).toMatchObject({ ok: false });
  });

  test.each([
    ["nothing", new Uint8Array()],
    ["a picture", Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)],
    ["text", new TextEncoder().encode("Q3: dry\n".repeat(1000))],
  ])("%s is no PDF", async (_, bytes) => {
    expect(await faultsOf(bytes)).toMatchObject([{ at: "", given: "a file that is no PDF" }]);
  });

  test("one that needs a password is told so; one that anybody may open is read", async () => {
    const filled = await byPdfLib((await formOf("mixed-channels")).pdf, NAMED);
    const locked = throughQpdf(filled, "--encrypt", "secret", "owner", "256");
    expect(await faultsOf(locked)).toMatchObject([{ at: "", given: "a PDF file that is protected by a password" }]);
    const { asked, mark } = await formOf("mixed-channels");
    const open = throughQpdf(filled, "--encrypt", "", "owner", "256", "--modify=form");
    expect(await replyFromPdf(open, { asked, mark }, readForm)).toMatchObject({ ok: true, value: { by: { name: "A. Brandvold" } } });
  });

  test("an XFA form is told so", async () => {
    const { pdf } = await formOf("mixed-channels");
    const xfa = await changed(pdf, (document) => {
      const stream = document.context.register(document.context.stream("<xdp:xdp xmlns:xdp='http://ns.adobe.com/xdp/'></xdp:xdp>"));
      document.catalog
        .lookup(PDFName.of("AcroForm"), PDFDict)
        .set(PDFName.of("XFA"), document.context.obj([PDFString.of("template"), stream]));
    });
    expect(await faultsOf(xfa)).toMatchObject([{ at: "", given: "a PDF file with an XFA form" }]);
  });

  test("a flattened form, a letter without one and a form of others are told so", async () => {
    const { pdf, letter } = await formOf("mixed-channels");
    const none = "a PDF file without a form: not our letter, or printed, scanned or flattened";
    expect(await faultsOf(byPdftk(pdf, NAMED, "flatten"))).toMatchObject([{ at: "", given: none }]);
    const plain = await renderer.render({ ...letter, blocks: letter.blocks.slice(0, 3) });
    expect(plain.ok && (await faultsOf(plain.value))).toMatchObject([{ at: "", given: none }]);
    const document = await PDFDocument.create();
    document.getForm().createTextField("name").addToPage(document.addPage());
    expect(await faultsOf(await document.save())).toMatchObject([{ at: "", given: "a form that is not of our letters" }]);
  });

  test("a form of another visit and one of an older letter are told apart", async () => {
    const { pdf } = await formOf("old-mechanical");
    expect(await faultsOf(pdf)).toEqual([
      {
        at: "",
        given: "the form of another visit",
        wanted: "the form of this letter, with the mark mixed-channels/1 at its end",
      },
    ]);
    const own = (await formOf("mixed-channels")).pdf;
    expect(await faultsOf(own, { mark: "mixed-channels/2", earlier: ["mixed-channels/1"] })).toMatchObject([
      { at: "", given: "the form of an older letter of this visit; its mark is mixed-channels/1" },
    ]);
    expect(await faultsOf(own, { mark: "mixed-channels/0", later: ["mixed-channels/1"] })).toMatchObject([
      { given: "the form of a later letter of this visit; its mark is mixed-channels/1" },
    ]);
  });

  test("fields taken away or added are told by their reference", async () => {
    const { pdf } = await formOf("mixed-channels");
    const less = await changed(pdf, (document) => {
      const form = document.getForm();
      form.removeField(form.getField("q.Q3.answer"));
    });
    expect(await faultsOf(less)).toMatchObject([{ at: "Q3", given: "an altered form, in which a field is missing: “the answer”" }]);
    const more = await changed(pdf, (document) => {
      const field = document.getForm().createTextField("q.Q99.answer");
      field.addToPage(document.getPage(0));
    });
    expect(await faultsOf(more)).toMatchObject([{ at: "Q99", given: "an altered form, to which a field was added: “q.Q99.answer”" }]);
  });

  test("a form that asked something else, and one whose kept values were changed, are altered", async () => {
    const { pdf, asked, mark } = await formOf("mixed-channels");
    const [first, ...rest] = asked.questions;
    if (first === undefined) throw new Error("nothing is asked");
    const other = { ...asked, questions: [{ ...first, text: "Something else?" }, ...rest] };
    expect(await replyFromPdf(pdf, { asked: other, mark }, readForm)).toMatchObject({
      ok: false,
      faults: [{ at: "", given: expect.stringContaining("altered") }],
    });
    const set = (name: string, value: string): Promise<Uint8Array> =>
      changed(pdf, (document) => document.getForm().getTextField(name).setText(value));
    expect(await faultsOf(await set("form.digest", "0123456789abcdef"))).toMatchObject([{ given: expect.stringContaining("altered") }]);
    expect(await faultsOf(await set("form.letter", "X/9"))).toMatchObject([{ given: "the form of another visit" }]);
    expect(await faultsOf(await set("form.format", "forehail form 2"))).toMatchObject([{ given: "a form of the kind “forehail form 2”" }]);
  });

  test("one that is cut off or garbled is told and never hangs", async () => {
    const { pdf } = await formOf("old-mechanical");
    for (const part of [0.02, 0.3, 0.6, 0.95])
      expect((await faultsOf(pdf.slice(0, Math.floor(pdf.length * part)))).length, String(part)).toBeGreaterThan(0);
    const noise = fc.sample(fc.uint8Array({ minLength: 2000, maxLength: 2000 }), { numRuns: 4, seed: 7 });
    for (const bytes of noise) expect((await faultsOf(Buffer.concat([Buffer.from("%PDF-1.7\n"), bytes]))).length).toBe(1);
  });

  test("a reader that never ends, or fails, is given up", async () => {
    const { asked, mark } = await formOf("mixed-channels");
    const worker = (code: string): URL => new URL(`data:text/javascript,${encodeURIComponent(code)}`);
    const bytes = new TextEncoder().encode("%PDF-1.7");
    for (const code of ["for (;;);", "throw new Error('x')", "process.exit(0)"]) {
      const read = await replyFromPdf(bytes, { asked, mark }, formReader({ timeout: 1500, memory: 64 }, worker(code)));
      expect(read).toMatchObject({
        ok: false,
        faults: [{ at: "", given: "a PDF file that cannot be read in the time and memory it is given" }],
      });
    }
  });

  test("the reader is found beside the sources too", async () => {
    const { pdf } = await formOf("old-mechanical");
    expect((await formReader(LIMITS)(pdf)).found).toBe("fields");
  });
});

describe("what is filled in", () => {
  const filledWith = async (values: Readonly<Record<string, string>>): Promise<Uint8Array> => {
    const { pdf } = await formOf("mixed-channels");
    return byQpdf(pdf, new Map([...NAMED, ...Object.entries(values)]));
  };
  const taken = async (values: Readonly<Record<string, string>>): Promise<unknown> => {
    const { asked, mark, specAt } = await formOf("mixed-channels");
    const read = await replyFromPdf(await filledWith(values), { asked, mark }, readForm, { specAt });
    return read.ok ? { ...read.value.questions, ...read.value.requests, ...read.value.tests } : read.faults;
  };

  test("half-filled counts as far as it goes; blanks are no answers", async () => {
    expect(await taken({ "q.Q3.answer": "Yes", "q.Q4.answer": "  ", "r.R2.says": " ", "t.T1.says": " " })).toEqual({
      Q3: { says: "answer", value: "yes" },
    });
  });

  test("numbers are read as people write them, days too, and who says how says yes", async () => {
    expect(
      await taken({
        "q.Q4.answer": "8,5",
        "q.Q14.answer": "1,2 in",
        "q.Q35.answer": "208 °F",
        "q.Q15.by": "24.03.2026",
        "q.Q26.answer": "not known",
        "r.R1.had": "Aboard, and in date on the day",
        "r.R3.says": "yes",
      }),
    ).toEqual({
      Q4: { says: "answer", value: 8.5 },
      Q14: { says: "answer", value: { value: 1.2, unit: "in" } },
      Q35: { says: "answer", value: { value: 208, unit: "°F" } },
      Q15: { says: "we will find out", by: "2026-03-24" },
      Q26: { says: "we will find out" },
      R1: { says: "yes", had: "aboard" },
      R3: { says: "yes" },
    });
  });

  test("all faults come at once, by their references, with what was given and what is wanted; nothing is taken", async () => {
    const faults = (await taken({
      "q.Q3.answer": "Perhaps",
      "q.Q4.answer": "thick",
      "q.Q5.by": "3/4/2026",
      "q.Q14.answer": "8 bar",
      "q.Q35.answer": "9000",
      "q.Q12.answer": "Dry",
      "q.Q12.by": "2026-05-28",
      "q.Q6.answer": "Yes",
      "r.R1.says": "Maybe",
      "r.R2.says": "By another date",
      "r.R3.says": "Instead we propose",
      "r.R4.contact": "the agent",
      "r.R6.says": "No",
      "r.R6.had": "Aboard, and in date on the day",
      "r.R7.by": "30 February 2026",
      "t.T1.says": "We propose another way",
      "t.T2.words": "by hand",
      "t.T3.says": "Fine",
    })) as readonly Fault[];
    expect(faults.map(({ at }) => at).sort()).toEqual([
      "Q12",
      "Q14",
      "Q3",
      "Q35",
      "Q4",
      "Q5",
      "R1",
      "R2",
      "R3",
      "R4",
      "R6",
      "R7",
      "T1",
      "T2",
      "T3",
    ]);
    const { asked } = await formOf("mixed-channels");
    const [choice, number] = [asked.known.find(({ choices }) => choices.length > 0), asked.known.find(({ unit }) => unit === "kW")];
    const wrong = await taken({ [`k.${choice?.ref}.is`]: "Perhaps", [`k.${number?.ref}.is`]: "8 bar" });
    expect(wrong).toEqual([
      { at: choice?.ref, given: "“Perhaps”", wanted: `${choice?.choices.map(({ label }) => label).join(" / ")} / not known` },
      { at: number?.ref, given: "“8 bar”", wanted: expect.stringContaining("kW, MW, hp") },
    ]);
    expect(faults.find(({ at }) => at === "Q3")).toEqual({ at: "Q3", given: "“Perhaps”", wanted: "Yes / No / not known" });
    expect(faults.find(({ at }) => at === "Q35")?.wanted).toMatch(/^a number from .* °C$/);
    expect(faults.find(({ at }) => at === "Q14")?.wanted).toContain("mm, in");
    expect(faults.find(({ at }) => at === "Q5")?.wanted).toContain("cannot be told apart");
  });

  test("a day that has passed, nobody's name, words too long or hidden signs are told", async () => {
    expect(await faultsOf(await filledWith({ "q.Q5.by": "2026-05-01" }), { today: "2026-05-20" })).toEqual([
      { at: "Q5", given: "“2026-05-01”", wanted: "a day from 2026-05-20 on" },
    ]);
    const { pdf, asked, mark } = await formOf("mixed-channels");
    expect(await faultsOf(pdf)).toEqual([{ at: "by", given: "nothing", wanted: "the name of who answers" }]);
    expect(await replyFromPdf(pdf, { asked, mark }, readForm, { by: { name: "On behalf" } })).toMatchObject({
      ok: true,
      value: { by: { name: "On behalf" }, questions: {} },
    });
    expect(await taken({ "r.R2.says": "No", "r.R2.words": "x".repeat(601) })).toMatchObject([{ at: "R2" }]);
    expect(await taken({ "t.T1.says": "Agreed", "t.T1.words": "a\u202eb" })).toMatchObject([{ at: "T1", given: "“a?b”" }]);
    expect(await taken({ remarks: "船" })).toMatchObject([{ at: "remarks" }]);
  });
});
