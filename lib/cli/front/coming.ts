import { randomUUID } from "node:crypto";
import type { IncomingHttpHeaders, IncomingMessage } from "node:http";
import { type BlockList, isIP } from "node:net";
import { type Route, routeOf } from "../../access/rules.ts";
import { ADDRESS_HEADER, REQUEST_HEADER } from "../../outside/underWay.ts";

/** A request as far as it is known before it is read. */
export interface Coming {
  /** By which the log, the answer and the page of an error name it. */
  readonly number: string;
  readonly method: string;
  /** Without its query. */
  readonly path: string;
  /** Which of our addresses it is; null where it is none. */
  readonly rule: Route | null;
  /** The address by its pattern, in which no codes and names stand. */
  readonly route: string;
  /** Which visit it is about; undefined where about none. */
  readonly visit: string | undefined;
  /** Where it comes from, as far as trusted proxies tell. */
  readonly address: string;
  readonly secure: boolean;
  /** Whether somebody passed it on whom we do not trust to say for whom. */
  readonly passedOn: boolean;
}

const METHODS = new Set(["GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"]);
const ID = /^[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
const NUMBER = /^[\w-]{8,64}$/;

/** An IPv4 address that came by an IPv6 socket is the same address. */
const plain = (address: string): string => address.trim().replace(/^::ffff:(?=\d+\.)/i, "");

const isTrusted = (proxies: BlockList, address: string): boolean => {
  const version = isIP(address);
  return version !== 0 && proxies.check(address, version === 4 ? "ipv4" : "ipv6");
};

/** The right-most address that is no trusted proxy's: what stands left of it anybody can have written. What is no address ends the chain. */
export const addressIn = (socket: string, forwarded: string | undefined, proxies: BlockList): string => {
  const chain = (forwarded ?? "").split(",").map(plain).reverse();
  let here = plain(socket);
  for (const next of chain) {
    if (!isTrusted(proxies, here) || isIP(next) === 0) return here;
    here = next;
  }
  return here;
};

const textOf = (given: string | readonly string[] | undefined): string | undefined =>
  typeof given === "string" ? given : given?.join(",");

/** What is no page: files of the framework, and addresses that the server answers itself. */
const NO_PAGES = /^\/(_next\/static|_next\/image)\/|^\/(icon\.svg|favicon\.ico|health|ready|metrics)$/;

const patternOf = (rule: Route | null, path: string): string => {
  const [, folder, file] = NO_PAGES.exec(path) ?? [];
  if (folder !== undefined) return `/${folder}/[file]`;
  return file === undefined ? (rule?.replace(/^\w+ /, "") ?? "(none)") : `/${file}`;
};

const PASSED = ["x-forwarded-for", "forwarded", "x-real-ip", "via"];

/** What is known of a request; its own word for it is believed only where a trusted proxy hands it on. */
export const comingOf = ({ headers, socket, method = "GET", url = "/" }: IncomingMessage, proxies: BlockList): Coming => {
  const path = url.replace(/[?#].*$/s, "");
  const from = socket.remoteAddress ?? "";
  const trusted = isTrusted(proxies, plain(from));
  const given = trusted ? (textOf(headers["x-request-id"]) ?? "") : "";
  const rule = routeOf(method, path);
  const visit = /^\/visits\/([^/]+)/.exec(path)?.[1];
  return {
    number: NUMBER.test(given) ? given : randomUUID(),
    method: METHODS.has(method) ? method : "OTHER",
    path,
    rule,
    route: patternOf(rule, path),
    visit: visit !== undefined && ID.test(visit) ? visit : undefined,
    address: addressIn(from, textOf(headers["x-forwarded-for"]), proxies),
    secure: trusted && textOf(headers["x-forwarded-proto"])?.split(",").at(-1)?.trim() === "https",
    passedOn: !trusted && PASSED.some((name) => headers[name] !== undefined),
  };
};

/** Takes from a request what only we may tell the pages, and tells it. */
export const tellPages = (headers: IncomingHttpHeaders, { number, address, secure }: Coming): void => {
  for (const name of Object.keys(headers)) if (/^(x-forehail-|x-forwarded-|forwarded$|x-real-ip$)/.test(name)) delete headers[name];
  headers[REQUEST_HEADER] = number;
  headers[ADDRESS_HEADER] = address;
  headers["x-forwarded-for"] = address;
  headers["x-forwarded-proto"] = secure ? "https" : "http";
};
