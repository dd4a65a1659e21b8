import { readOfReply } from "../../_server/replyGate.ts";
import { replyPdf } from "../../_server/replyHtml.ts";
import { shutPage } from "../../_server/replyPages.tsx";

/** The letter as it went out. */
export const GET = readOfReply("GET /reply/letter", async ({ office, sent }) => {
  const made = await office.store.made(sent.made);
  return made === null ? shutPage() : replyPdf(made.pdf, `letter-${sent.number}.pdf`);
});
