import { execFileSync } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { messageOfMail } from "../../lib/outside/message.ts";
import { fileNameOf, putIntoOutbox } from "../../lib/outside/outbox.ts";
import { postOffice } from "../../lib/outside/postOffice.ts";
import { scratch } from "../cli/cli.ts";
import { BYTES, CALENDAR, mail } from "./mails.ts";

/** Reads a mail with the e-mail package of Python, which knows nothing of the program's composer. */
const READ_BY_PYTHON = `
import email, email.header, email.policy, email.utils, json, sys
m = email.message_from_binary_file(open(sys.argv[1], "rb"), policy=email.policy.default)
raw = email.message_from_binary_file(open(sys.argv[1], "rb"))
# Python 3.11 puts spaces between encoded words of a name where it reads addresses itself; it reads them rightly one by one.
plain = lambda t: str(email.header.make_header(email.header.decode_header(t)))
people = lambda h: [[plain(n), a] for n, a in email.utils.getaddresses([raw[h]])]
print(json.dumps({
  "defects": [str(d) for p in m.walk() for d in p.defects],
  "headers": sorted(k.lower() for k in m.keys()),
  "from": people("From"), "to": people("To"), "subject": m["Subject"], "id": m["Message-ID"],
  "date": m["Date"].datetime.isoformat(),
  "text": m.get_body(("plain",)).get_content(),
  "files": [[a.get_filename(), a.get_content_type(), a.get_payload(decode=True).hex()] for a in m.iter_attachments()],
}))`;

const readByPython = (path: string): Readonly<Record<string, unknown>> =>
  JSON.parse(execFileSync("python3", ["-c", READ_BY_PYTHON, path], { encoding: "utf8" })) as Readonly<Record<string, unknown>>;

const hex = (content: Uint8Array | string): string => Buffer.from(content).toString("hex");

const put = async (folder: string, one = mail()): Promise<string> => {
  const result = await postOffice({}, folder).send(one);
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  expect(result.value.how).toBe("outbox");
  return result.value.where;
};

describe("a mail in the outbox", () => {
  test("is, read by another program, what was given, and has the headers it should and no more", async () => {
    const given = mail();
    const read = readByPython(await put(join(scratch(), "new", "outbox")));
    expect(read).toEqual({
      defects: [],
      headers: ["content-type", "date", "from", "message-id", "mime-version", "reply-to", "subject", "to"],
      from: [["Żaneta Ćwik, Biuro „Wschód” <oględziny>", "zaneta@office.example"]],
      to: [
        ["Νίκος Παπαδόπουλος", "nikos@ship.example"],
        ["", "chief@ship.example"],
      ],
      subject: given.subject,
      id: given.messageId,
      date: "2026-03-02T09:30:15+00:00",
      text: expect.stringMatching(/^Dzień dobry,/),
      files: [
        ["list żółty Ω.pdf", "application/pdf", hex(BYTES)],
        ["visit.ics", "text/calendar", hex(CALENDAR)],
        ["empty.txt", "text/plain", ""],
      ],
    });
    expect(String(read["text"]).trimEnd()).toBe(given.text);
  });

  test("is for its owner's eyes only and leaves nothing unfinished beside it", async () => {
    const folder = join(scratch(), "outbox");
    const path = await put(folder);
    expect(statSync(path).mode & 0o777).toBe(0o600);
    expect(statSync(folder).mode & 0o777).toBe(0o700);
    expect(readdirSync(folder)).toEqual([fileNameOf(mail())]);
  });

  test("is not written twice, and stays as it was first", async () => {
    const folder = scratch();
    const path = await put(folder);
    const first = readFileSync(path);
    expect(await put(folder, mail({ subject: "Otherwise" }))).toBe(path);
    expect(readFileSync(path).equals(first)).toBe(true);
    const office = postOffice({}, folder);
    const second = mail({ messageId: "<second@office.example>" });
    await Promise.all([office.send(second), office.send(second)]);
    expect(readdirSync(folder).length).toBe(2);
  });

  test("has the same bytes each time", async () => {
    expect((await messageOfMail(mail())).equals(await messageOfMail(mail()))).toBe(true);
    expect((await messageOfMail(mail())).equals(await messageOfMail(mail({ subject: "Otherwise" })))).toBe(false);
  });

  test("has a name of its own that leads nowhere else, whatever the id", () => {
    const sign = fc.constantFrom(..."abzAZ09._+-/\\:*?<>|\0 \n@żΩ");
    const id = fc.array(sign, { maxLength: 150 }).map((signs) => `<${signs.join("")}>`);
    fc.assert(
      fc.property(id, id, (one, other) => {
        for (const named of [{}, { called: "ardenvoe-pioneer-letter-2-to-super" }]) {
          const name = fileNameOf({ messageId: one, ...named });
          expect(name).toMatch(/^[a-z0-9-]{1,60}\.eml$/);
          expect(name.startsWith(named.called ?? "mail-")).toBe(true);
          if (one !== other) expect(name).not.toBe(fileNameOf({ messageId: other, ...named }));
        }
      }),
      { seed: 6, numRuns: 500 },
    );
    // File systems that know no capitals must keep these apart too.
    expect(fileNameOf({ messageId: "<A@x>" })).not.toBe(fileNameOf({ messageId: "<a@x>" }));
  });
});

test.each([
  ["lines over 998 octets of plain letters", `${"word ".repeat(400)}end\nnext`],
  ["lines that end in spaces, and the mark before a signature", "Dear all, \nplease answer:  \n\n-- \nThe office"],
  ["line breaks of Windows", "one\r\ntwo\r\n\r\nthree"],
  ["lines that begin like a quotation, with From or a dot", ">one\nFrom two\n.\n three"],
])("text comes through as it is: %s", async (_, text) => {
  // Python joins no lines that were broken to flow, so it shows what a plain mail program shows.
  const read = readByPython(await put(scratch(), mail({ text })));
  expect(String(read["text"]).replace(/\n$/, "")).toBe(text.replaceAll("\r\n", "\n"));
});

test("a folder that cannot be written to is told, with its reason", async () => {
  const path = join(scratch(), "outbox");
  writeFileSync(path, "");
  const result = await putIntoOutbox(path, { messageId: "<a@b>" }, Buffer.from(""));
  expect(result).toEqual({
    ok: false,
    faults: [{ at: "/outbox", given: `${path} (EEXIST)`, wanted: "a folder that mails can be written to" }],
  });
});

test("a mail that cannot be finished is told and leaves nothing half written behind", async () => {
  const folder = scratch();
  const name = fileNameOf({ messageId: "<a@b>" });
  mkdirSync(join(folder, name));
  const result = await putIntoOutbox(folder, { messageId: "<a@b>" }, Buffer.from("whole"));
  expect(result.ok ? "" : result.faults[0]?.given).toBe(`${folder} (EISDIR)`);
  expect(readdirSync(folder)).toEqual([name]);
});
