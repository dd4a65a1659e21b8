import { type NextRequest, NextResponse } from "next/server";

/** What a page may load and where it may send: its own only, scripts by a nonce that no one can foresee. */
const policyWith = (nonce: string): string =>
  [
    "default-src 'none'",
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic'`,
    "style-src 'self'",
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

const HEADERS: Readonly<Record<string, string>> = {
  "x-content-type-options": "nosniff",
  "referrer-policy": "same-origin",
  "cross-origin-opener-policy": "same-origin",
  "permissions-policy": "camera=(), microphone=(), geolocation=()",
  "strict-transport-security": "max-age=31536000; includeSubDomains",
};

/** The letter as a page, and files that came from outside, have policies of their own, stricter than this. */
const OWN_POLICY = /\/letter\/page$|^\/visits\/[^/]+\/files\/[^/]+$/;

/** Puts the headers of safety on every answer; the nonce goes to the page by its request. */
export const proxy = (request: NextRequest): NextResponse => {
  const policy = policyWith(Buffer.from(crypto.getRandomValues(new Uint8Array(18))).toString("base64"));
  const headers = new Headers(request.headers);
  headers.set("content-security-policy", policy);
  headers.set("x-forehail-path", `${request.nextUrl.pathname}${request.nextUrl.search}`);
  const response = NextResponse.next({ request: { headers } });
  if (!OWN_POLICY.test(request.nextUrl.pathname)) response.headers.set("content-security-policy", policy);
  for (const [name, value] of Object.entries(HEADERS)) response.headers.set(name, value);
  return response;
};

export const config = { matcher: [{ source: "/((?!_next/static|favicon.ico).*)" }] };
