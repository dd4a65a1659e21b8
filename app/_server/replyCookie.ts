import { markOfSession, OPEN_LASTS, replySession } from "../../lib/access/replyLink.ts";
import type { Office } from "../../lib/usecases/office.ts";

const NAME = "forehail-reply";

type Sealing = Pick<Office, "secret" | "clock" | "url">;

/** The header that has a browser keep that a link, by its mark, was opened. It goes with the reply's pages only. */
export const replyCookie = (mark: string, { secret, clock, url }: Sealing): string =>
  `${NAME}=${replySession(mark, secret, clock())}; Path=/reply; Max-Age=${OPEN_LASTS / 1000}; HttpOnly; SameSite=Strict${url.startsWith("https:") ? "; Secure" : ""}`;

/** The mark of the link that the browser of a request opened; null where it opened none that still counts. */
export const markIn = (request: Request, { secret, clock }: Sealing): string | null => {
  const given = (request.headers.get("cookie") ?? "").split("; ").find((cookie) => cookie.startsWith(`${NAME}=`));
  return given === undefined ? null : markOfSession(given.slice(NAME.length + 1), secret, clock());
};
