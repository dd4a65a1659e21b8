import type { IncomingMessage, ServerResponse } from "node:http";
import { wordsPage } from "../../access/ownPage.ts";
import { answer } from "./answers.ts";
import type { Coming } from "./coming.ts";

/** The host as an address of ours would have it, without a port that goes without saying. */
const hostOf = (protocol: string, host: string): string | null =>
  URL.canParse(`${protocol}//${host}`) ? new URL(`${protocol}//${host}`).host : null;

/** Turns away who asks for another host than the office's address, where that is known: links and forms would go astray. */
export const turnAwayOtherHosts = (
  url: string | undefined,
): ((coming: Coming, request: IncomingMessage, response: ServerResponse) => boolean) => {
  if (url === undefined) return () => false;
  const { protocol, host } = new URL(url);
  return (coming, { headers }, response) => {
    if (hostOf(protocol, headers.host ?? "") === host) return false;
    answer(coming, response, 421, "text/html", wordsPage("This is not the address of the office", `Open ${new URL(url).origin} instead.`));
    return true;
  };
};
