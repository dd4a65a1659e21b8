import fc from "fast-check";
import { type PDFDocument, PDFName, PDFString } from "pdf-lib";
import { describe, expect, test } from "vitest";
import {
  ACCEPTED_ENDINGS,
  ACCEPTED_WORDS,
  endingOfType,
  type FileKind,
  kindOfFile,
  LARGEST_TOGETHER,
  LARGEST_UPLOAD,
  typeOfKind,
} from "../../lib/reply/fileKind.ts";
import { throughQpdf } from "./fill.ts";
import { DOCX, disguised, OTHER_KINDS } from "./hostile.ts";
import { BASELINE, calledBy, chunk, joined, PNG, PROGRESSIVE, pdfWith, pngWith, RESTARTS, raw, zipOf } from "./uploads.ts";

const PDF = await pdfWith();
const LINEAR = Uint8Array.from(throughQpdf(PDF, "--linearize"));
const LOCKED = Uint8Array.from(throughQpdf(PDF, "--encrypt", "secret", "owner", "256"));
const PACKED = Uint8Array.from(throughQpdf(PDF, "--object-streams=generate"));

const REAL: readonly (readonly [string, FileKind, Uint8Array])[] = [
  ["a PDF file", "pdf", PDF],
  ["a PDF file made for the web", "pdf", LINEAR],
  ["a PDF file with a password", "pdf", LOCKED],
  ["a PDF file with its objects packed", "pdf", PACKED],
  ["a PDF file with a byte-order mark before it", "pdf", joined(raw("\xef\xbb\xbf"), PDF)],
  ["a PDF file with lines of a mail before it", "pdf", joined(raw("Content-Type: application/pdf\r\n\r\n"), PDF)],
  ["a PDF file with blanks behind it", "pdf", joined(PDF, raw(" \r\n".repeat(300)))],
  ["a baseline JPEG", "jpeg", BASELINE],
  ["a progressive JPEG", "jpeg", PROGRESSIVE],
  ["a JPEG with restart marks and Exif", "jpeg", RESTARTS],
  ["a JPEG with filling before its end", "jpeg", joined(BASELINE.subarray(0, -2), raw("\xff\xff\xff\xd9"))],
  ["a JPEG with a second one behind it", "jpeg", joined(BASELINE, new Uint8Array(70_000), RESTARTS)],
  [
    "a JPEG with what telephones put behind it",
    "jpeg",
    joined(BASELINE, raw("\x00\x00\x01\x0aImage_UTC_Data1764230000000SEFH\x6a\x00SEFT")),
  ],
  ["a PNG", "png", PNG],
  ["a PNG of one point", "png", pngWith()],
];

const kindOf = (content: Uint8Array, name = "", type = "") => kindOfFile(content, { name, type });

const withBit = (content: Uint8Array, bit: number): Uint8Array => {
  const changed = content.slice();
  changed[bit >> 3] = (changed[bit >> 3] ?? 0) ^ (1 << (bit & 7));
  return changed;
};

/** Why a file is not taken; fails where it is. */
const refusalOf = (content: Uint8Array, name = "", type = ""): { readonly given: string; readonly wanted: string } => {
  const kind = kindOf(content, name, type);
  if (kind.ok) throw new Error(`taken as ${kind.value}`);
  expect(kind.faults).toHaveLength(1);
  return kind.faults[0] ?? { given: "", wanted: "" };
};

