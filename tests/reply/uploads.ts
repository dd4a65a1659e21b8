import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { crc32, deflateSync } from "node:zlib";
import { PDFDocument } from "pdf-lib";
import { scratch } from "../cli/cli.ts";

const bytes = (base64: string): Uint8Array => Uint8Array.from(Buffer.from(base64, "base64"));

/** Text with one character a byte. */
export const raw = (text: string): Uint8Array => new Uint8Array(Buffer.from(text, "latin1"));

export const joined = (...parts: readonly Uint8Array[]): Uint8Array => new Uint8Array(Buffer.concat(parts));

/** Small pictures as other programs write them. */
export const BASELINE = bytes(
  "/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDABQODxIPDRQSEBIXFRQYHjIhHhwcHj0sLiQySUBMS0dARkVQWnNiUFVtVkVGZIhlbXd7gYKBTmCNl4x9lnN+gXz/2wBDARUXFx4aHjshITt8U0ZTfHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHz/wAARCAAQABgDASIAAhEBAxEB/8QAHwAAAQUBAQEBAQEAAAAAAAAAAAECAwQFBgcICQoL/8QAtRAAAgEDAwIEAwUFBAQAAAF9AQIDAAQRBRIhMUEGE1FhByJxFDKBkaEII0KxwRVS0fAkM2JyggkKFhcYGRolJicoKSo0NTY3ODk6Q0RFRkdISUpTVFVWV1hZWmNkZWZnaGlqc3R1dnd4eXqDhIWGh4iJipKTlJWWl5iZmqKjpKWmp6ipqrKztLW2t7i5usLDxMXGx8jJytLT1NXW19jZ2uHi4+Tl5ufo6erx8vP09fb3+Pn6/8QAHwEAAwEBAQEBAQEBAQAAAAAAAAECAwQFBgcICQoL/8QAtREAAgECBAQDBAcFBAQAAQJ3AAECAxEEBSExBhJBUQdhcRMiMoEIFEKRobHBCSMzUvAVYnLRChYkNOEl8RcYGRomJygpKjU2Nzg5OkNERUZHSElKU1RVVldYWVpjZGVmZ2hpanN0dXZ3eHl6goOEhYaHiImKkpOUlZaXmJmaoqOkpaanqKmqsrO0tba3uLm6wsPExcbHyMnK0tPU1dbX2Nna4uPk5ebn6Onq8vP09fb3+Pn6/9oADAMBAAIRAxEAPwDPs7GSdz5IzGmC655I9Fz0P6fStm3srCUFRGfMTAdGc7lPuAf/AKx7cVn6ZeC0lYOP3b4ye4rWlks7gKxmjDryjhgGTPpnp9PwNc2OlXjUtG6j0sVRUHHXcydR0/7IQ6EtE3HPUGim6jqJkUQEh41ORNjBbjuMcdevT6dKK9LDSqeyXtdznqKPN7ux/9k=",
);
export const PROGRESSIVE = bytes(
  "/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDABQODxIPDRQSEBIXFRQYHjIhHhwcHj0sLiQySUBMS0dARkVQWnNiUFVtVkVGZIhlbXd7gYKBTmCNl4x9lnN+gXz/2wBDARUXFx4aHjshITt8U0ZTfHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHz/wgARCAAQABgDASIAAhEBAxEB/8QAFgABAQEAAAAAAAAAAAAAAAAABAAB/8QAFgEBAQEAAAAAAAAAAAAAAAAAAwEE/9oADAMBAAIQAxAAAAE7DrKkstJ//8QAGRAAAwEBAQAAAAAAAAAAAAAAAAECAxIR/9oACAEBAAEFAohsmIZpnyZ3y24o009P/8QAFxEBAQEBAAAAAAAAAAAAAAAAEQACIf/aAAgBAwEBPwHAWh5f/8QAGxEAAgIDAQAAAAAAAAAAAAAAAQIAAxIhIjH/2gAIAQIBAT8BvLhteSstj1P/xAAbEAABBAMAAAAAAAAAAAAAAAAAASExYRFBUf/aAAgBAQAGPwJoIcoolDGun//EABwQAAIDAAMBAAAAAAAAAAAAAAABESExQVGR0f/aAAgBAQABPyFr1avhRYam7RpVsTU6IB3LHNogc09n/9oADAMBAAIAAwAAABB77//EABgRAAIDAAAAAAAAAAAAAAAAAAABITFh/9oACAEDAQE/EEeViYD/xAAXEQEBAQEAAAAAAAAAAAAAAAARAEEB/9oACAECAQE/EAi5gid3/8QAHxABAAICAgIDAAAAAAAAAAAAAREhADFBcVFhgaHh/9oACAEBAAE/EEcJhZrTxLT9dYOhUjsnsH8eKyaO0r2OEY6ZeTCEC4wS+J118OODRkkIackVveutZ//Z",
);
/** With restart marks and with what a telephone says of itself. */
export const RESTARTS = bytes(
  "/9j/4AAQSkZJRgABAQAAAQABAAD/4QAsRXhpZgAATU0AKgAAAAgAAQEPAAIAAAAKAAAAGgAAAABUZWxlcGhvbmUA/9sAQwAUDg8SDw0UEhASFxUUGB4yIR4cHB49LC4kMklATEtHQEZFUFpzYlBVbVZFRmSIZW13e4GCgU5gjZeMfZZzfoF8/9sAQwEVFxceGh47ISE7fFNGU3x8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8/8AAEQgAEAAYAwEiAAIRAQMRAf/EAB8AAAEFAQEBAQEBAAAAAAAAAAABAgMEBQYHCAkKC//EALUQAAIBAwMCBAMFBQQEAAABfQECAwAEEQUSITFBBhNRYQcicRQygZGhCCNCscEVUtHwJDNicoIJChYXGBkaJSYnKCkqNDU2Nzg5OkNERUZHSElKU1RVVldYWVpjZGVmZ2hpanN0dXZ3eHl6g4SFhoeIiYqSk5SVlpeYmZqio6Slpqeoqaqys7S1tre4ubrCw8TFxsfIycrS09TV1tfY2drh4uPk5ebn6Onq8fLz9PX29/j5+v/EAB8BAAMBAQEBAQEBAQEAAAAAAAABAgMEBQYHCAkKC//EALURAAIBAgQEAwQHBQQEAAECdwABAgMRBAUhMQYSQVEHYXETIjKBCBRCkaGxwQkjM1LwFWJy0QoWJDThJfEXGBkaJicoKSo1Njc4OTpDREVGR0hJSlNUVVZXWFlaY2RlZmdoaWpzdHV2d3h5eoKDhIWGh4iJipKTlJWWl5iZmqKjpKWmp6ipqrKztLW2t7i5usLDxMXGx8jJytLT1NXW19jZ2uLj5OXm5+jp6vLz9PX29/j5+v/dAAQAAf/aAAwDAQACEQMRAD8Az7Oxknc+SMxpguueSPRc9D+n0rZt7KwlBURnzEwHRnO5T7gH/wCse3FZ+mXgtJWDj92+MnuK1pZLO4CsZow68o4YBkz6Z6fT8DXNjpV41LRuo9LFUVBx13P/0INR0/7IQ6EtE3HPUGim6jqJkUQEh41ORNjBbjuMcdevT6dKK6cNKp7Je13Maijze7sf/9k=",
);
export const PNG = bytes(
  "iVBORw0KGgoAAAANSUhEUgAAABgAAAAQCAIAAACDRijCAAAAr0lEQVR42q2UsQ3EIAxFwboBMgE1IzAGIzBGqhSpbgxG8BgewXUmYIQUlqKI5IyjnFvD43/LH++ci7m61wUxV8bCWF6C/CGHsXTSaF6uF9J3HYCEJU5vETrOXwfEWBqFoZeOBV2b5qVRmNI2pU0HdarhttcoCM7OAuWcUZrUR2/LsISlDw4sr1mcgn3ldKdgWbZf0s7nwbi4Q2lgD8G5Yq4SUm2zH2XtSJX/yx/CWHZkyFiVa/C7HgAAAABJRU5ErkJggg==",
);

