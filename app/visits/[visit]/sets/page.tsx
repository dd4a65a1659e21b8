import { ErrorSummary, Hidden, TextField } from "../../../../components/form/Fields.tsx";
import { Page } from "../../../../components/frame/Page.tsx";
import { valueAt } from "../../../../lib/model/fault.ts";
import type { StoredVisit } from "../../../../lib/store/store.ts";
import { admitToVisit, saidIn } from "../../../_server/gate.ts";
import { removedIn } from "../../../_server/removed.ts";
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
  const { problem, done, typed } = saidIn(office, await searchParams);
  const removed = removedIn((await office.store.typed(`${visit} removed`, person.id))?.text);
  const action = `/visits/${visit}/sets/change`;
  const shared = { token, seen: String(stored.frameVersion) };
  const faults = problem === undefined ? [] : [{ id: "sets", says: problem }];
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
      {removed.map(({ id, frame }) => (
        <form method="post" action={action} className="note" key={id}>
          <Hidden values={{ ...shared, act: "restore", set: String(id) }} />
          {`“${String(frame["name"] ?? "The set")}” was taken out; its answers are kept. `}
          <button type="submit" className="second">
            Put it back<span className="unseen">{` ${String(frame["name"] ?? "")}`}</span>
          </button>
        </form>
      ))}
      <p>
        Sets of the same make and type are sister sets and bear the same letter, A to Z: they share spares, tools and service engineer. Give
        unlike sets different letters.
      </p>
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
                  <TextField id={`sisters-${id}`} name="sisters" label="Group of sister sets" value={sisters} width="short" />
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
        <TextField id="name" label="Name" hint="As it is called aboard" value={typed ?? freeName(stored)} />
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
