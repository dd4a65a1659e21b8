import { TextField } from "../../components/form/Fields.tsx";
import { Page } from "../../components/frame/Page.tsx";
import { KeptTable } from "../../components/privacy/KeptTable.tsx";
import { ofPeople } from "../../lib/store/privacy/inventory.ts";
import { admitPerson, saidIn } from "../_server/gate.ts";

type Props = { readonly searchParams: Promise<Readonly<Record<string, string | undefined>>> };

const Supervisor = () => (
  <>
    <h2>One person</h2>
    <search>
      <form method="get" action="/privacy/person">
        <TextField id="who" label="E-mail address" hint="Or the exact name, where no address is known" type="search" />
        <button type="submit">Find the person</button>
      </form>
    </search>
    <h2>Visits that are long past</h2>
    <p>
      A visit is kept with all that is of it until the office removes it: <a href="/privacy/visits">visits to remove</a>.
    </p>
  </>
);

const Privacy = async ({ searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /privacy");
  const { done } = saidIn(office, await searchParams);
  return (
    <Page title="What is kept about people" person={person} token={token} back={{ href: "/visits", words: "All visits" }} wide>
      {done === undefined ? null : (
        <p className="note as-written" role="status">
          {done}
        </p>
      )}
      <p>
        People of the office have accounts; people of vessels stand in visits, letters and replies. What is short-lived goes by itself; the
        rest is kept until the office removes it.
      </p>
      <p>
        Who wants to know what is kept about him, wants a copy or wants to be erased asks the office. The law behind it is Articles 15, 20
        and 17 of Regulation (EU) 2016/679; Article 17(3) names when something is kept all the same. The office decides; this program does
        it. This is no legal advice.
      </p>
      <p>
        <a href="/account/export">Load a copy of what is kept about you (JSON)</a>
      </p>
      {person.role === "supervisor" ? <Supervisor /> : null}
      <h2>Place by place</h2>
      <KeptTable kept={ofPeople} />
      <p>
        A backup holds what it held on its day. Who restores one erases again whom he had erased since; until a backup is thrown away, what
        was erased lies in it.
      </p>
    </Page>
  );
};

export default Privacy;
