import { fileStem } from "../../../../lib/letter/words.ts";
import { fileOfVisit } from "../../../../lib/usecases/visits/planVisit.ts";
import { admitToVisit } from "../../../_server/gate.ts";

type Context = { readonly params: Promise<{ readonly visit: string }> };

/** The visit as the command line reads it. */
export const GET = async (_: Request, { params }: Context): Promise<Response> => {
  const { visit } = await params;
  const { office, stored } = await admitToVisit("GET /visits/[visit]/file", visit);
  const file = fileOfVisit(stored, office.planner) as { readonly visit?: { readonly vessel?: { readonly name?: string } } };
  return new Response(`${JSON.stringify(file, null, 2)}\n`, {
    headers: {
      "content-type": "application/json; charset=utf-8",
      "content-disposition": `attachment; filename="${fileStem(file.visit?.vessel?.name ?? "")}.json"`,
      "cache-control": "no-store",
    },
  });
};
