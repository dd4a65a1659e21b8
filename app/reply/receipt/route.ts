import { readOfReply } from "../../_server/replyGate.ts";
import { shutPage } from "../../_server/replyPages.tsx";

export const GET = readOfReply("GET /reply/receipt", () => shutPage());
