import { Page } from "../../components/frame/Page.tsx";
import { Scroll } from "../../components/frame/Scroll.tsx";
import { PolicyWords } from "../../components/policy/PolicyWords.tsx";
import { policyChanges } from "../../lib/compare/policies.ts";
import { longDate } from "../../lib/plan/longDate.ts";
import { policyLines } from "../../lib/plan/policyFields.ts";
import type { Office } from "../../lib/usecases/office.ts";
import { beforeOf, inForceOf, type PolicyVersion, policyVersions, toComeOf } from "../../lib/usecases/policy/inForce.ts";
import { admitPerson } from "../_server/gate.ts";
import { standingWords } from "../_server/policyWords.ts";
import { instant, namesIn } from "../_server/words.ts";

interface HistoryProps {
  readonly office: Office;
  readonly versions: readonly PolicyVersion[];
  readonly inForce: number;
  readonly today: string;
  readonly nameOf: (id: string) => string;
}

const History = ({ office, versions, inForce, today, nameOf }: HistoryProps) => {
  const { rulebook } = office.planner;
  return (
    <Scroll label="History">
      <table className="cards policies">
        <thead>
          <tr>
            <th scope="col">Policy</th>
            <th scope="col">Standing</th>
            <th scope="col">By</th>
            <th scope="col">Why</th>
            <th scope="col">What differs from the one before</th>
          </tr>
        </thead>
        <tbody>
          {[...versions].reverse().map((version) => {
            const { number, note, who, when, decided, policy } = version;
            const changes = policyChanges(beforeOf(versions, version).policy, policy, { rulebook, units: policy.units });
            return (
              <tr key={number}>
                <th scope="row">
                  <a href={`/policy/${number}`}>{`Policy ${number}`}</a>
                </th>
                <td data-label="Standing">{standingWords(version, versions, inForce, today)}</td>
                <td data-label="By">{`${nameOf(decided?.who ?? who)}, ${instant(decided?.when ?? when)}`}</td>
                <td data-label="Why">{[decided?.note ?? "", note].find((words) => words !== "") ?? "not said"}</td>
                <td data-label="What differs">
                  {changes.length === 0 ? (
                    "nothing"
                  ) : (
                    <ul className="differs">
                      {changes.map((change) => (
                        <li key={change.id}>{`${change.label}: was ${change.was}, now ${change.now}`}</li>
                      ))}
                    </ul>
                  )}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </Scroll>
  );
};

const Policy = async () => {
  const { office, person, token } = await admitPerson("GET /policy");
  const today = office.world.now().slice(0, 10);
  const versions = await policyVersions(office.store);
  const { number, since, policy } = inForceOf(versions, today);
  const nameOf = await namesIn(office);
  const own = versions.find((version) => version.number === number);
  const toCome = toComeOf(versions, today);
  const drafts = versions.filter(({ decided }) => decided === null);
  return (
    <Page title="The office’s policy" person={person} token={token} back={{ href: "/visits", words: "All visits" }} wide>
      <p>
        {own?.decided == null || since === null ? (
          "No policy was ever adopted: the program’s own choices hold. None of them is a rule."
        ) : (
          <>
            <a href={`/policy/${number}`}>{`Policy ${number}`}</a>
            {` is in force since ${longDate(since)}. ${nameOf(own.decided.who)} adopted it on ${instant(own.decided.when)}: ${own.decided.note}`}
          </>
        )}
      </p>
      <p>A new visit takes it over. A visit that was begun under another keeps that and says so.</p>
      {person.role === "supervisor" ? (
        <p>
          <a className="button" href="/policy/change">
            Change the policy
          </a>{" "}
          <a href="/what-if">What if: try a policy or rulebook on past plans</a>
        </p>
      ) : null}
      {toCome.length === 0 ? null : (
        <>
          <h2>To come</h2>
          <ul>
            {toCome.map((version) => (
              <li key={version.number}>
                <a href={`/policy/${version.number}`}>{`Policy ${version.number}`}</a>
                {` takes effect on ${longDate(version.decided.takesEffect)}. ${nameOf(version.decided.who)}: ${version.decided.note}`}
              </li>
            ))}
          </ul>
        </>
      )}
      {drafts.length === 0 ? null : (
        <>
          <h2>Drafts that are being weighed</h2>
          <ul>
            {drafts.map((draft) => (
              <li key={draft.number}>
                <a href={`/policy/${draft.number}`}>{`Policy ${draft.number}`}</a>
                {` by ${nameOf(draft.who)}, ${instant(draft.when)}${draft.note === "" ? "" : `: ${draft.note}`}`}
              </li>
            ))}
          </ul>
        </>
      )}
      <h2>What holds today</h2>
      <PolicyWords lines={policyLines(policy, { rulebook: office.planner.rulebook, units: policy.units })} />
      <h2>History</h2>
      {versions.length === 0 ? (
        <p>Nothing was written yet.</p>
      ) : (
        <History office={office} versions={versions} inForce={number} today={today} nameOf={nameOf} />
      )}
    </Page>
  );
};

export default Policy;
