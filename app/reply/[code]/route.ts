import { landingPage } from "../../_server/replyPages.tsx";

type Context = { readonly params: Promise<{ readonly code: string }> };

/** What a link of a mail shows: a button and nothing else, whatever the code, so that looking at links opens nothing and tells nothing. */
export const GET = async (_: Request, { params }: Context): Promise<Response> => landingPage((await params).code);
