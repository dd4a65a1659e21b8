import { readOfReply } from "../_server/replyGate.ts";
import { stepPage } from "../_server/replyPages.tsx";

export const GET = readOfReply("GET /reply", (at) => stepPage(at, "start"));
