import { ErrorSummary, TextField } from "../../../components/form/Fields.tsx";
import { Page } from "../../../components/frame/Page.tsx";
import { Erase } from "../../../components/privacy/Erase.tsx";
import { Stands } from "../../../components/privacy/Stands.tsx";
import { longDate } from "../../../lib/letter/words.ts";
import { personView } from "../../../lib/usecases/privacy/personView.ts";
import { typedErasure } from "../../_server/erasureForm.ts";
import { admitPerson, type SignedInTo, saidIn } from "../../_server/gate.ts";
import { oneOf, type Query } from "../../_server/query.ts";

type Props = { readonly searchParams: Promise<Query> };

/** Vessel and first day, by which a visit is known among others. */
const vesselsOf = async ({ office }: Pick<SignedInTo, "office">, visits: readonly string[]): Promise<(visit: string) => string> => {
  const heads = await office.store.visitHeads(visits);
  return (visit) => {
    const head = heads.get(visit);
    if (head === undefined) return "a visit that is no more";
    const vessel = head.vessel === "" ? "Vessel not named yet" : head.vessel;
    return head.begins === null ? vessel : `${vessel}, ${longDate(head.begins)}`;
  };
};

const Search = ({ who }: { readonly who: string }) => (
  <search>
    <form method="get" action="/privacy/person">
      <TextField id="who" label="E-mail address" hint="Or the exact name, where no address is known" type="search" value={who} />
      <button type="submit" className="second">
        Find the person
      </button>
    </form>
  </search>
);

const PersonKept = async ({ searchParams }: Props) => {
  const admitted = await admitPerson("GET /privacy/person");
  const { office, person, token } = admitted;
  const query = await searchParams;
  const who = oneOf(query["who"]).trim();
  const { problem, field = "", typed } = saidIn(office, { said: oneOf(query["said"]) });
  const found = await office.privacy.find(who);
  const frame = { person, token, back: { href: "/privacy", words: "What is kept about people" }, errors: problem !== undefined };
  const summary = <ErrorSummary faults={problem === undefined ? [] : [{ id: field, says: problem }]} />;
  if (found === null)
    return (
      <Page title="One person" {...frame}>
        {summary}
        {who === "" ? null : (
          <p className="note">{`Nobody stands by “${who}” anywhere. Addresses are found in whatever case, names as they are written.`}</p>
        )}
        <Search who={who} />
      </Page>
    );
  if ("several" in found)
    return (
      <Page title="One person" {...frame}>
        {summary}
        <p>{`Several people are called “${who}”:`}</p>
        <ul>
          {found.several.map((email) => (
            <li key={email}>
              <a href={`/privacy/person?${new URLSearchParams({ who: email })}`}>{email}</a>
            </li>
          ))}
        </ul>
        <Search who={who} />
      </Page>
    );
  const view = personView(found.one);
  const [name = who] = view.names;
  const called = view.emails[0] ?? name;
  const people = await office.accounts.people();
  const open = people.some(({ id, ended }) => view.accounts.includes(id) && ended === undefined);
  const vesselOf = await vesselsOf(admitted, [
    ...new Set([...view.visits, ...view.texts.flatMap(({ visits }) => visits), ...view.files.map(({ visit }) => visit)]),
  ]);
  const { again, takesOver, ticked } = typedErasure(typed);
  return (
    <Page title={name} caption="What is kept about one person" {...frame}>
      {summary}
      <Stands view={view} vesselOf={vesselOf} />
      <h2>A copy for the person</h2>
      <p>
        <a href={`/privacy/person/export?${new URLSearchParams({ who: called })}`}>Load all of it (JSON)</a>: what stands about the person
        and what the person wrote, place by place, nothing of others. Make sure that who asks is who he says. The log tells that a copy was
        made.
      </p>
      <h2>Erasure</h2>
      <Erase
        token={token}
        who={called}
        view={view}
        heirs={open ? people.filter(({ id, ended }) => ended === undefined && !view.accounts.includes(id)) : null}
        vesselOf={vesselOf}
        ticked={ticked}
        typed={{ again, takesOver }}
        faultAt={(id) => (field === id ? problem : undefined)}
      />
    </Page>
  );
};

export default PersonKept;
