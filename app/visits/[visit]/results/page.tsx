import { ErrorSummary } from "../../../../components/form/Fields.tsx";
import { Page } from "../../../../components/frame/Page.tsx";
import { PlanPanel } from "../../../../components/plan/PlanPanel.tsx";
import { ResultLines } from "../../../../components/results/ResultLines.tsx";
import { ResultsForm } from "../../../../components/results/ResultsForm.tsx";
import { resultFieldId, testId } from "../../../../components/results/resultIds.ts";
import { typedResults } from "../../../../lib/usecases/visits/results.ts";
import { resultsView } from "../../../../lib/usecases/visits/resultsView.ts";
import { coreFiles } from "../../../_server/core.ts";
import { admitToVisit, saidIn } from "../../../_server/gate.ts";
import { barOf, instant, namesIn } from "../../../_server/words.ts";

type Props = {
  readonly params: Promise<{ readonly visit: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
};

const Results = async ({ params, searchParams }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/results", visit);
  const { done } = saidIn(office, await searchParams);
  const preview = office.preview(stored);
  const frame = {
    title: "Results aboard",
    person,
    token,
    visit: barOf(stored, "results"),
    back: { href: `/visits/${visit}`, words: "Back to the parts" },
  };
  if (!("plan" in preview))
    return (
      <Page {...frame}>
        <PlanPanel preview={preview} visit={visit} set={null} kind="" />
      </Page>
    );
  const { store, planner, world } = office;
  const { plan, read } = preview;
  const view = resultsView(
    { stored, plan, read, entries: await store.resultsOf(visit), typed: await typedResults(store, visit, person.id), now: world.now() },
    planner.rulebook,
  );
  const names = { instant, who: await namesIn(office) };
  const left = view.sets.flatMap(({ tests }) => tests.filter(({ typed }) => typed));
  const faults = left.flatMap(({ at, ref, problems, doubts }) =>
    problems.length + doubts.length === 0
      ? [{ id: testId(at), says: `${ref}: what you typed is not kept; look at it again` }]
      : [...problems, ...doubts].map(({ field, says }) => ({ id: resultFieldId(at, field), says: `${ref}: ${says}` })),
  );
  const { results } = await coreFiles();
  return (
    <Page {...frame} errors={faults.length > 0}>
      <ErrorSummary faults={faults} />
      {done === undefined ? null : (
        <p className="note" role="status">
          {done}
        </p>
      )}
      <p>
        A short record of each test: what became of it, what was read, whether it was within limits. The next visit of this vessel is told
        it as “last time”. A later record of a test takes the place of the one before, which stays readable.
      </p>
      <ResultsForm
        view={view}
        action={`/visits/${visit}/results/keep`}
        token={token}
        script={`/core/${results.name}`}
        drafts={`forehail result ${person.id} ${visit}`}
        {...names}
      />
      {view.gone.length === 0 ? null : (
        <section>
          <h2>No tests of the plan any more</h2>
          <ResultLines lines={view.gone} {...names} />
        </section>
      )}
      <p>
        <a className="button second" href={`/visits/${visit}/record`}>
          Record, with every earlier entry
        </a>
      </p>
    </Page>
  );
};

export default Results;
