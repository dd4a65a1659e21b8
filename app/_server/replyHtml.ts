import { createHash } from "node:crypto";
import type { ReactElement } from "react";
import { STYLE } from "../../components/reply/style.ts";

const DIGEST = createHash("sha256").update(STYLE).digest("base64");

/** Nothing but the page's own: its sheet by its digest, its script, its forms. */
const POLICY = `default-src 'none'; style-src 'sha256-${DIGEST}'; script-src 'self'; connect-src 'self'; img-src data:; form-action 'self'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'`;

/** Headers of everything that is answered on the reply's addresses. */
export const REPLY_HEADERS: Readonly<Record<string, string>> = {
  "content-security-policy": POLICY,
  "cache-control": "no-store",
  "referrer-policy": "no-referrer",
  "x-robots-tag": "noindex, nofollow",
};

/** A page of the reply as an answer. The framework forbids the renderer in its own pages; here there is no other. */
export const replyHtml = async (
  page: ReactElement,
  { status = 200, cookies = [] }: { readonly status?: number; readonly cookies?: readonly string[] } = {},
): Promise<Response> => {
  const { renderToStaticMarkup } = await import("react-dom/server");
  const headers = new Headers({ ...REPLY_HEADERS, "content-type": "text/html; charset=utf-8" });
  for (const cookie of cookies) headers.append("set-cookie", cookie);
  return new Response(`<!DOCTYPE html>${renderToStaticMarkup(page)}`, { status, headers });
};

/** A paper to be kept, under a name of ours. */
export const replyPdf = (pdf: Uint8Array, name: string): Response =>
  new Response(Buffer.from(pdf), {
    headers: { ...REPLY_HEADERS, "content-type": "application/pdf", "content-disposition": `attachment; filename="${name}"` },
  });
