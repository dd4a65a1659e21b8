import { takeUp } from "../../_server/accountForm.ts";
import { writeOfAnybody } from "../../_server/gate.ts";

export const POST = writeOfAnybody("POST /set-up/create", (writing) => takeUp(writing, "/set-up"));