describe("what is taken", () => {
  test.each(REAL)("%s", (_, kind, content) => {
    expect(kindOf(content)).toEqual({ ok: true, value: kind });
  });

  // Debian's `file` knows a PDF file with something before it only by its byte-order mark; qpdf, as a reader would, opens it.
  const PLAIN = REAL.filter(([what]) => !/before it$/.test(what)).map(([, , content]) => content);

  test("is called so by another program too, whole or with bits turned that do not matter", () => {
    const turned = PLAIN.flatMap((content) =>
      fc.sample(fc.nat(content.length * 8 - 1), { numRuns: 40, seed: 20261126 }).map((bit) => withBit(content, bit)),
    );
    const taken = [...PLAIN, ...turned].flatMap((content) => {
      const kind = kindOf(content);
      return kind.ok ? [{ content, type: typeOfKind(kind.value) }] : [];
    });
    expect(taken.length).toBeGreaterThan(PLAIN.length + 100);
    expect(calledBy(taken.map(({ content }) => content))).toEqual(taken.map(({ type }) => type));
  });

  test("is opened by a reader of PDF files where lines of a mail stand before it", () => {
    const content = REAL.find(([what]) => /mail before it$/.test(what))?.[2] ?? new Uint8Array();
    expect(kindOf(throughQpdf(content, "--warning-exit-0")).ok).toBe(true);
  });

  test("is said on the page with the limits that hold", () => {
    expect(ACCEPTED_WORDS).toBe("PDF, JPEG or PNG; at most 10 MB each, 40 MB together");
    expect([LARGEST_UPLOAD, LARGEST_TOGETHER]).toEqual([10_000_000, 40_000_000]);
    expect(ACCEPTED_ENDINGS.split(",").sort()).toEqual([".jfif", ".jpe", ".jpeg", ".jpg", ".pdf", ".png"]);
    expect((["pdf", "jpeg", "png"] as const).map((kind) => endingOfType(typeOfKind(kind)))).toEqual(["pdf", "jpg", "png"]);
    expect(endingOfType("text/html")).toBe("bin");
  });

  test("may be as large as the limit and no byte larger", () => {
    const padded = (size: number) => joined(PNG.subarray(0, 33), chunk("teSt", new Uint8Array(size - PNG.length - 12)), PNG.subarray(33));
    expect(kindOf(padded(LARGEST_UPLOAD))).toEqual({ ok: true, value: "png" });
    expect(refusalOf(padded(LARGEST_UPLOAD + 1))).toMatchObject({ given: "a file of 10.1 MB", wanted: "a file of at most 10 MB" });
    expect(refusalOf(new Uint8Array(25_000_000)).given).toBe("a file of 25 MB");
  });
});

describe("what its sender says of a file", () => {
  test.each([
    ["scan.PDF", "application/pdf", PDF],
    ["scan.pdf ", "application/octet-stream", PDF],
    ["no ending", "", PDF],
    ["IMG_1.JPEG", "image/jpg", BASELINE],
    ["rev. 2.12", "image/jpeg; charset=binary", BASELINE],
    ["shot.png", "image/png", PNG],
  ])("%s, %s agrees", (name, type, content) => {
    expect(kindOf(content, name, type).ok).toBe(true);
  });

  test.each([
    ["scan.pdf", "", BASELINE, "a JPEG picture that is said to be a PDF file"],
    ["scan", "image/png", PDF, "a PDF file that is said to be a PNG picture"],
    ["shot.png", "image/jpeg", PNG, "a PNG picture that is said to be a JPEG picture"],
  ])("%s, %s does not", (name, type, content, given) => {
    expect(refusalOf(content, name, type)).toMatchObject({ given, wanted: "a file whose name says what it holds" });
  });
});

const DISGUISED = disguised(PDF, LINEAR);

describe("what is refused, in words", () => {
  test.each([...OTHER_KINDS, ...DISGUISED])("%s", (_, content, given) => {
    expect(refusalOf(content).given).toMatch(given);
    // However it is called.
    for (const name of ["a.pdf", "a.jpg", "a.png"]) expect(kindOf(content, name).ok).toBe(false);
  });

  test("another program calls none of the other kinds by a type that is taken", () => {
    const types = (["pdf", "jpeg", "png"] as const).map(typeOfKind);
    expect(calledBy(OTHER_KINDS.map(([, content]) => content)).filter((type) => types.includes(type))).toEqual([]);
    expect(calledBy([zipOf(["a"]), DOCX])).toEqual(["application/zip", "application/zip"]);
  });

  test("it is said what can be done instead", () => {
    expect(refusalOf(zipOf(["a"])).wanted).toBe("a PDF, JPEG or PNG file; send what is in it, file by file");
    expect(refusalOf(DOCX).wanted).toBe("a PDF, JPEG or PNG file; save it as PDF");
    expect(refusalOf(raw("MZ")).wanted).toBe("a PDF, JPEG or PNG file");
  });
});

