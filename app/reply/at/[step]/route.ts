import { largeIn } from "../../../../lib/access/rules.ts";
import { readOfReply, writeOfReply } from "../../../_server/replyGate.ts";
import { fileTooLarge, stepPage } from "../../../_server/replyPages.tsx";
import { saveStep } from "../../../_server/replySave.ts";

export const GET = readOfReply("GET /reply/at/[step]", (at, { step }, query) => {
  const large = largeIn(query);
  return stepPage(at, String(step), large === null ? {} : fileTooLarge(large));
});

/** Saves the page that was filled in and answers with the one that was asked for; with the same again where something on it is wrong. */
export const POST = writeOfReply("POST /reply/at/[step]", async (writing) => {
  const saved = await saveStep(writing);
  if (saved instanceof Response) return saved;
  const { at, params, form } = writing;
  const to = String(params["step"]);
  const goesOn = to !== saved.from.id && form.get("leave") === null;
  return saved.faults.length > 0 && goesOn ? stepPage(at, saved.from.id, saved) : stepPage(at, to, to === saved.from.id ? saved : {});
});
