import { type NextRequest, NextResponse } from "next/server";
import { OWN_STYLE } from "./lib/access/ownPage.ts";

/** What a page may load and where it may send: its own only, scripts by a nonce that no one can foresee. */
const policyWith = (nonce: string): string =>
  [
    "default-src 'none'",
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic'`,
    `style-src 'self' ${OWN_STYLE}`,
    "img-src 'self' data:",
    "font-src 'self'",
    "connect-src 'self'",
    "worker-src 'self'",
    "frame-src 'self'",
    "form-action 'self'",
    "base-uri 'none'",
    "object-src 'none'",
    "frame-ancestors 'self'",
  ].join("; ");

/** What has a policy of its own, stricter than this: the letter as a page, files that came from outside, the reply's pages. */
const OWN_POLICY = /\/letter\/page$|^\/visits\/[^/]+\/files\/[^/]+$|^\/reply(?:\/[^/]+|\/at\/[^/]+)?$/;

/** What is added where people come by a private link: nobody else learns of the address. */
const PRIVATE: Readonly<Record<string, string>> = { "referrer-policy": "no-referrer", "x-robots-tag": "noindex, nofollow" };

const HEADERS: Readonly<Record<string, string>> = {
  "x-content-type-options": "nosniff",
  "referrer-policy": "same-origin",
  "cross-origin-opener-policy": "same-origin",
  "permissions-policy": "camera=(), microphone=(), geolocation=()",
};

/** Puts the headers of safety on every answer (that it is only ever reached by https says the server in front); the nonce goes to the page by its request. */
export const proxy = (request: NextRequest): NextResponse => {
  const policy = policyWith(Buffer.from(crypto.getRandomValues(new Uint8Array(18))).toString("base64"));
  const headers = new Headers(request.headers);
  headers.set("content-security-policy", policy);
  headers.set("x-forehail-path", `${request.nextUrl.pathname}${request.nextUrl.search}`);
  const response = NextResponse.next({ request: { headers } });
  const { pathname } = request.nextUrl;
  if (!OWN_POLICY.test(pathname)) response.headers.set("content-security-policy", policy);
  const more = pathname === "/reply" || pathname.startsWith("/reply/") ? PRIVATE : {};
  for (const [name, value] of Object.entries({ ...HEADERS, ...more })) response.headers.set(name, value);
  return response;
};

export const config = { matcher: [{ source: "/((?!_next/static|favicon.ico).*)" }] };
