import { SendSection } from "../../../../components/exchange/SendSection.tsx";
import { ErrorSummary, Hidden } from "../../../../components/form/Fields.tsx";
import { Page } from "../../../../components/frame/Page.tsx";
import { Scroll } from "../../../../components/frame/Scroll.tsx";
import { OtherPolicy } from "../../../../components/policy/OtherPolicy.tsx";
import { TypedNote } from "../../../../components/visits/TypedNote.tsx";
import type { Made } from "../../../../lib/store/store.ts";
import { policyNow } from "../../../../lib/usecases/policy/inForce.ts";
import { reviewNow, unreviewed } from "../../../../lib/usecases/review/reviewNow.ts";
import { missingWords } from "../../../../lib/usecases/visits/particulars.ts";
import { planVisit } from "../../../../lib/usecases/visits/planVisit.ts";
import { otherPolicy } from "../../../../lib/usecases/visits/visitPolicy.ts";
import { admitToVisit, saidIn } from "../../../_server/gate.ts";
import { unitsIn } from "../../../_server/letters.ts";
import { readSending, sendingPage } from "../../../_server/sendForm.ts";
import { sendView } from "../../../_server/sendView.ts";
import { barOf, instant, namesIn, typedTitles } from "../../../_server/words.ts";

type Props = {
  readonly params: Promise<{ readonly visit: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
};

interface OthersProps {
  readonly here: string;
  readonly units: string;
  /** Whether a technician is asked for. */
  readonly jobs: boolean;
}

const ForOthers = ({ here, units, jobs }: OthersProps) => (
  <>
    <h2>For others than the vessel</h2>
    <ul>
      <li>
        {"Requests for whoever arranges them: "}
        <a href={`${here}/lists/requests.xlsx`}>workbook (XLSX)</a>, <a href={`${here}/lists/requests.csv`}>plain list (CSV)</a>
      </li>
      <li>
        <a href={`${here}/lists/visit.ics`}>Calendar file</a>: the visit, the day to reply by, the days to confirm by
      </li>
      {jobs ? (
        <li>
          <a href={`${here}/lists/jobs.pdf?units=${units}`}>Job sheet for the technicians (PDF)</a>
        </li>
      ) : null}
      <li>
        <a href={`${here}/lists/inspector.pdf?units=${units}`}>The plan for the inspector (PDF)</a>: findings, every way and verdict, what
        to watch
      </li>
    </ul>
  </>
);

interface MadeProps {
  readonly here: string;
  readonly letters: readonly Omit<Made, "file" | "plan" | "pdf">[];
  readonly nameOf: (id: string) => string;
}

const MadeLetters = ({ here, letters, nameOf }: MadeProps) => (
  <>
    <h2>Letters made</h2>
    {letters.length === 0 ? (
      <p>None yet.</p>
    ) : (
      <Scroll label="Letters made">
        <table>
          <thead>
            <tr>
              <th scope="col">Made</th>
              <th scope="col">By</th>
              <th scope="col">From version</th>
              <th scope="col">Rulebook</th>
            </tr>
          </thead>
          <tbody>
            {letters.map(({ id, when, who, version, rulebook }) => (
              <tr key={id}>
                <th scope="row">
                  <a href={`${here}/letters/${id}`}>{`${instant(when)} (PDF)`}</a>
                </th>
                <td>{nameOf(who)}</td>
                <td className="number">{version}</td>
                <td>{rulebook}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
    )}
  </>
);

const LetterPage = async ({ params, searchParams }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/letter", visit);
  const query = await searchParams;
  const { made, units: chosen, again } = query;
  const { problem, done } = saidIn(office, query);
  const inForce = await policyNow(office);
  const units = unitsIn(chosen, inForce.policy.units);
  const nameOf = await namesIn(office);
  const letters = await office.store.madeOf(visit);
  const planned = planVisit(stored, office.planner);
  const preview = planned.ok ? null : office.preview(stored);
  const waits = preview !== null && "waits" in preview ? preview.waits : [];
  const unseen = planned.ok ? unreviewed(await reviewNow(office.store, stored, planned.value.plan, office.world.now().slice(0, 10))) : null;
  const missing = missingWords(stored);
  const kept = readSending((await office.store.typed(sendingPage(visit), person.id))?.text);
  const sending = planned.ok ? await sendView(office, stored, planned.value, { kept, person }) : null;
  const unsent = again === undefined || sending === null ? [] : (kept?.faults ?? []);
  const faults = [
    ...(problem === undefined ? [] : problem.split("\n").map((says) => ({ id: "make", says }))),
    ...unsent.map(({ field, says }) => ({ id: field, says })),
  ];
  const here = `/visits/${visit}`;
  const latest = letters.find(({ id }) => id === made);
  return (
    <Page
      title="Letter to the vessel"
      person={person}
      token={token}
      visit={barOf(stored, "letter")}
      back={{ href: here, words: "Back to the parts" }}
      errors={faults.length > 0}
      wide
    >
      <ErrorSummary faults={faults} />
      {done === undefined ? null : (
        <p className="note" role="status">
          {done}
        </p>
      )}
      {latest === undefined ? null : (
        <p className="note" role="status">
          {"The letter is made and kept. "}
          <a href={`${here}/letters/${latest.id}`}>Download it (PDF)</a>
        </p>
      )}
      <OtherPolicy visit={visit} policy={inForce.number} changes={otherPolicy(stored, inForce, office.planner.rulebook)} />
      <TypedNote visit={visit} pages={await typedTitles(office, stored, person.id)} />
      {unseen === null ? null : (
        <div className="doubt">
          <p>{`${unseen}.`}</p>
          <p>
            <a href={`${here}/review`}>To the review</a>
          </p>
        </div>
      )}
      {planned.ok ? (
        <>
          <p>
            This is the letter as it would go out today. What is not known yet is asked in it. Making it keeps a copy with the answers and
            the rulebook it was made from; nothing is sent. <a href="#send">Send it</a> further down.
          </p>
          <div className="acts" id="make">
            {unseen === null ? (
              <form method="post" action={`${here}/letter/make`}>
                <Hidden values={{ token, units }} />
                <button type="submit">Make the letter (PDF)</button>
              </form>
            ) : null}
            <form method="get" action={`${here}/letter`}>
              <input type="hidden" name="units" value={units === "us" ? "metric" : "us"} />
              <button type="submit" className="second">
                {units === "us" ? "Show bar and °C" : "Show psi and °F"}
              </button>
            </form>
            <a href={`${here}/letter/page?units=${units}`}>Open the letter as a page of its own</a>
          </div>
          <p className="only-print">To print the letter, print its PDF, or the page of its own.</p>
          <iframe className="letter-frame" title="The letter as it would go out today" src={`${here}/letter/page?units=${units}`} />
        </>
      ) : (
        <>
          <p>The letter waits for what it cannot be written without:</p>
          <ul>
            {missing.map((what) => (
              <li key={what}>
                <a href={`${here}/particulars`}>{what}</a>
              </li>
            ))}
            {waits.map(({ says, page }) => (
              <li key={says}>
                <a href={page === null ? `${here}/particulars` : `${here}/ask/${page}`}>{says}</a>
              </li>
            ))}
          </ul>
        </>
      )}
      {sending === null ? null : (
        <SendSection
          here={here}
          token={token}
          units={units}
          version={stored.version}
          from={person.email}
          view={sending}
          waits={unseen}
          faults={unsent}
        />
      )}
      {planned.ok ? (
        <ForOthers here={here} units={units} jobs={planned.value.plan.requests.some(({ kind }) => kind === "technician")} />
      ) : null}
      <MadeLetters here={here} letters={letters} nameOf={nameOf} />
    </Page>
  );
};

export default LetterPage;
