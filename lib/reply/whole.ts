import { crc32 } from "node:zlib";
import { markOfPdf } from "./fromPdf.ts";

/** What keeps the content of a file from being a whole one of its kind; a number is where it ends. */
export type Extent = number | "cut off" | "damaged";

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

const latin1 = (bytes: Uint8Array): string => Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("latin1");

/** What may stand before the mark of a PDF file that came through mail: text without markup, nothing that another program reads. */
const BEFORE_PDF = /^[\s!-;=-~]*$/;
const BYTE_ORDER = "\xef\xbb\xbf";
/** Readers look for the end of a PDF file in its last kilobyte; where its list of objects stands is told right before. */
const PDF_END = 1024;
const PDF_LAST_LINES = 256;

/** Where a PDF file ends: its last lines must be there and lead back into the file. */
export const endOfPdf = (bytes: Uint8Array): Extent => {
  const before = latin1(bytes.subarray(0, Math.max(0, markOfPdf(bytes))));
  if (!BEFORE_PDF.test(before.startsWith(BYTE_ORDER) ? before.slice(BYTE_ORDER.length) : before)) return "damaged";
  const from = Math.max(0, bytes.length - PDF_END - PDF_LAST_LINES);
  const last = [...latin1(bytes.subarray(from)).matchAll(/startxref\s+(\d{1,10})\s+%%EOF/g)].at(-1);
  if (last === undefined) return "cut off";
  const [lines, place] = [last[0], Number(last[1])];
  const end = from + last.index + lines.length;
  // The first part of a file made for the web ends likewise, but leads nowhere.
  return place > 0 && place < end && bytes.length - end <= PDF_END ? end : "cut off";
};

const SOI = 0xd8;
const EOI = 0xd9;
const SOS = 0xda;
const isRestart = (marker: number): boolean => marker >= 0xd0 && marker <= 0xd7;
/** Frame headers: all of C0 to CF but those of tables and the one kept for extensions. */
const isFrame = (marker: number): boolean => marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
/** Markers with a length behind them. */
const isSegment = (marker: number): boolean => marker >= 0xc0 && marker !== SOI && marker !== EOI && !isRestart(marker) && marker !== 0xff;

/** Where the picture's data that begin at a place end: at the next marker that is none of theirs. */
const endOfScan = (bytes: Uint8Array, start: number): number => {
  for (let at = bytes.indexOf(0xff, start); at >= 0; at = bytes.indexOf(0xff, at + 1)) {
    const marker = bytes[at + 1] ?? 0;
    if (marker !== 0 && !isRestart(marker)) return at;
  }
  return bytes.length;
};

/** Whether a frame header at a place tells a picture with a width and one to four colours. */
const isSaneFrame = (view: DataView, at: number, length: number): boolean => {
  if (length < 11) return false;
  const colours = view.getUint8(at + 7);
  return view.getUint16(at + 5) > 0 && colours >= 1 && colours <= 4 && length === 8 + 3 * colours;
};

/** Where the JPEG picture that begins at a place ends, by its segments and the picture's data. */
const endOfOneJpeg = (bytes: Uint8Array, start: number): Extent => {
  const view = viewOf(bytes);
  let [at, frames, scans] = [start + 2, 0, 0];
  while (at + 1 < bytes.length) {
    const marker = bytes[at + 1] ?? 0;
    if (bytes[at] !== 0xff) return "damaged";
    if (marker === 0xff) at += 1;
    else if (marker === EOI) return frames > 0 && scans > 0 ? at + 2 : "damaged";
    else if (!isSegment(marker)) return "damaged";
    else {
      if (at + 4 > bytes.length) return "cut off";
      const length = view.getUint16(at + 2);
      if (length < 2) return "damaged";
      if (at + 2 + length > bytes.length) return "cut off";
      if (isFrame(marker)) frames += 1;
      if (isFrame(marker) && !isSaneFrame(view, at + 2, length)) return "damaged";
      at += 2 + length;
      if (marker === SOS) [at, scans] = [endOfScan(bytes, at), scans + 1];
    }
  }
  return "cut off";
};

export const beginsAsJpeg = (bytes: Uint8Array, at = 0): boolean =>
  bytes[at] === 0xff && bytes[at + 1] === SOI && bytes[at + 2] === 0xff && isSegment(bytes[at + 3] ?? 0);

/** Where the next thing begins, behind bytes that only fill up. */
const afterFilling = (bytes: Uint8Array, start: number): number => {
  let at = start;
  while (bytes[at] === 0) at += 1;
  return at;
};

/** Where a JPEG file ends; telephones put further pictures (depth, brightness) behind the first. */
export const endOfJpeg = (bytes: Uint8Array): Extent => {
  let end = endOfOneJpeg(bytes, 0);
  while (typeof end === "number") {
    const start = afterFilling(bytes, end);
    const next = beginsAsJpeg(bytes, start) ? endOfOneJpeg(bytes, start) : "damaged";
    if (typeof next !== "number") return end;
    end = next;
  }
  return end;
};

const PNG_MARK: readonly number[] = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

export const beginsAsPng = (bytes: Uint8Array): boolean => PNG_MARK.every((byte, at) => bytes[at] === byte);

/** Larger pictures no camera and no screen makes. */
const WIDEST = 65_535;
const DEPTHS = [1, 2, 4, 8, 16];
const COLOURS = [0, 2, 3, 4, 6];

/** Whether the head of a PNG picture, at a place, tells a picture that there can be. */
const isSaneHead = (view: DataView, at: number): boolean => {
  const [width, height] = [view.getUint32(at), view.getUint32(at + 4)];
  const [depth = 0, colour = 0, packing, filter, interlace = 0] = [8, 9, 10, 11, 12].map((more) => view.getUint8(at + more));
  const sized = width > 0 && width <= WIDEST && height > 0 && height <= WIDEST;
  return sized && DEPTHS.includes(depth) && COLOURS.includes(colour) && packing === 0 && filter === 0 && interlace <= 1;
};

/** Where a PNG file ends, by its chunks: the head first, some picture, the end; each with the check sum that it tells. */
export const endOfPng = (bytes: Uint8Array): Extent => {
  const view = viewOf(bytes);
  let [at, hasPicture] = [PNG_MARK.length, false];
  while (at + 12 <= bytes.length) {
    const length = view.getUint32(at);
    const name = latin1(bytes.subarray(at + 4, at + 8));
    const first = at === PNG_MARK.length;
    if (!/^[A-Za-z]{4}$/.test(name) || first !== (name === "IHDR") || (first && length !== 13)) return "damaged";
    if (at + 12 + length > bytes.length) return "cut off";
    if (crc32(bytes.subarray(at + 4, at + 8 + length)) !== view.getUint32(at + 8 + length)) return "damaged";
    if (first && !isSaneHead(view, at + 8)) return "damaged";
    at += 12 + length;
    hasPicture ||= name === "IDAT";
    if (name === "IEND") return hasPicture ? at : "damaged";
  }
  return "cut off";
};
