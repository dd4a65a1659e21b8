import { failure, type Result, success } from "../kernel/result.ts";
import type { Fault } from "../model/fault.ts";

/** A mail server and how the office signs in there. */
export interface MailServer {
  readonly host: string;
  readonly port: number;
  /** Encrypted from the first byte (`smtps`); else encrypted as soon as the server offers it. */
  readonly secure: boolean;
  readonly login?: { readonly user: string; readonly pass: string };
}

const WANTED =
  "smtp://host:port or smtps://host:port, with user:password@ before the host where the server asks for them, signs other than letters and digits in these written as %40";

const PORTS: Readonly<Record<string, number>> = { "smtp:": 587, "smtps:": 465 };

/** What may be repeated of a wrong address: never the part where a password stands. */
const shown = (url: URL): string => `${url.protocol}//${url.host}${url.pathname}${url.search === "" ? "" : "?…"}`;

const parsed = (text: string): URL | null => (URL.canParse(text) ? new URL(text) : null);

/** Text with its %-signs read; null where they are wrong. */
const unescaped = (text: string): string | null => {
  try {
    return decodeURIComponent(text);
  } catch {
    return null;
  }
};

/** The server that an SMTP address names. A wrong address is a fault that does not repeat user name and password. Pure. */
export const mailServerOf = (text: string): Result<MailServer, Fault> => {
  const refused = (given: string): Result<MailServer, Fault> => failure({ at: "/SMTP_URL", given, wanted: WANTED });
  const url = parsed(text.trim());
  if (url === null) return refused("what is no address");
  const port = PORTS[url.protocol];
  if (port === undefined || url.hostname === "") return refused(shown(url));
  // Settings behind the address could turn on a log with the password in it, or leave certificates unchecked.
  if ((url.pathname !== "" && url.pathname !== "/") || url.search !== "" || url.hash !== "") return refused(shown(url));
  const [user, pass] = [unescaped(url.username), unescaped(url.password)];
  if (user === null || pass === null) return refused(`${shown(url)}, with a % that stands for no sign in user or password`);
  if ((user === "") !== (pass === "")) return refused(`${shown(url)}, with one of user and password only`);
  return success({
    host: url.hostname.replaceAll(/^\[|\]$/g, ""),
    port: url.port === "" ? port : Number(url.port),
    secure: url.protocol === "smtps:",
    ...(user === "" ? {} : { login: { user, pass } }),
  });
};
