import { randomBytes } from "node:crypto";
import type { Mail } from "../../lib/outside/mail.ts";

/** Words of 20 letters, one line far over the 998 octets that RFC 5322 allows, with letters of several octets. */
export const LONG_LINE = "przegląd-żurawia-αβγ ".repeat(200).trim();

export const BYTES: Uint8Array = new Uint8Array([...randomBytes(20_000), 13, 10, 46, 13, 10, 0, 255]);

export const CALENDAR = "BEGIN:VCALENDAR\r\nSUMMARY:Łódź\\, nabrzeże\r\nEND:VCALENDAR\r\n";

/** A mail with everything that has gone wrong on the way for somebody: foreign letters, long lines, dots and "From" at line beginnings. */
export const mail = (change: Partial<Mail> = {}): Mail => ({
  from: { name: "Żaneta Ćwik, Biuro „Wschód” <oględziny>", address: "zaneta@office.example" },
  replyTo: "answers@office.example",
  to: [{ name: "Νίκος Παπαδόπουλος", address: "nikos@ship.example" }, "chief@ship.example"],
  subject: "Próby zespołów prądotwórczych „Sundalis Reach”: Ερωτήσεις και απαντήσεις, list 1, proszę o odpowiedź do 9 marca 2026",
  text: `Dzień dobry,\n\n${LONG_LINE}\n.\n..two dots\nFrom here on = ok =20\n\ttab\n\nΜε εκτίμηση`,
  attachments: [
    { name: "list żółty Ω.pdf", type: "application/pdf", content: BYTES },
    { name: "visit.ics", type: "text/calendar; charset=utf-8", content: CALENDAR },
    { name: "empty.txt", type: "text/plain", content: "" },
  ],
  messageId: "<visit-7.letter-1@office.example>",
  date: "2026-03-02T09:30:15.000Z",
  ...change,
});
