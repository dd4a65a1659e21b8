import { createTransport } from "nodemailer";
import { failure, type Result, success } from "../kernel/result.ts";
import { type Fault, quoted } from "../model/fault.ts";
import type { Envelope } from "./message.ts";
import type { MailServer } from "./smtpUrl.ts";

/** How long a server is waited for, in milliseconds. */
export interface Patience {
  /** Until the connection stands, its name looked up. */
  readonly connect: number;
  /** Until the server has greeted. */
  readonly greeting: number;
  /** While nothing comes at all. */
  readonly silence: number;
  /** For everything together, so that a server which answers by drops does not hold the office up. */
  readonly whole: number;
}

export const PATIENCE: Patience = { connect: 8_000, greeting: 8_000, silence: 20_000, whole: 120_000 };

/** A mail that the server has taken. */
export interface Taken {
  /** Host and port. */
  readonly server: string;
  /** Recipients that the server refused while it took others. */
  readonly refused: readonly string[];
}

/** What nodemailer tells of a failure, as far as it is used. */
interface Failure {
  readonly code?: unknown;
  /** The machine's own code, where that is the cause. */
  readonly originalCode?: unknown;
  readonly response?: unknown;
  readonly timeoutType?: unknown;
}

const told = (error: unknown): Failure => (typeof error === "object" && error !== null ? error : {});

/** What the server said, on one line; whatever it repeats of user name and password is left out, plain and as it was sent. */
const words = (response: unknown, { login }: MailServer): string => {
  if (typeof response !== "string") return "";
  const secrets = login === undefined ? [] : [login.pass, login.user];
  const coded = [...secrets.map((secret) => Buffer.from(secret).toString("base64")), ...secrets];
  return `: ${quoted(coded.reduce((text, secret) => text.replaceAll(secret, "…"), response))}`;
};

const TIMES: Readonly<Record<string, string>> = {
  CONNECT_TIMEOUT: "no connection came about in time",
  GREETING_TIMEOUT: "it did not greet in time",
  SOCKET_TIMEOUT: "it stopped answering; whether it took the mail is not known",
};

/** What the machine says of a connection that did not come about. */
const CAUSES: Readonly<Record<string, string>> = {
  ECONNREFUSED: "it refuses the connection",
  ENOTFOUND: "no server of that name is found",
  EAI_AGAIN: "no server of that name is found",
  EHOSTUNREACH: "it cannot be reached from here",
  ENETUNREACH: "it cannot be reached from here",
};

/** The words of node for certificates that are out of date, of another name or signed by nobody known. */
const CERTIFICATE = /CERT|ALTNAME|UNABLE_TO/;

/** Why a mail was not sent, in words for the one who looks after the server. */
const reasonOf = (error: unknown, server: MailServer): string => {
  const { code, originalCode, response, timeoutType } = told(error);
  const cause = String(originalCode ?? code);
  const known = CAUSES[cause];
  if (known !== undefined) return known;
  if (CERTIFICATE.test(cause)) return `its certificate is not trusted (${cause})`;
  switch (code) {
    case "EDNS":
      return "no server of that name is found";
    case "ETIMEDOUT":
      return TIMES[String(timeoutType)] ?? "no answer came in time";
    case "EABORT":
      return "it took too long altogether; whether it took the mail is not known";
    case "EAUTH":
    case "ENOAUTH":
      return "it does not accept user and password";
    case "ETLS":
      return "no encrypted connection came about";
    case "EENVELOPE":
      return `it does not accept sender or recipients${words(response, server)}`;
    case "EMESSAGE":
      return `it does not accept the mail${words(response, server)}`;
    case "EPROTOCOL":
      return `it does not answer as a mail server does${words(response, server)}`;
    default:
      return `the connection broke off${words(response, server)}`;
  }
};

const LOOPBACK = /^(localhost|127\.\d+\.\d+\.\d+|::1)$/;

/**
 * Hands a message to a mail server. A server that cannot be reached, is silent, or refuses, is a fault with the reason and without user name
 * and password. A password leaves this machine encrypted only.
 */
export const sendBySmtp = async (
  server: MailServer,
  envelope: Envelope,
  message: Buffer,
  patience: Patience = PATIENCE,
): Promise<Result<Taken, Fault>> => {
  const { host, port, secure, login } = server;
  const name = `${host.includes(":") ? `[${host}]` : host}:${port}`;
  const transport = createTransport({
    host,
    port,
    secure,
    ...(login === undefined ? {} : { auth: login, requireTLS: !secure && !LOOPBACK.test(host) }),
    connectionTimeout: patience.connect,
    dnsTimeout: patience.connect,
    greetingTimeout: patience.greeting,
    socketTimeout: patience.silence,
    disableFileAccess: true,
    disableUrlAccess: true,
  });
  try {
    const sent = await transport.sendMail({
      envelope: { from: envelope.from, to: [...envelope.to] },
      raw: message,
      signal: AbortSignal.timeout(patience.whole),
    });
    return success({ server: name, refused: sent.rejected });
  } catch (error) {
    return failure({ at: "/SMTP_URL", given: `${name}: ${reasonOf(error, server)}`, wanted: "a mail server that takes the mail" });
  } finally {
    transport.close();
  }
};
