import { answer } from "./answers.ts";
import type { Station } from "./server.ts";

const TAKEN: readonly string[] = ["GET", "HEAD", "POST"];

/** Turns away what no address answers: the framework would repeat some of it, and fail at the rest. */
export const turnAwayOtherMethods: Station = (coming, request, response) => {
  if (TAKEN.includes(coming.method)) return false;
  response.setHeader("allow", TAKEN.join(", "));
  request.resume();
  answer(coming, response, 405, "text/plain", `Wanted is one of ${TAKEN.join(", ")}.\n`);
  return true;
};