/** A PDF file of one page; what else shall be in it, a caller puts in. */
export const pdfWith = async (change: (document: PDFDocument) => Promise<void> | void = () => undefined): Promise<Uint8Array> => {
  const document = await PDFDocument.create();
  document.addPage([200, 100]).drawText("Overspeed test, step 4");
  await change(document);
  return Uint8Array.from(await document.save({ useObjectStreams: false }));
};

/** A chunk of a PNG picture, with its check sum. */
export const chunk = (name: string, data: Uint8Array): Uint8Array => {
  const named = joined(raw(name), data);
  const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  sum.writeUInt32BE(crc32(named));
  return joined(length, named, sum);
};

/** A PNG picture of one grey point, with a head that a caller changes. */
export const pngWith = (change: (head: Buffer) => void = () => undefined): Uint8Array => {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(1, 0);
  head.writeUInt32BE(1, 4);
  head[8] = 8;
  change(head);
  const picture = deflateSync(Buffer.alloc(2));
  return joined(PNG.subarray(0, 8), chunk("IHDR", head), chunk("IDAT", picture), chunk("IEND", new Uint8Array()));
};

/** A ZIP archive of files that are not packed, as archivers write it; what stands before it is counted in. */
export const zipOf = (names: readonly string[], before = 0): Uint8Array => {
  const content = raw("what is in it");
  const facts = (name: string): Buffer => {
    const part = Buffer.alloc(26);
    part.writeUInt16LE(20, 0);
    part.writeUInt32LE(crc32(content), 10);
    part.writeUInt32LE(content.length, 14);
    part.writeUInt32LE(content.length, 18);
    part.writeUInt16LE(name.length, 22);
    return part;
  };
  const files: Uint8Array[] = [];
  const list: Uint8Array[] = [];
  let at = before;
  for (const name of names) {
    const place = Buffer.alloc(14);
    place.writeUInt32LE(at, 10);
    const file = joined(raw("PK\x03\x04"), facts(name), raw(name), content);
    files.push(file);
    list.push(joined(raw("PK\x01\x02"), raw("\x14\x00"), facts(name), place, raw(name)));
    at += file.length;
  }
  const end = Buffer.alloc(18);
  end.writeUInt16LE(names.length, 4);
  end.writeUInt16LE(names.length, 6);
  end.writeUInt32LE(
    list.reduce((sum, one) => sum + one.length, 0),
    8,
  );
  end.writeUInt32LE(at, 12);
  return joined(...files, ...list, raw("PK\x05\x06"), end);
};

/** What Debian's `file` calls each of these, by their contents alone. */
export const calledBy = (contents: readonly Uint8Array[]): readonly string[] => {
  const folder = scratch();
  const names = contents.map((content, place) => {
    writeFileSync(join(folder, `${place}`), content);
    return `${place}`;
  });
  return execFileSync("file", ["--brief", "--mime-type", ...names], { cwd: folder, encoding: "utf8" })
    .trim()
    .split("\n");
};
