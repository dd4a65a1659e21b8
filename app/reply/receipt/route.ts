import { receiptFor } from "../../../lib/usecases/exchange/receiptFor.ts";
import { paperInTurn } from "../../_server/inTurn.ts";
import { readOfReply } from "../../_server/replyGate.ts";
import { replyPdf } from "../../_server/replyHtml.ts";
import { notReadPage, stepPage } from "../../_server/replyPages.tsx";

/** The receipt of a confirmed reply; the reply itself while it is not confirmed. */
export const GET = readOfReply("GET /reply/receipt", async (at, _params, _query, request) => {
  const { office, sent, link } = at;
  const receipt = await receiptFor(office, sent);
  if (!receipt.ok) return stepPage(at, "check");
  return paperInTurn(office, request, link.mark, async (tell) => {
    const pdf = await office.letters.render(receipt.value, tell);
    return pdf.ok ? replyPdf(pdf.value, `receipt-letter-${sent.number}.pdf`) : notReadPage({ status: 503, words: pdf.faults.join("; ") });
  });
});
