import { simpleParser } from "mailparser";
import { describe, expect, test } from "vitest";
import { type LetterMail, letterMail } from "../../lib/outside/letterMail.ts";
import { checkedMail } from "../../lib/outside/mail.ts";
import { messageOfMail } from "../../lib/outside/message.ts";
import { reminderMail } from "../../lib/outside/reminderMail.ts";

const ABOUT = {
  office: "Tallowmere Survey Office",
  from: { name: "Ilse Drexel", address: "ilse@office.example" },
  inspector: { name: "M. Okvist", role: "inspector" },
  replyTo: "plans@office.example",
  to: { name: "The superintendent", address: "super@owner.example" },
  subject: "Tests of generating sets on Ardenvoe Pioneer, Port Ambrel, 3 to 4 March 2026",
  reference: "letter 2",
  stem: "ardenvoe-pioneer-letter-2",
  messageId: "<m-2.1@forehail.invalid>",
  date: "2026-03-02T09:00:00.000Z",
} as const;
const FILES = { pdf: Uint8Array.from([37]), calendar: "BEGIN:VCALENDAR" } as const;
const ASKS: LetterMail = { ...ABOUT, ...FILES, link: "https://plans.example/reply/code", replyBy: "2026-03-05" };
const REMINDS = { ...ABOUT, link: "x", sentOn: "2026-03-02", replyBy: "2026-03-05", today: "2026-03-04", filled: 0, asked: 3 };

describe("who sends a mail", () => {
  test("is told where it is not the inspector who signs the letter; answers go where they are read", async () => {
    for (const mail of [letterMail(ASKS), reminderMail(REMINDS)]) {
      expect(checkedMail(mail)).toEqual({ ok: true, value: mail });
      const read = await simpleParser(await messageOfMail(mail));
      expect(read.from?.value).toEqual([{ name: ABOUT.office, address: "ilse@office.example" }]);
      expect(read.replyTo?.value[0]?.address).toBe("plans@office.example");
      expect(read.text).toContain("Sent by Ilse Drexel for M. Okvist, inspector.\nTallowmere Survey Office");
    }
  });

  test("is not told where he sends it himself, or where it is not known who does", () => {
    for (const from of [{ name: "m. okvist ", address: "okvist@office.example" }, "anna@office.example"])
      expect(letterMail({ ...ASKS, from }).text).not.toContain("Sent by");
    const { inspector: _, ...nobody } = ASKS;
    expect(letterMail(nobody).text).not.toContain("Sent by");
  });
});

test("a mail is called by vessel, letter and recipient, whatever their letters", () => {
  expect(letterMail(ASKS).called).toBe("ardenvoe-pioneer-letter-2-to-super");
  expect(reminderMail(REMINDS).called).toBe("ardenvoe-pioneer-letter-2-reminder-to-super");
  const odd = letterMail({ ...ASKS, stem: "visit-letter-2".repeat(9), to: { name: "Ł", address: "Łukasz+x@ship.example" } });
  expect(odd.called).toMatch(/^[a-z0-9-]{1,60}$/);
});

test("a mail that ends the exchange says whether its days stay", () => {
  const ends = (calledOff: boolean): string => letterMail({ ...ABOUT, ...FILES, ends: "not settled", calledOff }).text;
  expect(ends(false)).toContain("The days of the visit are in the attached calendar file.");
  expect(ends(true)).toMatch(/the visit is called off, in the attached calendar file too/);
  expect(ends(true)).not.toContain("The days of the visit are");
});
