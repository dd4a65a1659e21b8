import { describe, expect, test } from "vitest";
import { quotedWords } from "../../lib/model/fault.ts";
import { faultWords } from "../../lib/reply/faultWords.ts";
import { replyFromFields } from "../../lib/reply/fromForm.ts";
import { replyFromMail } from "../../lib/reply/fromMail.ts";
import { formLetter } from "../letter/forms.ts";

const { asked, specAt } = await formLetter("mixed-channels");
const LETTER = { mark: "TSO/1", asked };

/** What is told of fields filled in so, by reference. */
const told = (fields: Readonly<Record<string, string>>): readonly string[] => {
  const read = replyFromFields(new Map(Object.entries(fields)), LETTER, { specAt }, { name: "A. Brandvold" });
  return read.ok ? [] : read.faults.map((fault) => `${fault.at}: ${faultWords(fault)}`);
};

describe("a fault is told in the words of the page, with where it is, what stands there and what is wanted", () => {
  const other = asked.tests.find(({ others }) => others.length > 0);
  const [way] = other?.others ?? [];

  test.each<readonly [Readonly<Record<string, string>>, string]>([
    [{ "r.R5.says": "instead" }, "R5: Instead we propose: please write what"],
    [{ "r.R5.says": "by another date" }, "R5: By another date: please give the date"],
    [{ "t.T4.says": "another way" }, "T4: We propose another way: please choose or write which other way"],
    [{ "q.Q12.answer": "purple" }, "Q12: “purple” stands here; wanted: Dry / Wet / not known"],
    [
      { "q.Q12.answer": "dry", "q.Q12.by": "2026-03-24" },
      "Q12: “Dry, and to be found out by 2026-03-24” stands here; wanted: an answer, or a day by which it is found out; not both",
    ],
    [
      { [`t.${other?.ref}.says`]: "agreed", [`t.${other?.ref}.method`]: way?.value ?? "" },
      `${other?.ref}: “Agreed, ${way?.label}” stands here; wanted: that it is agreed, or another way; not both`,
    ],
  ])("%j", (fields, words) => {
    expect(told(fields)).toEqual([words]);
  });

  test("so is one of an e-mail, and nothing at all", () => {
    const read = replyFromMail("R5: instead\nQ3:", LETTER, { name: "A. Brandvold" }, { specAt });
    const faults = read.ok ? read.value.told.flatMap(({ why }) => (typeof why === "string" ? [] : why)) : [];
    expect(faults.map(faultWords)).toEqual(["instead: please write what", "please give an answer behind the reference"]);
    const nobody = replyFromMail("R5: yes", LETTER, { name: "" });
    expect(nobody.ok ? "" : nobody.faults.map(faultWords).join()).toBe("please give some text");
    expect(faultWords({ given: "a file that is no PDF", wanted: "a filled form" })).toBe(
      "given: a file that is no PDF; wanted: a filled form",
    );
  });

  test("what somebody wrote is quoted on one line, short, with nothing hidden", () => {
    expect(quotedWords('say "yes"')).toBe('“say "yes"”');
    expect(quotedWords("a\n\u202eb")).toBe("“a??b”");
    expect(quotedWords("x".repeat(200))).toHaveLength(83);
  });
});
