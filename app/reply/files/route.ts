import { faultWords } from "../../../lib/reply/faultWords.ts";
import { addFile, dropFile } from "../../../lib/usecases/exchange/files.ts";
import { LARGEST_UPLOAD_FORM } from "../../_server/readForm.ts";
import { type ReplyWriting, writeOfReply } from "../../_server/replyGate.ts";
import { type Shown, stepPage } from "../../_server/replyPages.tsx";

const wrong = (says: string): Shown => ({ faults: [{ ref: "file", says }] });

const added = async ({ at, form, by, log }: ReplyWriting): Promise<Shown> => {
  const { office, sent } = at;
  const file = form.get("file");
  if (!(file instanceof File) || file.size === 0) return wrong("no file is chosen, or an empty one; wanted: a file with something in it");
  const content = new Uint8Array(await file.arrayBuffer());
  const kept = await addFile(office, sent, { what: String(form.get("what") ?? ""), name: file.name, type: file.type, content }, by);
  if (!kept.ok) return wrong(kept.faults.map(faultWords).join("; "));
  await log("file received", `letter ${sent.number}, ${kept.value.what}, ${kept.value.size} bytes`);
  return { note: `${kept.value.name} is received and kept.` };
};

const dropped = async ({ at, log }: ReplyWriting, id: string): Promise<Shown> => {
  const done = await dropFile(at.office, at.sent, id);
  if (!done.ok) return wrong(done.faults.map(faultWords).join("; "));
  await log("file taken away", `letter ${at.sent.number}`);
  return { note: "The file is taken away." };
};

/** Takes a file that comes with the reply, or takes one away again, and answers with the page of files. */
export const POST = writeOfReply(
  "POST /reply/files",
  async (writing) => {
    const { at, form } = writing;
    if (at.later !== undefined) return stepPage(at, "files");
    const drop = form.get("drop");
    return stepPage(at, "files", typeof drop === "string" ? await dropped(writing, drop) : await added(writing));
  },
  LARGEST_UPLOAD_FORM,
);
