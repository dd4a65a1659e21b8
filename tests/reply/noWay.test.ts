import { expect, test } from "vitest";
import { testFields } from "../../lib/letter/formFields.ts";
import type { Asked, AskedTest } from "../../lib/plan/asked.ts";
import { replyFromFields } from "../../lib/reply/fromForm.ts";
import { replyFromMail } from "../../lib/reply/fromMail.ts";
import { NOTHING_PLANNED } from "../../lib/reply/values.ts";
import { allAgreed } from "../../lib/usecases/exchange/fillStep.ts";

const planned = (ref: string, way: string): AskedTest => ({
  ref,
  at: `/sets/0/${ref}`,
  kind: "overspeed",
  set: "Generator 1",
  name: "overspeed",
  way,
  settled: false,
  others: [],
});
const asked: Asked = { questions: [], requests: [], tests: [planned("T1", "in some way"), planned("T2", "")], known: [] };
const LETTER = { mark: "TSO/1", asked };
const BY = { name: "A. Brandvold" };

test("in a form an agreement to a test without a way is a fault, and a proposal is none", () => {
  const says = (ref: string, said: string, words = "") =>
    replyFromFields(
      new Map([
        [testFields(ref).says, said],
        [testFields(ref).words, words],
      ]),
      LETTER,
      {},
      BY,
    );
  expect(says("T1", "agreed").ok).toBe(true);
  const read = says("T2", "agreed");
  expect(read.ok ? [] : read.faults).toMatchObject([{ at: "T2", wanted: NOTHING_PLANNED }]);
  expect(says("T2", "another way", "by the maker’s rig").ok).toBe(true);
});

test("in a mail as well", () => {
  const read = replyFromMail("T1: agreed\nT2: agreed", LETTER, BY);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  expect(read.value.reply.tests).toEqual({ T1: { says: "agreed" } });
  expect(read.value.told.map(({ why }) => why)).toMatchObject([[{ at: "T2", wanted: NOTHING_PLANNED }]]);
});

test("who agrees to all tests of a page passes one without a way over", () => {
  const empty = (ref: string) => ({ ref, fields: { [testFields(ref).says]: "" }, seen: 0, post: "p" });
  expect(allAgreed(asked, [empty("T1"), empty("T2")]).map(({ fields }) => Object.values(fields))).toEqual([["agreed"], [""]]);
});
