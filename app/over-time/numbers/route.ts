import { tableCsv } from "../../../lib/outside/sheets.ts";
import { periodOf } from "../../../lib/usecases/overTime/asked.ts";
import { byMonth, causesOf, monthsFrom } from "../../../lib/usecases/overTime/figures.ts";
import { monthRows } from "../../../lib/usecases/overTime/measures.ts";
import { admitPerson } from "../../_server/gate.ts";
import { figuresIn } from "../../_server/overTime.ts";

/** The figures over time, or the causes when tests were not done as planned, as a sheet. */
export const GET = async (request: Request): Promise<Response> => {
  const { office } = await admitPerson("GET /over-time/numbers");
  const query = Object.fromEntries(new URL(request.url).searchParams);
  const { period } = periodOf(query, office.world.now().slice(0, 10));
  const visits = await figuresIn(office, period);
  const causes = query["what"] === "causes";
  const rows = causes
    ? [["Cause", "Tests"], ...causesOf(visits).map(({ words, count }) => [words, count])]
    : monthRows(byMonth(visits, monthsFrom(period.from, period.to)));
  return new Response(tableCsv(rows), {
    headers: {
      "content-type": "text/csv; charset=utf-8",
      "content-disposition": `attachment; filename="${causes ? "causes" : "over-time"}-${period.from}-${period.to}.csv"`,
      "cache-control": "no-store",
    },
  });
};
