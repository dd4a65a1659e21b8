import { openLink } from "../../../lib/usecases/exchange/reply.ts";
import { heldBack, replyAt } from "../../_server/replyDoor.ts";
import { readOfReply, writeOfStranger } from "../../_server/replyGate.ts";
import { shutPage, stepPage } from "../../_server/replyPages.tsx";

/** Somebody came back to the address that the button posted to. */
export const GET = readOfReply("GET /reply/open", (at) => stepPage(at, "start"));

/** Exchanges the code of a link for a cookie, and answers with the reply itself: one round trip. */
export const POST = writeOfStranger("POST /reply/open", async (office, form) => {
  const code = String(form?.get("code") ?? "");
  const at = await replyAt(office, await openLink(office.store, code, office.world.now()));
  return at === null ? shutPage((await heldBack(office)) ? 403 : 429) : stepPage(at, "start");
});
