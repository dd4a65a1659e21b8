import { readOfReply } from "../../_server/replyGate.ts";
import { REPLY_HEADERS } from "../../_server/replyHtml.ts";
import { shutPage } from "../../_server/replyPages.tsx";

/** The letter as it went out. */
export const GET = readOfReply("GET /reply/letter", async ({ office, sent }) => {
  const made = await office.store.made(sent.made);
  if (made === null) return shutPage();
  return new Response(Buffer.from(made.pdf), {
    headers: {
      ...REPLY_HEADERS,
      "content-type": "application/pdf",
      "content-disposition": `attachment; filename="letter-${sent.number}.pdf"`,
    },
  });
});
