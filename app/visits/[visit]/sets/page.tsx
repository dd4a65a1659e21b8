import { ErrorSummary, Hidden, TextField } from "../../../../components/form/Fields.tsx";
import { Page } from "../../../../components/frame/Page.tsx";
import { valueAt } from "../../../../lib/model/fault.ts";
import type { StoredVisit } from "../../../../lib/store/store.ts";
import { admitToVisit } from "../../../_server/gate.ts";
import { barOf } from "../../../_server/words.ts";

type Props = {
  readonly params: Promise<{ readonly visit: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
};

/** A usual name that no set bears yet. */
const freeName = ({ sets, frame }: StoredVisit): string => {
  const names = sets.map((_, place) => valueAt(frame, `/sets/${place}/name`));
  const free = Array.from({ length: sets.length + 1 }, (_, place) => `Generator ${place + 1}`).find((name) => !names.includes(name));
  return free ?? "";
};

const Sets = async ({ params, searchParams }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/sets", visit);
  const { problem, done } = await searchParams;
  const removed = await office.store.typed(`${visit} removed`, person.id);
  const action = `/visits/${visit}/sets/change`;
  const shared = { token, seen: String(stored.frameVersion) };
  const faults = problem === undefined ? [] : [{ id: "sets", says: problem }];
  const removedName = removed === null ? null : String(valueAt(JSON.parse(removed.text), "/frame/name") ?? "the set");
  return (
    <Page
      title="Generating sets"
      person={person}
      token={token}
      visit={barOf(stored, "parts")}
      back={{ href: `/visits/${visit}`, words: "Back to the parts" }}
      errors={faults.length > 0}
    >
      <ErrorSummary faults={faults} />
      {done === undefined ? null : (
        <p className="note" role="status">
          {done}
        </p>
      )}
      {removedName === null ? null : (
        <form method="post" action={action} className="note">
          <Hidden values={{ ...shared, act: "restore" }} />
          {`“${removedName}” was taken out; its answers are kept. `}
          <button type="submit" className="second">
            Put it back
          </button>
        </form>
      )}
      <div id="sets" tabIndex={-1}>
        {stored.sets.map((id, place) => {
          const name = String(valueAt(stored.frame, `/sets/${place}/name`) ?? `Set ${place + 1}`);
          const sisters = String(valueAt(stored.frame, `/sets/${place}/sisters`) ?? "A");
          const answers = [...stored.answers].filter(([at, { value }]) => at.startsWith(`/sets/${id}/`) && value !== undefined).length;
          return (
            <section key={id} className="set">
              <h2>{name}</h2>
              <p>
                <a href={`/visits/${visit}/ask/sets/${place + 1}/machine`}>Its questions</a>{" "}
                <span className="quiet">{`${answers} ${answers === 1 ? "answer" : "answers"}`}</span>
              </p>
              <form method="post" action={action} noValidate>
                <Hidden values={{ ...shared, act: "rename", set: String(id) }} />
                <div className="options">
                  <TextField id={`name-${id}`} name="name" label="Name" value={name} />
                  <TextField id={`sisters-${id}`} name="sisters" label="Sister sets bear one letter" value={sisters} width="short" />
                  <button type="submit" className="second">
                    Save
                    <span className="unseen">{` the name of ${name}`}</span>
                  </button>
                </div>
              </form>
              <div className="options">
                <form method="post" action={action}>
                  <Hidden values={{ ...shared, act: "copy", set: String(id), name: "" }} />
                  <button type="submit" className="second">
                    {"Copy "}
                    <span className="unseen">{`${name} `}</span>with all answers
                  </button>
                </form>
                {stored.sets.length === 1 ? null : (
                  <form method="post" action={action}>
                    <Hidden values={{ ...shared, act: "remove", set: String(id) }} />
                    <button type="submit" className="danger">
                      Take out<span className="unseen">{` ${name}`}</span>
                    </button>
                  </form>
                )}
              </div>
            </section>
          );
        })}
      </div>
      <h2>Another set</h2>
      <form method="post" action={action} noValidate>
        <Hidden values={{ ...shared, act: "add" }} />
        <TextField id="name" label="Name" hint="As it is called aboard" value={freeName(stored)} />
        <button type="submit" className="second">
          Add it
        </button>
      </form>
      <p className="acts">
        <a className="button" href={`/visits/${visit}/ask/sets/1/machine`}>
          Go on to the questions
        </a>
      </p>
    </Page>
  );
};

export default Sets;
