import { formReader } from "../../lib/reply/readForm.ts";
import { filledForm, filledForms, quickReader, readerAt } from "../bad/pdfs.ts";
import { POST_LIMIT, postsTried } from "../bad/postsTried.ts";
import { tried } from "../bad/try.ts";
import { serve } from "../browser/server.ts";

const SEED = 20260302;
const FORMS = 2_000;
const POSTS = 5_040;

const seconds = (since: number): number => Math.round((performance.now() - since) / 1000);
const told = (wrong: readonly string[]): number => {
  for (const one of wrong.slice(0, 20)) console.log(one.slice(0, 600));
  return wrong.length;
};

/** Filled forms that were spoiled, read as the program reads them; how much was wrong. */
const forms = async (seed: number, filled: Awaited<ReturnType<typeof filledForm>>): Promise<number> => {
  const [began, address] = [performance.now(), await readerAt()];
  const reader = quickReader(address, formReader(undefined, address));
  const parser = await filledForms(filled, reader);
  const { count, refused, taken, slowest, crashes } = await tried(parser, seed, FORMS);
  await reader.close();
  console.log(`\nBad filled forms, seed ${seed}: ${count}, refused ${refused}, taken ${taken}, crashes ${crashes.length}`);
  console.log(`slowest ${Math.round(slowest)} ms of ${parser.limit}; ${seconds(began)} s`);
  return told([...crashes, ...(slowest > parser.limit ? ["a form took longer than its limit"] : [])]);
};

/** Bad posts to a served office; how much was wrong. */
const posts = async (seed: number, pdf: Uint8Array): Promise<number> => {
  const served = await serve({ copies: 1, more: { FOREHAIL_PROXIES: "127.0.0.1, ::1" } });
  const began = performance.now();
  const { count, ends, slowest, slowestPaper, memory, halfSaved, wrong, byRoute } = await postsTried(served, seed, POSTS, [pdf]);
  await served.stop();
  console.log(`\nBad posts, seed ${seed}: ${count} to ${byRoute.size} addresses, at least ${Math.min(...byRoute.values())} to each`);
  console.log(
    `refused ${ends.refused}, taken ${ends.taken}, sender gone ${ends.unheard}, too hasty ${ends.hasty}, half-saved ${halfSaved}`,
  );
  console.log(`slowest ${Math.round(slowest)} ms of ${POST_LIMIT}, with papers and files ${Math.round(slowestPaper)} ms of 30000`);
  console.log(`server at the end ${Math.round(memory)} MB; ${seconds(began)} s`);
  return told(wrong);
};

const seed = Number(process.argv.slice(2).find((one) => /^\d+$/.test(one)) ?? SEED);
const filled = await filledForm();
const wrong = (await forms(seed, filled)) + (await posts(seed, filled.pdf));
console.log(`${FORMS + POSTS} forms and posts, ${wrong} wrong  wanted 0`);
process.exit(wrong > 0 ? 1 : 0);
