import { tableCsv, tableXlsx } from "../../../../lib/outside/sheets.ts";
import { FINDING_COLUMNS, findingRows } from "../../../../lib/usecases/review/findingRows.ts";
import { findingsBy, findingViews } from "../../../../lib/usecases/review/findings.ts";
import { findingQuery } from "../../../_server/findingQuery.ts";
import { admitPerson } from "../../../_server/gate.ts";
import { namesIn } from "../../../_server/words.ts";

type Context = { readonly params: Promise<{ readonly file: string }> };

const FILES = ["findings.csv", "findings.xlsx"] as const;

/** The findings that the page shows, as a sheet. */
export const GET = async (request: Request, { params }: Context): Promise<Response> => {
  const { office } = await admitPerson("GET /consistency/export/[file]");
  const asked = (await params).file;
  const file = FILES.find((one) => one === asked);
  if (file === undefined) return new Response("there is no such list\n", { status: 404 });
  const { filter } = findingQuery(Object.fromEntries(new URL(request.url).searchParams));
  const settled = await office.store.settledFindings();
  const compare = await office.compare();
  const views = findingViews(compare, findingsBy(compare, filter, settled), settled, office.planner);
  const rows = findingRows(views, await namesIn(office));
  const csv = file === "findings.csv";
  const content = csv
    ? tableCsv([FINDING_COLUMNS.map(({ title }) => title), ...rows])
    : Buffer.from(await tableXlsx("Findings", FINDING_COLUMNS, rows));
  return new Response(content, {
    headers: {
      "content-type": csv ? "text/csv; charset=utf-8" : "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
      "content-disposition": `attachment; filename="${file}"`,
      "cache-control": "no-store",
    },
  });
};
