import { simpleParser } from "mailparser";
import { expect, test } from "vitest";
import { checkedMail } from "../../lib/outside/mail.ts";
import { messageOfMail } from "../../lib/outside/message.ts";
import { type ReminderMail, reminderMail } from "../../lib/outside/reminderMail.ts";

const INPUT: ReminderMail = {
  office: "Biuro „Wschód”",
  from: "anna@office.example",
  replyTo: "plans@office.example",
  to: { name: "Νίκος Παπαδόπουλος", address: "nikos@ship.example" },
  stem: "sundalis-reach-letter-2",
  subject: "Tests of generating sets on Sundalis Reach, Haverdyn Roads, 24 to 25 March 2026",
  reference: "V-1, letter 2",
  link: "https://plans.example/reply/code",
  sentOn: "2026-03-02",
  replyBy: "2026-03-05",
  today: "2026-03-05",
  filled: 0,
  asked: 30,
  messageId: "<m-1.reminder-2026-03-05.1@forehail.invalid>",
  date: "2026-03-05T09:00:00.000Z",
};

test("a reminder is, read by another program, what it was made from", async () => {
  const mail = reminderMail(INPUT);
  expect(checkedMail(mail)).toEqual({ ok: true, value: mail });
  const read = await simpleParser(await messageOfMail(mail));
  expect(read.from?.value).toEqual([{ name: INPUT.office, address: INPUT.from }]);
  expect(read.replyTo?.value[0]?.address).toBe(INPUT.replyTo);
  expect(read.to && "value" in read.to ? read.to.value : []).toEqual([INPUT.to]);
  expect([read.subject, read.messageId, read.attachments.length]).toEqual([mail.subject, INPUT.messageId, 0]);
  expect(read.text).toContain(INPUT.link);
  expect(read.text).toMatch(/is asked by 5 March 2026\. Nothing of it is filled in/);
});

test("it says what is overdue, and how much is filled in already", () => {
  const { text } = reminderMail({ ...INPUT, today: "2026-03-06", filled: 12 });
  expect(text).toMatch(/was asked by 5 March 2026\. 12 of 30 points are filled in/);
});
