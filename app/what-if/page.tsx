import { ErrorSummary, Hidden } from "../../components/form/Fields.tsx";
import { Page } from "../../components/frame/Page.tsx";
import { Scroll } from "../../components/frame/Scroll.tsx";
import { policyVersions } from "../../lib/usecases/policy/inForce.ts";
import { rulebookName } from "../../lib/usecases/review/keepPlan.ts";
import type { Tried } from "../../lib/usecases/review/whatIf.ts";
import { triedWords } from "../../lib/usecases/review/whatIfView.ts";
import { admitPerson, saidIn } from "../_server/gate.ts";
import { instant, namesIn } from "../_server/words.ts";

type Props = { readonly searchParams: Promise<Readonly<Record<string, string | undefined>>> };

const SHOWN = 10;

const WhatIf = async ({ searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /what-if");
  const query = await searchParams;
  const { problem, field } = saidIn(office, query);
  const faults = problem === undefined ? [] : problem.split("\n").map((says) => ({ id: field ?? "policy", says }));
  const compare = await office.compare();
  const own = rulebookName(office.planner);
  const older = compare.plans.filter(({ rulebook }) => rulebook !== own);
  const policies = (await policyVersions(office.store)).filter(({ decided }) => decided === null || decided.act === "adopted").toReversed();
  const tried = await office.store.whatIfs(SHOWN);
  const nameOf = await namesIn(office);
  const chosen = query["policy"] ?? "";
  return (
    <Page title="What if" person={person} token={token} back={{ href: "/policy", words: "Policy" }} errors={faults.length > 0} wide>
      <ErrorSummary faults={faults} />
      <p>
        {`Before a policy or a rulebook is adopted it is run over the plans of the office, and what would be decided otherwise is shown. Nothing of a visit is changed by it. ${compare.plans.length} ${compare.plans.length === 1 ? "plan is" : "plans are"} here to try it on.`}
      </p>
      <h2>A policy</h2>
      {policies.length === 0 ? (
        <p>
          No policy is written yet. <a href="/policy/change">Write a draft</a>, then try it here.
        </p>
      ) : (
        <form method="post" action="/what-if/start" encType="multipart/form-data">
          <Hidden values={{ token, what: "policy" }} />
          <fieldset className="stack" id="policy">
            <legend>Which</legend>
            {policies.map(({ number, note, decided }, place) => (
              <div className="option" key={number}>
                <input
                  type="radio"
                  id={`policy-${number}`}
                  name="policy"
                  value={number}
                  defaultChecked={chosen === "" ? place === 0 : chosen === String(number)}
                />
                <label
                  htmlFor={`policy-${number}`}
                >{`${number}: ${note === "" ? "without a note" : note}${decided === null ? " (draft)" : " (adopted)"}`}</label>
              </div>
            ))}
          </fieldset>
          <button type="submit">Try it on all plans</button>
        </form>
      )}
      <h2>The rulebook of this program</h2>
      <p>
        {older.length === 0
          ? `All plans were made by it (${own.split(" ")[0] ?? ""}).`
          : `${older.length} of ${compare.plans.length} plans were made by another than ${own.split(" ")[0] ?? ""}; each says so on its review page, where it can be run again.`}
      </p>
      <form method="post" action="/what-if/start" encType="multipart/form-data">
        <Hidden values={{ token, what: "rulebook" }} />
        <button type="submit" className="second">
          Try it on all plans
        </button>
      </form>
      <h2>Another rulebook</h2>
      <p>
        {"As a file such as "}
        <code>npm run -s rulebook</code>
        {" prints it, with what shall be otherwise changed in it. It is only tried: the program decides by its own."}
      </p>
      <form method="post" action="/what-if/start" encType="multipart/form-data">
        <Hidden values={{ token, what: "file" }} />
        <div className="field">
          <label htmlFor="file">Rulebook (.json)</label>
          <p className="hint" id="file-hint">
            At most 4 MB
          </p>
          <input type="file" id="file" name="file" accept=".json,application/json" aria-describedby="file-hint" />
        </div>
        <button type="submit" className="second">
          Try it on all plans
        </button>
      </form>
      <h2>Tried before</h2>
      {tried.length === 0 ? (
        <p>Nothing yet.</p>
      ) : (
        <Scroll label="Tried before">
          <table className="cards">
            <thead>
              <tr>
                <th scope="col">What</th>
                <th scope="col">When</th>
                <th scope="col">By</th>
                <th scope="col">On plans</th>
              </tr>
            </thead>
            <tbody>
              {tried.map(({ id, about, who, when, plans }) => (
                <tr key={id}>
                  <th scope="row">
                    <a href={`/what-if/${id}`}>{triedWords(about as unknown as Tried)}</a>
                  </th>
                  <td data-label="When">{instant(when)}</td>
                  <td data-label="By">{nameOf(who)}</td>
                  <td className="number" data-label="On plans">
                    {plans.length}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      )}
    </Page>
  );
};

export default WhatIf;
