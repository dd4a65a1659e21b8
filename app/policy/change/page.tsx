import { ErrorSummary } from "../../../components/form/Fields.tsx";
import { Page } from "../../../components/frame/Page.tsx";
import { PolicyChanges } from "../../../components/policy/PolicyChanges.tsx";
import { PolicyForm } from "../../../components/policy/PolicyForm.tsx";
import { policyChanges } from "../../../lib/compare/policies.ts";
import { lastAdopted, seenOf, seenText } from "../../../lib/usecases/policy/draft.ts";
import { inForceOf, policyVersions } from "../../../lib/usecases/policy/inForce.ts";
import { admitPerson } from "../../_server/gate.ts";
import { begunFrom, CHANGE_PAGE, numberIn, readKeptPolicy } from "../../_server/policyForm.ts";

type Props = { readonly searchParams: Promise<Readonly<Record<string, string | undefined>>> };

const ChangePolicy = async ({ searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /policy/change");
  const { from } = await searchParams;
  const { rulebook } = office.planner;
  const versions = await policyVersions(office.store);
  const inForce = inForceOf(versions, office.world.now().slice(0, 10));
  const last = lastAdopted(versions) ?? inForce;
  const chosen = from === undefined ? undefined : versions.find(({ number }) => number === numberIn(from));
  // Who asks for another to begin from, does not want what he typed before.
  const kept = chosen === undefined ? readKeptPolicy((await office.store.typed(CHANGE_PAGE, person.id))?.text) : null;
  const shown = kept ?? begunFrom(chosen ?? last);
  const base = versions.find(({ number }) => number === shown.base)?.policy ?? inForceOf([], "").policy;
  const since = kept === null ? [] : policyChanges(base, last.policy, { rulebook, units: last.policy.units });
  return (
    <Page
      title="Change the office’s policy"
      person={person}
      token={token}
      back={{ href: "/policy", words: "Back to the policy" }}
      errors={shown.faults.length > 0}
    >
      <ErrorSummary faults={shown.faults} />
      <p>
        {`The form begins from ${shown.base === 0 ? "the program’s own choices" : `policy ${shown.base}`}. What is kept is a draft; it can be tried on past plans before it is adopted.`}
      </p>
      {kept !== null ? (
        <p className="note">
          {kept.faults.length === 0
            ? "What you typed before you were signed out stands below. "
            : "What you typed stands below; nothing of it is kept yet. "}
          <a href={`/policy/change?from=${last.number}`}>Begin anew</a>
        </p>
      ) : null}
      {since.length === 0 ? null : (
        <>
          <h2>{`Changed by policy ${last.number} since you began`}</h2>
          <PolicyChanges label={`Changed by policy ${last.number}`} changes={since} was="Was" now="Now" />
        </>
      )}
      <PolicyForm
        action="/policy/keep"
        hidden={{ token, seen: seenText(seenOf(versions)), base: String(last.number === shown.base ? shown.base : last.number) }}
        rulebook={rulebook}
        texts={shown.texts}
        faults={shown.faults}
        note={shown.note}
      />
    </Page>
  );
};

export default ChangePolicy;
