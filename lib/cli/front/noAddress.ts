import type { IncomingMessage, ServerResponse } from "node:http";
import { wordsPage } from "../../access/ownPage.ts";
import { routeOf } from "../../access/rules.ts";
import { answer } from "./answers.ts";
import type { Coming } from "./coming.ts";

const isReadable = (path: string): boolean => {
  try {
    decodeURIComponent(path);
    return true;
  } catch {
    return false;
  }
};

/** Answers what is not read, and ends its connection: the rest of it may never come. */
const turnAway = (coming: Coming, request: IncomingMessage, response: ServerResponse, status: number, page: string): true => {
  request.resume();
  response.setHeader("connection", "close");
  answer(coming, response, status, "text/html", page);
  return true;
};

/** Turns away an address whose signs with “%” mean nothing: the framework would take it for an error of its own. */
export const turnAwayUnreadable = (coming: Coming, request: IncomingMessage, response: ServerResponse): boolean =>
  !isReadable(coming.path) &&
  turnAway(
    coming,
    request,
    response,
    400,
    wordsPage("This address cannot be read", "It was cut off or changed on its way. Nothing was changed."),
  );

/** Turns away what is sent to an address that takes nothing: the framework would read it, whatever it is, for acts that no page of ours has. */
export const turnAwayUnasked = (coming: Coming, request: IncomingMessage, response: ServerResponse): boolean => {
  if (coming.rule !== null || ["GET", "HEAD"].includes(coming.method)) return false;
  const isPage = routeOf("GET", coming.path) !== null;
  if (isPage) response.setHeader("allow", "GET, HEAD");
  const page = wordsPage("Nothing can be sent to this address", "Go back to the page that you came from. Nothing was changed.");
  return turnAway(coming, request, response, isPage ? 405 : 404, page);
};
