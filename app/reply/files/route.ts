import { writeOfReply } from "../../_server/replyGate.ts";
import { stepPage } from "../../_server/replyPages.tsx";

export const POST = writeOfReply("POST /reply/files", ({ at }) => stepPage(at, "files"));
