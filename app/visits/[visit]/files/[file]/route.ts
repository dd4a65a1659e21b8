import { fileToTake } from "../../../../../lib/usecases/exchange/files.ts";
import { admitToVisit, missing } from "../../../../_server/gate.ts";

type Context = { readonly params: Promise<{ readonly visit: string; readonly file: string }> };

/** A file that came with a reply. It comes from outside: only ever a download, under a name of ours, and nothing in it may run or load. */
export const GET = async (_: Request, { params }: Context): Promise<Response> => {
  const { visit, file } = await params;
  const { office, stored } = await admitToVisit("GET /visits/[visit]/files/[file]", visit);
  const taken = await fileToTake(office.store, stored.id, file);
  if (taken === null) return missing();
  return new Response(Buffer.from(taken.content), {
    headers: {
      "content-type": taken.type,
      "content-disposition": `attachment; filename="${taken.name}"`,
      "content-security-policy": "default-src 'none'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; sandbox",
      "x-content-type-options": "nosniff",
      "cache-control": "no-store",
    },
  });
};