describe("what a PDF file may not bring along", () => {
  const action = (document: PDFDocument, type: string, more = {}): void =>
    document.catalog.set(PDFName.of("OpenAction"), document.context.obj({ S: type, ...more }));

  test.each([
    ["a program", "a program (JavaScript)", (document: PDFDocument) => document.addJavaScript("start", "app.alert(1)")],
    [
      "a program by an action",
      "a program (JavaScript)",
      (document: PDFDocument) => action(document, "JavaScript", { JS: PDFString.of("1") }),
    ],
    [
      "a call of another program",
      "a call of another program",
      (document: PDFDocument) => action(document, "Launch", { F: PDFString.of("x") }),
    ],
    ["another file", "other files", (document: PDFDocument) => document.attach(zipOf(["a"]), "a.zip")],
  ])("%s", async (_, along, change) => {
    const content = await pdfWith(change);
    expect(refusalOf(content)).toMatchObject({
      given: `a PDF file with ${along} in it`,
      wanted: "a PDF file without; print it to PDF anew",
    });
  });

  test("a name is read with its signs written as numbers too", () => {
    const hidden = Buffer.from(PDF)
      .toString("latin1")
      .replace("/Type /Catalog", "/Type /Catalog /OpenAction << /S /J#61vaScr#69pt /JS (1) >>");
    expect(refusalOf(raw(hidden)).given).toBe("a PDF file with a program (JavaScript) in it");
  });

  test("what nearly every program writes is let pass: a first page to show, an address, a name that only begins alike", async () => {
    const content = await pdfWith((document) => {
      action(document, "GoTo", { D: [document.getPage(0).ref, "Fit"] });
      document.catalog.set(PDFName.of("JavaScriptless"), PDFName.of("LaunchPad"));
    });
    expect(kindOf(content)).toEqual({ ok: true, value: "pdf" });
  });
});

describe("whatever is done to a file", () => {
  test("it is refused wherever it is cut off", () => {
    for (const [what, kind, content] of REAL.filter(([what]) => !/behind|blanks/.test(what))) {
      const end = kind === "pdf" ? Buffer.from(content).lastIndexOf("%%EOF") + 5 : content.length;
      const step = content.length > 2000 ? 7 : 1;
      for (let length = 0; length < end; length += step) expect(kindOf(content.subarray(0, length)).ok, `${what}, ${length}`).toBe(false);
    }
  });

  test("a PNG with any bit turned is refused", () => {
    for (let bit = 0; bit < PNG.length * 8; bit += 1) {
      expect(kindOf(withBit(PNG, bit)).ok, `bit ${bit}`).toBe(false);
    }
  });

  const anyReal = fc.constantFrom(...REAL).map(([, , content]) => content);

  test("with bits turned, cut, or mixed up with others it is taken or refused in words, and nothing is thrown", () => {
    const part = fc.oneof(
      fc.uint8Array({ maxLength: 300 }),
      fc.tuple(anyReal, fc.nat(3000), fc.nat(3000)).map(([content, from, to]) => content.subarray(Math.min(from, to), Math.max(from, to))),
    );
    const flips = fc.array(fc.tuple(fc.nat(5000), fc.nat(255)), { maxLength: 8 });
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 4 }), flips, fc.string(), (parts, turned, name) => {
        const content = joined(...parts);
        for (const [at, by] of turned) if (at < content.length) content[at] = (content[at] ?? 0) ^ by;
        const kind = kindOfFile(content, { name, type: name });
        if (!kind.ok) expect(kind.faults[0]?.given).toMatch(/^an? /);
      }),
      { numRuns: 1500 },
    );
  });

  test("with the mark of another kind before it, it is refused", () => {
    const marks = OTHER_KINDS.filter(([what]) => what !== "text" && what !== "noise").map(([, content]) => content);
    fc.assert(
      fc.property(fc.constantFrom(...marks), fc.uint8Array({ maxLength: 64 }), anyReal, (mark, between, content) => {
        expect(kindOf(joined(mark, between, content)).ok).toBe(false);
      }),
      { numRuns: 500 },
    );
  });
});
