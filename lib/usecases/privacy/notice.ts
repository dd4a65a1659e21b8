import type { Letter } from "../../letter/blocks.ts";
import { STATEMENT } from "../../letter/sheet.ts";
import { longDate } from "../../letter/words.ts";

const TITLE = "This letter was removed";

/** The page that stands in place of a letter in which somebody was named who was erased. */
export const noticeOf = (office: Letter["office"], paper: Letter["paper"], day: string): Letter => ({
  title: TITLE,
  subject: TITLE,
  date: longDate(day),
  isoDate: day,
  paper,
  reference: "",
  office,
  to: [],
  statement: STATEMENT,
  blocks: [
    {
      kind: "paragraph",
      text: `This letter was removed on ${longDate(day)}, because somebody who was named in it asked to be erased from what the office keeps.`,
    },
    {
      kind: "paragraph",
      text: "What it was made from still stands in the record of the visit, without that person: the facts, the plan, what was asked, what was answered and what was agreed.",
    },
    { kind: "paragraph", text: "Whoever the letter was sent to may hold it still." },
  ],
});
