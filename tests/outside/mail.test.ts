import { simpleParser } from "mailparser";
import { describe, expect, test } from "vitest";
import { checkedMail, type Mail } from "../../lib/outside/mail.ts";
import { messageOfMail } from "../../lib/outside/message.ts";
import { postOffice } from "../../lib/outside/postOffice.ts";
import { scratch } from "../cli/cli.ts";
import { mail } from "./mails.ts";

const file = (change: Partial<Mail["attachments"][number]>): Partial<Mail> => ({
  attachments: [{ name: "a.txt", type: "text/plain", content: "a", ...change }],
});

test("a mail as it should be is taken as it is", () => {
  expect(checkedMail(mail())).toEqual({ ok: true, value: mail() });
});

describe("what is wrong with a mail is told with field, what was given and what is wanted", () => {
  const ADDRESS = "an address like name@example.org";
  test.each<[string, Partial<Mail>, string, string, RegExp | string]>([
    ["sender", { from: "office" }, "/from", '"office"', ADDRESS],
    ["sender with a name", { from: { name: "A", address: "a@b" } }, "/from/address", '"a@b"', ADDRESS],
    ["answer's address", { replyTo: "a@b@c.example" }, "/replyTo", '"a@b@c.example"', ADDRESS],
    ["second recipient", { to: ["a@b.example", "a b@c.example"] }, "/to/1", '"a b@c.example"', ADDRESS],
    ["recipient and a header", { to: ["a@b.example\r\nBcc: x@y.example"] }, "/to/0", '"a@b.example\\r\\nBcc: x@y.example"', ADDRESS],
    ["two in one", { to: ["a@b.example, c@d.example"] }, "/to/0", '"a@b.example, c@d.example"', ADDRESS],
    ["no recipient", { to: [] }, "/to", "[]", "at least one recipient"],
    [
      "name and a header",
      { from: { name: "A\nBcc: x@y.example", address: "a@b.example" } },
      "/from/name",
      '"A\\nBcc: x@y.example"',
      /^a name/,
    ],
    ["name of nothing", { to: [{ name: " ", address: "a@b.example" }] }, "/to/0/name", '" "', /^a name/],
    ["subject and a header", { subject: "A\r\nBcc: x@y.example" }, "/subject", '"A\\r\\nBcc: x@y.example"', /^a subject/],
    ["subject with a line separator", { subject: "A\u2028B" }, "/subject", '"A\u2028B"', /^a subject/],
    ["subject with its writing turned", { subject: "A\u202eB" }, "/subject", '"A?B"', /^a subject/],
    ["no subject", { subject: "" }, "/subject", '""', /^a subject/],
    ["half a sign", { subject: "A\ud800" }, "/subject", '"A\\ud800"', /^a subject/],
    ["text with a bell", { text: "A\u0007" }, "/text", '"A\\u0007"', /^text without control/],
    ["file and a header", file({ name: 'a.txt"\r\nX: y' }), "/attachments/0/name", '"a.txt\\"\\r\\nX: y"', /^a file name of/],
    ["file in a folder", file({ name: "../a.txt" }), "/attachments/0/name", '"../a.txt"', /^a file name without a folder/],
    ["hidden file", file({ name: ".profile" }), "/attachments/0/name", '".profile"', /^a file name without a folder/],
    ["type and a header", file({ type: "text/plain\r\nX: y" }), "/attachments/0/type", '"text/plain\\r\\nX: y"', /^a media type/],
    ["id without brackets", { messageId: "a@b" }, "/messageId", '"a@b"', /^an id like/],
    ["id and a header", { messageId: "<a@b>\r\nX: <c@d>" }, "/messageId", '"<a@b>\\r\\nX: <c@d>"', /^an id like/],
    ["day for an instant", { date: "2026-03-02" }, "/date", '"2026-03-02"', /^a UTC instant/],
  ])("%s", async (_, change, at, given, wanted) => {
    const result = await postOffice({}, scratch()).send(mail(change));
    if (result.ok) throw new Error(result.value.where);
    expect(result.faults).toEqual([{ at, given, wanted: typeof wanted === "string" ? wanted : expect.stringMatching(wanted) }]);
  });

  test("all at once", () => {
    const result = checkedMail(mail({ from: "office", subject: "", date: "today" }));
    expect(!result.ok && result.faults.map(({ at }) => at)).toEqual(["/from", "/subject", "/date"]);
  });
});

test("a mail that was never checked cannot bring a header of its own either", async () => {
  const evil = "A\r\nBcc: x@y.example\r\n\r\nbody";
  const message = await messageOfMail(
    mail({
      from: { name: evil, address: "a@b.example" },
      to: [{ name: evil, address: "c@d.example" }],
      subject: evil,
      messageId: `<a@b>${evil}`,
      attachments: [{ name: evil, type: `text/plain${evil}`, content: "a" }],
    }),
  );
  const parsed = await simpleParser(message);
  expect([...parsed.headers.keys()].sort()).toEqual([
    "content-type",
    "date",
    "from",
    "message-id",
    "mime-version",
    "reply-to",
    "subject",
    "to",
  ]);
  expect(parsed.bcc).toBeUndefined();
  expect(parsed.text).toContain("Dzień dobry");
});
