import { ErrorSummary, Hidden, TextField } from "../../../components/form/Fields.tsx";
import { Page } from "../../../components/frame/Page.tsx";
import { PolicyChanges } from "../../../components/policy/PolicyChanges.tsx";
import { PolicyWords } from "../../../components/policy/PolicyWords.tsx";
import { policyChanges } from "../../../lib/compare/policies.ts";
import { longDate } from "../../../lib/plan/longDate.ts";
import { checkPolicy, type PolicyChecked } from "../../../lib/plan/policyCheck.ts";
import { policyLines } from "../../../lib/plan/policyFields.ts";
import { seenOf } from "../../../lib/usecases/policy/draft.ts";
import { type AdoptedPolicy, beforeOf, inForceOf, policyVersions, toComeOf } from "../../../lib/usecases/policy/inForce.ts";
import { admitPerson, missing, saidIn } from "../../_server/gate.ts";
import { adoptPage, type KeptAdoption, numberIn, readKeptAdoption } from "../../_server/policyForm.ts";
import { standingWords } from "../../_server/policyWords.ts";
import { instant, namesIn } from "../../_server/words.ts";

type Props = {
  readonly params: Promise<{ readonly number: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
};

const Checks = ({ refused, notes }: PolicyChecked) => (
  <>
    <h2>What the checks say</h2>
    {refused.length === 0 ? (
      <p>Every protection that is proven has at least one method in some configuration, and no veto is relaxed.</p>
    ) : (
      <div className="doubt">
        <p>By today’s rulebook it cannot be adopted:</p>
        <ul>
          {refused.map(({ says }) => (
            <li key={says}>{says}</li>
          ))}
        </ul>
      </div>
    )}
    {notes.length === 0 ? null : (
      <ul>
        {notes.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
    )}
  </>
);

interface DecideProps {
  readonly number: number;
  readonly token: string;
  readonly acts: number;
  readonly kept: KeptAdoption | null;
  readonly toCome: readonly AdoptedPolicy[];
}

const Decide = ({ number, token, acts, kept, toCome }: DecideProps) => {
  const faultOf = (id: string): string | undefined => {
    const own = (kept?.faults ?? []).filter((fault) => fault.id === id).map(({ says }) => says);
    return own.length === 0 ? undefined : own.join(". ");
  };
  const hidden = { token, acts: String(acts) };
  return (
    <section className="screen-only">
      <h2>Decide</h2>
      <form method="post" action={`/policy/${number}/adopt`} noValidate>
        <Hidden values={hidden} />
        <TextField
          id="from"
          label="Takes effect on"
          hint="Today or a later day, for example 2026-12-24 or 24 December"
          value={kept?.from ?? ""}
          fault={faultOf("from")}
          width="short"
        />
        {toCome.length === 0 ? null : (
          <div className={faultOf("replaces") === undefined ? "field" : "field wrong"}>
            {faultOf("replaces") === undefined ? null : (
              <p className="fault" id="replaces-fault">
                <span className="unseen">Error: </span>
                {faultOf("replaces")}
              </p>
            )}
            <div className="option row">
              <input type="checkbox" id="replaces" name="replaces" value="yes" defaultChecked={kept?.replaces === true} />
              <label htmlFor="replaces">
                {`It takes the place of what is to come from its day on: ${toCome.map((one) => `policy ${one.number}, ${longDate(one.decided.takesEffect)}`).join("; ")}`}
              </label>
            </div>
          </div>
        )}
        <TextField
          id="reason"
          label="Why"
          hint="Stands in the history and in the log"
          value={kept?.reason ?? ""}
          fault={faultOf("reason")}
          lines={3}
        />
        <div className="acts">
          <button type="submit">Adopt this policy</button>
        </div>
      </form>
      <form method="post" action={`/policy/${number}/drop`} noValidate>
        <Hidden values={hidden} />
        <TextField
          id="drop-reason"
          name="reason"
          label="Why it is dropped (optional)"
          hint="A dropped draft stays readable and cannot be adopted"
          value={kept?.dropReason ?? ""}
          fault={faultOf("drop-reason")}
        />
        <div className="acts">
          <button type="submit" className="second">
            Drop the draft
          </button>
          <a href={`/policy/change?from=${number}`}>Write another from it</a>
        </div>
      </form>
    </section>
  );
};

const PolicyPage = async ({ params, searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /policy/[number]");
  const number = numberIn((await params).number);
  const { rulebook } = office.planner;
  const today = office.world.now().slice(0, 10);
  const versions = await policyVersions(office.store);
  const version = versions.find((one) => one.number === number);
  if (version === undefined) return missing();
  const { policy, note, who, when, decided } = version;
  const nameOf = await namesIn(office);
  const inForce = inForceOf(versions, today);
  const isDraft = decided === null;
  const before = isDraft ? inForce : beforeOf(versions, version);
  const named = before.number === 0 ? "the program’s own choices" : `policy ${before.number}`;
  const changes = policyChanges(before.policy, policy, { rulebook, units: policy.units });
  const kept = isDraft ? readKeptAdoption((await office.store.typed(adoptPage(number), person.id))?.text) : null;
  const { done, problem } = saidIn(office, await searchParams);
  const faults = [...(kept?.faults ?? []), ...(problem === undefined ? [] : [{ id: "", says: problem }])];
  return (
    <Page
      title={`Policy ${number}`}
      caption="The office’s policy"
      person={person}
      token={token}
      back={{ href: "/policy", words: "Back to the policy" }}
      errors={faults.length > 0}
      wide
    >
      <ErrorSummary faults={faults} />
      {done === undefined ? null : (
        <p className="note" role="status">
          {done}
        </p>
      )}
      <p>
        <strong>{standingWords(version, versions, inForce.number, today).replace(/^./, (sign) => sign.toUpperCase())}.</strong>
        {` Written by ${nameOf(who)}, ${instant(when)}${note === "" ? "." : `: ${note}`}`}
      </p>
      {decided === null ? null : (
        <p>{`${decided.act === "adopted" ? "Adopted" : "Dropped"} by ${nameOf(decided.who)}, ${instant(decided.when)}${decided.note === "" ? "." : `: ${decided.note}`}`}</p>
      )}
      <h2>{isDraft ? `What it would change of ${named}` : `What differs from ${named}`}</h2>
      {changes.length === 0 ? (
        <p>Nothing.</p>
      ) : (
        <PolicyChanges label="Changes" changes={changes} was="Was" now={isDraft ? "Would be" : "Is"} />
      )}
      {isDraft ? (
        <>
          <Checks {...checkPolicy(rulebook, policy)} />
          <p className="screen-only">
            <a href={`/what-if?policy=${number}`}>See what it would change</a> in past plans, before it is adopted.
          </p>
          {person.role === "supervisor" ? (
            <Decide number={number} token={token} acts={seenOf(versions).acts} kept={kept} toCome={toComeOf(versions, today)} />
          ) : null}
        </>
      ) : null}
      <h2>The whole policy</h2>
      <PolicyWords lines={policyLines(policy, { rulebook, units: policy.units })} />
    </Page>
  );
};

export default PolicyPage;
