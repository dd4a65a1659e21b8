import { createHash } from "node:crypto";
import { letterOf } from "../../../../../lib/letter/letter.ts";
import { sinceLastLetter } from "../../../../../lib/usecases/exchange/former.ts";
import { planVisit } from "../../../../../lib/usecases/visits/planVisit.ts";
import { admitToVisit } from "../../../../_server/gate.ts";
import { paperInTurn } from "../../../../_server/inTurn.ts";
import { unitsIn, usualUnits } from "../../../../_server/letters.ts";

type Context = { readonly params: Promise<{ readonly visit: string }> };

const styleIn = (html: string): string => /<style>([\s\S]*?)<\/style>/.exec(html)?.[1] ?? "";

/** The letter as a page that stands alone. Its one style is allowed by its digest, nothing else is. */
export const GET = async (request: Request, { params }: Context): Promise<Response> => {
  const { visit } = await params;
  const { office, person, stored } = await admitToVisit("GET /visits/[visit]/letter/page", visit);
  const planned = planVisit(stored, office.planner);
  if (!planned.ok) return new Response("the letter waits: the visit is not told in full yet\n", { status: 409 });
  const units = unitsIn(new URL(request.url).searchParams.get("units"), await usualUnits(office));
  const { rulebook } = office.planner;
  const since = await sinceLastLetter(office.store, visit, rulebook);
  return paperInTurn(office, request, person.id, async (tell) => {
    const page = await office.letters.page(letterOf({ ...planned.value, rulebook, units, ...since }), tell);
    if (!page.ok) return new Response(`${page.faults.join("; ")}\n`, { status: 503 });
    const digest = createHash("sha256").update(styleIn(page.value)).digest("base64");
    return new Response(page.value, {
      headers: {
        "content-type": "text/html; charset=utf-8",
        "content-security-policy": `default-src 'none'; style-src 'sha256-${digest}'; object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'`,
        "cache-control": "no-store",
      },
    });
  });
};
