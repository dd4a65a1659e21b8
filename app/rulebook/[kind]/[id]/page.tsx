import { ErrorSummary } from "../../../../components/form/Fields.tsx";
import { Page } from "../../../../components/frame/Page.tsx";
import { FigureView } from "../../../../components/rulebook/FigureView.tsx";
import { SheetView } from "../../../../components/rulebook/SheetView.tsx";
import { capital } from "../../../../lib/plan/say.ts";
import { bookOf } from "../../../../lib/usecases/rulebook/book.ts";
import { KIND_TITLES, thingAt } from "../../../../lib/usecases/rulebook/entries.ts";
import { figurePage, tried } from "../../../../lib/usecases/rulebook/figures.ts";
import { admitPerson, missing } from "../../../_server/gate.ts";
import { oneOf, type Query } from "../../../_server/query.ts";

type Props = {
  readonly params: Promise<{ readonly kind: string; readonly id: string }>;
  readonly searchParams: Promise<Query>;
};

const Thing = async ({ params, searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /rulebook/[kind]/[id]");
  const { kind, id } = await params;
  const thing = thingAt(bookOf(office.planner.rulebook), kind, id);
  if (thing === undefined) return missing();
  const frame = { person, token, back: { href: `/rulebook/${thing.kind}`, words: KIND_TITLES[thing.kind].title } };
  const sheet = thing.sheet?.();
  if (sheet !== undefined)
    return (
      <Page {...frame} title={sheet.title} caption={sheet.caption} wide>
        <SheetView sheet={sheet} />
      </Page>
    );
  const page = figurePage(id);
  if (page === undefined) return missing();
  const query = await searchParams;
  const sum = page.sums.find((one) => one.id === oneOf(query["sum"]));
  const now = sum === undefined ? null : tried(sum, (input) => oneOf(query[input]));
  return (
    <Page {...frame} title={capital(page.name)} caption="Figure" errors={now !== null && now.faults.length > 0}>
      <ErrorSummary faults={now?.faults ?? []} />
      <FigureView page={page} sum={sum?.id ?? ""} now={now} />
    </Page>
  );
};

export default Thing;
