import { closeSync, openSync, readSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { BASELINE, chunk, joined, PNG, pngWith, raw, zipOf } from "./uploads.ts";

/** What it is, the file, and what it is said to be when it is refused. */
export type Hostile = readonly [what: string, content: Uint8Array, given: RegExp];

/** The first bytes of a program of this machine. */
const ownProgram = (): Uint8Array => {
  const head = new Uint8Array(8192);
  const file = openSync(process.execPath, "r");
  readSync(file, head);
  closeSync(file);
  return head;
};

const tarOf = (content: Uint8Array): Uint8Array => {
  const head = Buffer.alloc(512);
  head.write("scan.pdf", 0);
  head.write("ustar\x0000", 257);
  return joined(head, content);
};

const HTML = raw("<!doctype html><html><script>alert(1)</script></html>");
/** A picture with its width (at 5) or its number of colours (at 7) changed; places are counted from the length of its frame header. */
const jpegWith = (at: number, value: number): Uint8Array => {
  const changed = BASELINE.slice();
  const frame = Buffer.from(BASELINE).indexOf("\xff\xc0\x00\x11", 0, "latin1") + 2;
  changed.fill(value, frame + at, frame + at + (at === 5 ? 2 : 1));
  return changed;
};

export const DOCX = zipOf(["[Content_Types].xml", "word/document.xml"]);
const GIF = raw("GIF89a\x01\x00\x01\x00\x00\x00\x00;");

/** Files of other kinds, and what they are said to be. */
export const OTHER_KINDS: readonly Hostile[] = [
  ["a ZIP archive", zipOf(["a.pdf"]), /^an archive \(ZIP\)$/],
  ["an empty ZIP archive", zipOf([]), /^an archive \(ZIP\)$/],
  ["a gzip archive", gzipSync(raw("%PDF-1.7\n"), { level: 0 }), /^an archive \(gzip\)$/],
  ["a 7z archive", raw("7z\xbc\xaf\x27\x1c\x00\x04"), /^an archive \(7z\)$/],
  ["a RAR archive", raw("Rar!\x1a\x07\x01\x00"), /^an archive \(RAR\)$/],
  ["an xz archive", raw("\xfd7zXZ\x00\x00\x04"), /^an archive \(xz\)$/],
  ["a bzip2 archive", raw("BZh91AY&SY"), /^an archive \(bzip2\)$/],
  ["a tar archive of a PDF", tarOf(raw("%PDF-1.7\n")), /^an archive \(tar\)$/],
  ["a program for Windows", raw(`MZ\x90\x00${"\x00".repeat(60)}PE\x00\x00`), /^a program \(Windows or DOS\)$/],
  ["a program of this machine", ownProgram(), process.platform === "linux" ? /^a program \(ELF\)$/ : /^a program/],
  ["a program for Apple's", raw("\xcf\xfa\xed\xfe\x07\x00\x00\x01"), /^a program \(Mach-O\)$/],
  ["a script", raw("#!/bin/sh\necho %PDF-1.4\n"), /^a program \(script\)$/],
  ["a Word document", DOCX, /^an office document$/],
  ["an older Word document", raw("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1\x00"), /^an office document$/],
  ["a web page", HTML, /^a web page/],
  ["a web page behind a byte-order mark and blanks", joined(raw("\xef\xbb\xbf \n\n"), HTML), /^a web page/],
  ["a web page in signs of two bytes", raw("\xff\xfe<\x00h\x00t\x00m\x00l\x00>\x00"), /^a web page/],
  ["an SVG drawing", raw('<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"/>'), /^an SVG drawing$/],
  ["an XML file", raw('<?xml version="1.0"?><a/>'), /^an XML file$/],
  ["a GIF", GIF, /^a GIF picture$/],
  ["a picture of a telephone", raw("\x00\x00\x00\x18ftypheic\x00\x00"), /^a HEIC picture$/],
  ["a film", raw("\x00\x00\x00\x18ftypisom\x00\x00"), /^a video or sound$/],
  ["text", new TextEncoder().encode("Test nadobrotów: 1980 rpm\n".repeat(300)), /^a file of plain text$/],
  ["noise", raw("\x00\x01\x02\x03\x04\x05"), /^a file of another kind$/],
];

/** Files that look like what is taken: with others before, behind or in them, cut off, damaged; and what they are said to be. */
export const disguised = (PDF: Uint8Array, LINEAR: Uint8Array): readonly Hostile[] => [
  ["nothing", new Uint8Array(), /^an empty file$/],
  ["a ZIP with a PDF behind", joined(zipOf(["a"]), PDF), /^an archive \(ZIP\)$/],
  ["a GIF with a PDF behind", joined(GIF, PDF), /^a GIF picture$/],
  ["a web page with a PDF behind", joined(HTML, PDF), /^a web page/],
  ["a web page behind words, with a PDF behind", joined(raw("See "), HTML, PDF), /^a PDF file that is damaged$/],
  ["bytes that are no text with a PDF behind", joined(raw("\x00\x01"), PDF), /^a PDF file that is damaged$/],
  ["a program with a PDF behind", joined(raw("MZ"), PDF), /^a program/],
  ["a PNG with a PDF in its first kilobyte", joined(pngWith(), PDF), /^a PNG picture with another file hidden in it$/],
  [
    "a JPEG with a mark of PDF in a remark",
    joined(BASELINE.subarray(0, 2), raw("\xff\xfe\x00\x0a%PDF-1.4"), BASELINE.subarray(2)),
    /hidden in it$/,
  ],
  ["a JPEG with a ZIP behind", joined(BASELINE, zipOf(["a"], BASELINE.length)), /^a JPEG picture with another file hidden in it$/],
  [
    "a JPEG with a RAR in a remark",
    joined(BASELINE.subarray(0, 2), raw("\xff\xfe\x00\x0aRar!\x1a\x07\x00\x00"), BASELINE.subarray(2)),
    /hidden in it$/,
  ],
  ["a PNG with a program behind", joined(PNG, raw("MZ\x90\x00")), /hidden in it$/],
  ["a PNG with a web page behind", joined(PNG, HTML), /hidden in it$/],
  ["a PDF with a ZIP behind that ends as a PDF", joined(PDF, zipOf(["a"], PDF.length), raw("\nstartxref\n9\n%%EOF")), /hidden in it$/],
  ["a JPEG with a film behind", joined(BASELINE, raw("\x00\x00\x00\x18ftypmp42"), new Uint8Array(99)), /hidden in it$/],
  [
    "a JPEG with much of whatever behind",
    joined(BASELINE, new Uint8Array(1_250_000).fill(1)),
    /^a JPEG picture with 1.3 MB of something else behind it$/,
  ],

  ["a PDF of nothing but its mark", raw("%PDF-1.7\n"), /^a PDF file that is cut off/],
  ["a PDF for the web cut off behind its first part", LINEAR.subarray(0, Buffer.from(LINEAR).indexOf("%%EOF") + 5), /cut off/],
  ["a PDF that ends and goes on", joined(PDF, raw("\n".repeat(1100))), /^a PDF file that is cut off/],
  ["a PDF whose end leads nowhere", raw("%PDF-1.7\nstartxref\n99999\n%%EOF\n"), /^a PDF file that is cut off/],
  ["a JPEG of nothing but beginning and end", raw("\xff\xd8\xff\xd9"), /^a file of another kind$/],
  ["a JPEG without a picture", raw("\xff\xd8\xff\xfe\x00\x02\xff\xd9"), /^a JPEG picture that is damaged$/],
  ["a JPEG of no width", jpegWith(5, 0), /^a JPEG picture that is damaged$/],
  ["a JPEG of seven colours", jpegWith(7, 7), /^a JPEG picture that is damaged$/],
  ["a PNG without a picture", joined(PNG.subarray(0, 33), chunk("IEND", new Uint8Array())), /^a PNG picture that is damaged$/],
  ["a PNG without a head", joined(PNG.subarray(0, 8), PNG.subarray(33)), /^a PNG picture that is damaged$/],
  ["a PNG of no width", pngWith((head) => head.writeUInt32BE(0, 0)), /^a PNG picture that is damaged$/],
  ["a PNG of absurd height", pngWith((head) => head.writeUInt32BE(70_000, 4)), /^a PNG picture that is damaged$/],
  ["a PNG of no kind of colour", pngWith((head) => head.writeUInt8(5, 9)), /^a PNG picture that is damaged$/],
];
