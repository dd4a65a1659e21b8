import { ErrorSummary, Hidden } from "../../../../components/form/Fields.tsx";
import { Page } from "../../../../components/frame/Page.tsx";
import { Scroll } from "../../../../components/frame/Scroll.tsx";
import { PolicyChanges } from "../../../../components/policy/PolicyChanges.tsx";
import { policyNow } from "../../../../lib/usecases/policy/inForce.ts";
import { effectOfPolicy, type OtherWay, otherPolicy } from "../../../../lib/usecases/visits/visitPolicy.ts";
import { admitToVisit, saidIn } from "../../../_server/gate.ts";
import { barOf } from "../../../_server/words.ts";

type Props = {
  readonly params: Promise<{ readonly visit: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
};

const Ways = ({ ways }: { readonly ways: readonly OtherWay[] }) =>
  ways.length === 0 ? (
    <p>No test would be proven in another way. Days and figures may change all the same.</p>
  ) : (
    <Scroll label="Tests that would be proven in another way">
      <table className="cards">
        <thead>
          <tr>
            <th scope="col">Test</th>
            <th scope="col">Is planned</th>
            <th scope="col">Would be planned</th>
          </tr>
        </thead>
        <tbody>
          {ways.map(({ at, test, was, now }) => (
            <tr key={at}>
              <th scope="row">{test}</th>
              <td data-label="Is planned">{was}</td>
              <td data-label="Would be planned">{now}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  );

const VisitPolicy = async ({ params, searchParams }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/policy", visit);
  const { problem } = saidIn(office, await searchParams);
  const inForce = await policyNow(office);
  const changes = otherPolicy(stored, inForce, office.planner.rulebook);
  const effect = changes.length === 0 ? { ways: [] } : effectOfPolicy(stored, inForce, office.planner);
  return (
    <Page
      title="The office’s policy for this visit"
      person={person}
      token={token}
      visit={barOf(stored, "none")}
      back={{ href: `/visits/${visit}`, words: "Back to the parts" }}
      errors={problem !== undefined}
      wide
    >
      <ErrorSummary faults={problem === undefined ? [] : [{ id: "", says: problem }]} />
      {changes.length === 0 ? (
        <p>
          {"This visit goes by "}
          <a href="/policy">the office’s policy of today</a>
          {". Letterhead and paper are told with its particulars."}
        </p>
      ) : (
        <>
          <p>
            {"This visit goes by a policy of its own. Taking "}
            <a href={`/policy/${inForce.number}`}>{`policy ${inForce.number}`}</a>
            {" changes the following; letterhead and paper stay as they are here."}
          </p>
          <PolicyChanges label="What differs" changes={changes} was="Here" now="Office" />
          <h2>Tests that would be proven in another way</h2>
          {"waits" in effect ? (
            <>
              <p>Under the office’s policy the visit could not be planned as it stands, so it cannot be taken yet:</p>
              <ul>
                {effect.waits.map(({ says }) => (
                  <li key={says}>{says}</li>
                ))}
              </ul>
            </>
          ) : (
            <>
              <Ways ways={effect.ways} />
              <form method="post" action={`/visits/${visit}/policy/take`}>
                <Hidden values={{ token, version: String(stored.version), policy: String(inForce.number) }} />
                <div className="acts">
                  <button type="submit">{`Take policy ${inForce.number} for this visit`}</button>
                  <a href={`/visits/${visit}`}>Leave it as it is</a>
                </div>
              </form>
            </>
          )}
        </>
      )}
    </Page>
  );
};

export default VisitPolicy;
