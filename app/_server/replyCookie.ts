import { isEncrypted } from "../../lib/access/encrypted.ts";
import { markOfSession, OPEN_LASTS, replySession } from "../../lib/access/replyLink.ts";
import type { Office } from "../../lib/usecases/office.ts";

type Sealing = Pick<Office, "secret" | "clock" | "url">;

/** Over https a name that a browser takes from this very host alone, and only encrypted; without https there is none such. */
const nameOf = ({ url }: Pick<Sealing, "url">): string => `${isEncrypted(url) ? "__Host-" : ""}forehail-reply`;

/** The header that has a browser keep that a link, by its mark, was opened. Only the reply's pages look at it. */
export const replyCookie = (mark: string, sealing: Sealing): string =>
  `${nameOf(sealing)}=${replySession(mark, sealing.secret, sealing.clock())}; Path=/; Max-Age=${OPEN_LASTS / 1000}; HttpOnly; SameSite=Strict${isEncrypted(sealing.url) ? "; Secure" : ""}`;

/** The mark of the link that the browser of a request opened; null where it opened none that still counts. */
export const markIn = (request: Request, sealing: Sealing): string | null => {
  const name = `${nameOf(sealing)}=`;
  const given = (request.headers.get("cookie") ?? "").split("; ").find((cookie) => cookie.startsWith(name));
  return given === undefined ? null : markOfSession(given.slice(name.length), sealing.secret, sealing.clock());
};
