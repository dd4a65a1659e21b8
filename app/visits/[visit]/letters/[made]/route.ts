import { fileStem } from "../../../../../lib/letter/words.ts";
import { vesselOf } from "../../../../../lib/usecases/visits/visitDraft.ts";
import { admitToVisit } from "../../../../_server/gate.ts";

type Context = { readonly params: Promise<{ readonly visit: string; readonly made: string }> };

/** A letter as it was made, byte for byte. */
export const GET = async (_: Request, { params }: Context): Promise<Response> => {
  const { visit, made } = await params;
  const { office, stored } = await admitToVisit("GET /visits/[visit]/letters/[made]", visit);
  const letter = await office.store.made(made);
  if (letter === null || letter.visit !== stored.id) return new Response("there is no such letter\n", { status: 404 });
  return new Response(Buffer.from(letter.pdf), {
    headers: {
      "content-type": "application/pdf",
      "content-disposition": `attachment; filename="${fileStem(vesselOf(stored.frame as object))}-letter-${letter.when.slice(0, 10)}-version-${letter.version}.pdf"`,
      "cache-control": "no-store",
    },
  });
};
