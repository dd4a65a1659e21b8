/** A file of a kind that is not taken, told by how it begins. */
export interface Foreign {
  readonly what: string;
  /** What its sender can do instead. */
  readonly instead?: string;
}

const archive = (name: string): Foreign => ({ what: `an archive (${name})`, instead: "send what is in it, file by file" });
const program = (name: string): Foreign => ({ what: `a program (${name})` });
const office: Foreign = { what: "an office document", instead: "save it as PDF" };
const picture = (name: string): Foreign => ({ what: `a ${name} picture`, instead: "save it as JPEG or PNG" });
const PAGE: Foreign = { what: "a web page (HTML)", instead: "print it to PDF" };
const DRAWING: Foreign = { what: "an SVG drawing", instead: "print it to PDF" };
const MARKUP: Foreign = { what: "an XML file", instead: "print it to PDF" };
const VIDEO: Foreign = { what: "a video or sound", instead: "send a still picture" };
const TEXT: Foreign = { what: "a file of plain text", instead: "print it to PDF" };

/** Marks of kinds: where they stand in a file, their bytes as text, one character a byte. */
const MARKS: readonly (readonly [at: number, mark: string, kind: Foreign])[] = [
  [0, "PK\x05\x06", archive("ZIP")],
  [0, "PK\x07\x08", archive("ZIP")],
  [0, "\x1f\x8b", archive("gzip")],
  [0, "\x1f\x9d", archive("compress")],
  [0, "7z\xbc\xaf\x27\x1c", archive("7z")],
  [0, "Rar!\x1a\x07", archive("RAR")],
  [0, "\xfd7zXZ\x00", archive("xz")],
  [0, "BZh", archive("bzip2")],
  [0, "\x28\xb5\x2f\xfd", archive("Zstandard")],
  [0, "\x04\x22\x4d\x18", archive("LZ4")],
  [0, "MSCF", archive("CAB")],
  [0, "!<arch>", archive("ar")],
  [0, "07070", archive("cpio")],
  [2, "-lh", archive("LHA")],
  [257, "ustar", archive("tar")],
  [0, "MZ", program("Windows or DOS")],
  [0, "\x7fELF", program("ELF")],
  [0, "\xfe\xed\xfa\xce", program("Mach-O")],
  [0, "\xfe\xed\xfa\xcf", program("Mach-O")],
  [0, "\xce\xfa\xed\xfe", program("Mach-O")],
  [0, "\xcf\xfa\xed\xfe", program("Mach-O")],
  [0, "\xca\xfe\xba\xbe", program("Mach-O or Java")],
  [0, "#!", program("script")],
  [0, "\x00asm", program("WebAssembly")],
  [0, "dex\n", program("Android")],
  [0, "L\x00\x00\x00\x01\x14\x02\x00", program("Windows shortcut")],
  [0, "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", office],
  [0, "{\\rtf", office],
  [0, "GIF8", picture("GIF")],
  [0, "II*\x00", picture("TIFF")],
  [0, "MM\x00*", picture("TIFF")],
  [8, "WEBP", picture("WebP")],
  [0, "BM", picture("BMP")],
  [4, "ftypheic", picture("HEIC")],
  [4, "ftypheix", picture("HEIC")],
  [4, "ftypmif1", picture("HEIC")],
  [4, "ftypavif", picture("AVIF")],
  [4, "ftyp", VIDEO],
  [0, "RIFF", VIDEO],
  [0, "ID3", VIDEO],
  [0, "%!PS", { what: "a PostScript file", instead: "save it as PDF" }],
];

/** How much of a file tells its kind. */
const HEAD = 4096;

const ZIP = "PK\x03\x04";
/** Names that stand at the beginning of office documents, which are archives too. */
const OFFICE_NAMES = /\[Content_Types\]\.xml|_rels\/|docProps\/|word\/|xl\/|ppt\/|mimetypeapplication\/vnd\./;

/** Markup, whatever blanks or byte-order mark stand before it. */
const inMarkup = (head: string): Foreign | null => {
  const text = head.replace(/^(?:\xef\xbb\xbf|\xff\xfe|\xfe\xff)/, "").replaceAll("\0", "");
  if (!/^\s*<\s*[!?a-z]/i.test(text)) return null;
  if (/<svg[\s>]/i.test(text)) return DRAWING;
  return /^\s*<\?xml/i.test(text) && !/<html[\s>]/i.test(text) ? MARKUP : PAGE;
};

/** What a file of another kind is, as far as its beginning tells; null where it tells none of these. */
export const foreignIn = (bytes: Uint8Array): Foreign | null => {
  const head = Buffer.from(bytes.subarray(0, HEAD)).toString("latin1");
  if (head.startsWith(ZIP)) return OFFICE_NAMES.test(head) ? office : archive("ZIP");
  return MARKS.find(([at, mark]) => head.startsWith(mark, at))?.[2] ?? inMarkup(head);
};

/** What a file is that begins as text, which says little: only asked where it is nothing else. */
export const textIn = (bytes: Uint8Array): Foreign | null => {
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes.subarray(0, HEAD), { stream: true });
    return /[^\P{Cc}\s]/u.test(text) ? null : TEXT;
  } catch {
    return null;
  }
};

/** Marks by which programs find an archive behind something else, wherever it begins. */
const ANYWHERE: readonly string[] = ["Rar!\x1a\x07\x00", "Rar!\x1a\x07\x01\x00", "7z\xbc\xaf\x27\x1c\x00"];

/** A ZIP is read from its end: the mark of its list, on one disk, with at most this many bytes of remark behind it. */
const ZIP_END = "PK\x05\x06\x00\x00\x00\x00";
const LONGEST_ZIP_END = 22 + 65_535;

/** Whether a program for archives would find one in a file, whatever the file begins with. */
export const hidesArchive = (bytes: Uint8Array): boolean => {
  const all = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return (
    ANYWHERE.some((mark) => all.includes(mark, 0, "latin1")) ||
    all.subarray(Math.max(0, all.length - LONGEST_ZIP_END)).includes(ZIP_END, 0, "latin1")
  );
};
