import { coreFiles } from "../../_server/core.ts";

type Context = { readonly params: Promise<{ readonly name: string }> };

/** The decision core and the rulebook, each under a name that changes with its content. */
export const GET = async (_: Request, { params }: Context): Promise<Response> => {
  const { name } = await params;
  const file = Object.values(await coreFiles()).find((one) => one.name === name);
  return file === undefined
    ? new Response("there is no such file\n", { status: 404 })
    : new Response(file.body, { headers: { "content-type": file.type, "cache-control": "public, max-age=31536000, immutable" } });
};
