import type { Office } from "../../lib/usecases/office.ts";
import type { Period } from "../../lib/usecases/overTime/asked.ts";
import { figuresOf, type VisitFigures } from "../../lib/usecases/overTime/figures.ts";

/** What every visit of a period brings to the figures. */
export const figuresIn = async ({ store }: Office, { from, to, inspector }: Period): Promise<readonly VisitFigures[]> =>
  (await store.histories({ from: `${from}-01`, to: `${to}-31`, ...(inspector === "" ? {} : { owner: inspector }) })).map(figuresOf);
