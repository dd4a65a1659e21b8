import { RecordDeviations, RecordLetters, RecordTable } from "../../../../components/exchange/RecordTable.tsx";
import { Page } from "../../../../components/frame/Page.tsx";
import { ResultLines } from "../../../../components/results/ResultLines.tsx";
import { type KeptExchange, recordOf } from "../../../../lib/usecases/exchange/record.ts";
import type { Office } from "../../../../lib/usecases/office.ts";
import { resultLines } from "../../../../lib/usecases/visits/resultsView.ts";
import { whoIn } from "../../../_server/exchange.ts";
import { admitToVisit } from "../../../_server/gate.ts";
import { barOf, instant } from "../../../_server/words.ts";

type Props = { readonly params: Promise<{ readonly visit: string }> };

/** So far back the log is looked through for who chose a way. */
const LOG = 5_000;

const exchangesOf = async ({ store }: Office, visit: string): Promise<readonly KeptExchange[]> =>
  Promise.all(
    (await store.sentOf(visit)).map(async (sent) => ({
      sent,
      made: await store.made(sent.made),
      state: await store.replyOf(sent.id),
      entries: await store.entriesOf(sent.id),
    })),
  );

const RecordPage = async ({ params }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/record", visit);
  const preview = office.preview(stored);
  const log = (await office.store.audited(LOG)).filter(({ subject }) => subject === visit);
  const plan = "plan" in preview ? preview.plan : null;
  const { rulebook } = office.planner;
  const record = recordOf(await exchangesOf(office, visit), { rulebook, now: plan, log });
  const results = resultLines(stored, await office.store.resultsOf(visit), { rulebook, plan });
  const words = { instant, who: await whoIn(office) };
  return (
    <Page
      title="Record of the exchange"
      person={person}
      token={token}
      visit={barOf(stored, "exchange")}
      back={{ href: `/visits/${visit}/exchange`, words: "Back to the exchange" }}
      wide
    >
      <div className="record-page">
        <p>Who agreed what, when, on which facts and which rulebook. Nothing in it is ever changed; every letter adds to it.</p>
        {record.letters.length === 0 ? <p>No letter has gone out yet.</p> : null}
        <RecordLetters letters={record.letters} visit={visit} {...words} />
        <RecordDeviations deviations={record.deviations} {...words} />
        <RecordTable letters={record.letters} rows={record.rows} />
        {results.length === 0 ? null : (
          <section>
            <h2>Results aboard</h2>
            <ResultLines lines={results} {...words} />
          </section>
        )}
      </div>
    </Page>
  );
};

export default RecordPage;
