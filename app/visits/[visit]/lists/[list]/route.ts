import type { Letter } from "../../../../../lib/letter/blocks.ts";
import { fileStem } from "../../../../../lib/letter/words.ts";
import { LISTS, listOf } from "../../../../../lib/usecases/visits/lists.ts";
import { vesselOf } from "../../../../../lib/usecases/visits/visitDraft.ts";
import { admitToVisit } from "../../../../_server/gate.ts";
import { paperInTurn } from "../../../../_server/inTurn.ts";
import { unitsIn, usualUnits } from "../../../../_server/letters.ts";

type Context = { readonly params: Promise<{ readonly visit: string; readonly list: string }> };

/** A list or paper of the visit as it stands, for others than the vessel. */
export const GET = async (request: Request, { params }: Context): Promise<Response> => {
  const { visit, list } = await params;
  const { office, person, stored } = await admitToVisit("GET /visits/[visit]/lists/[list]", visit);
  const name = LISTS.find((one) => one === list);
  if (name === undefined) return new Response("there is no such list\n", { status: 404 });
  const units = unitsIn(new URL(request.url).searchParams.get("units"), await usualUnits(office));
  const { planner, letters, days, store, world } = office;
  return paperInTurn(office, request, person.id, async (tell) => {
    const render = (letter: Letter) => letters.render(letter, tell);
    const file = await listOf(stored, name, { planner, store, render, dayOf: days.dayOf, now: world.now(), units });
    if (!file.ok)
      return new Response(`${file.faults.join("; ")}\n`, { status: 409, headers: { "content-type": "text/plain; charset=utf-8" } });
    const { type, content } = file.value;
    return new Response(typeof content === "string" ? content : Buffer.from(content), {
      headers: {
        "content-type": type,
        "content-disposition": `attachment; filename="${fileStem(vesselOf(stored.frame as object))}-${name}"`,
        "cache-control": "no-store",
      },
    });
  });
};
