import { afterAll, expect, test } from "vitest";
import { replyFromPdf } from "../../lib/reply/fromPdf.ts";
import { formReader } from "../../lib/reply/readForm.ts";
import { chanceOf } from "./nasty.ts";
import { filledForm, filledForms, quickReader, readerAt, spoiledPdf } from "./pdfs.ts";
import { tried } from "./try.ts";

const SEED = 20260302;
const MANY = 40;

const [filled, address] = [await filledForm(), await readerAt()];
const alone = formReader({ timeout: 60_000, memory: 512 }, address);
const quick = quickReader(address, alone);
afterAll(() => quick.close());

test("a filled form that was spoiled in any way is read whole or refused, and its reader always ends", async () => {
  const { crashes, taken, refused } = await tried(await filledForms(filled, quick), SEED, MANY);
  expect(crashes).toEqual([]);
  expect(taken + refused).toBe(MANY);
  expect(refused).toBeGreaterThan(MANY / 4);
});

test("what reads many reads them as the program's own reader does", async () => {
  for (const pdf of [filled.pdf, filled.open, spoiledPdf(filled, chanceOf(SEED))])
    expect(await replyFromPdf(pdf, filled, quick)).toEqual(await replyFromPdf(pdf, filled, alone));
  expect(await replyFromPdf(filled.open, filled, quick)).toMatchObject({ ok: true, value: { by: { name: "A. Brandvold" } } });
});
