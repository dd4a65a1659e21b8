import { ErrorSummary, Hidden, TextField } from "../../../components/form/Fields.tsx";
import { Page } from "../../../components/frame/Page.tsx";
import { longDate } from "../../../lib/letter/words.ts";
import { visitsPast, YEARS, yearsOf } from "../../../lib/usecases/privacy/pastVisits.ts";
import { admitPerson, saidIn } from "../../_server/gate.ts";
import { oneOf, type Query } from "../../_server/query.ts";
import { namesIn } from "../../_server/words.ts";

type Props = { readonly searchParams: Promise<Query> };

/** So many at a time: each goes with all that is of it, in one step. */
const MOST = 100;

const PastVisits = async ({ searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /privacy/visits");
  const query = await searchParams;
  const years = yearsOf(oneOf(query["years"]));
  const { problem, field = "", done, typed = "" } = saidIn(office, { said: oneOf(query["said"]) });
  const [visits, nameOf] = await Promise.all([visitsPast(office, years), namesIn(office)]);
  const shown = visits.slice(0, MOST);
  const ticked = new Set(typed.split("\n"));
  const faultAt = (id: string): string | undefined => (field === id ? problem : undefined);
  return (
    <Page
      title="Visits to remove"
      person={person}
      token={token}
      back={{ href: "/privacy", words: "What is kept about people" }}
      errors={problem !== undefined}
    >
      <ErrorSummary faults={problem === undefined ? [] : [{ id: field, says: problem }]} />
      {done === undefined ? null : (
        <p className="note" role="status">
          {done}
        </p>
      )}
      <p>{`Visits whose last day is more than a number of years past. ${YEARS} years is common practice; the office, its class or the law may want another number.`}</p>
      <search>
        <form method="get" action="/privacy/visits" className="filter">
          <TextField id="years" label="Years since the last day" value={String(years)} width="short" />
          <button type="submit" className="second">
            Show these
          </button>
        </form>
      </search>
      {shown.length === 0 ? (
        <p>{`No visit ended more than ${years === 1 ? "a year" : `${years} years`} ago.`}</p>
      ) : (
        <form method="post" action="/privacy/visits/remove" noValidate>
          <Hidden values={{ token, years: String(years) }} />
          <fieldset className="group" id="visits">
            <legend>Which of them are removed</legend>
            {faultAt("visits") === undefined ? null : <p className="fault">{problem}</p>}
            {visits.length > MOST ? <p className="hint">{`The ${MOST} longest past of ${visits.length}.`}</p> : null}
            {shown.map(({ id, vessel, owner, ends }) => (
              <div key={id} className="option row">
                <input type="checkbox" id={`v-${id}`} name="visit" value={id} defaultChecked={ticked.has(id)} />
                <label htmlFor={`v-${id}`}>
                  {`${vessel === "" ? "Vessel not named yet" : vessel}, ended ${longDate(ends)}, of ${nameOf(owner)}`}
                </label>
              </div>
            ))}
          </fieldset>
          <p>
            All of a visit goes in one step: answers, letters, replies, files, results, reviews, and what the log tells of it. One line of
            the log stays that says when it was removed and by whom. Save its record first where it is needed.
          </p>
          {faultAt("sure") === undefined ? null : <p className="fault">{problem}</p>}
          <div className="option">
            <input type="checkbox" id="sure" name="sure" value="yes" />
            <label htmlFor="sure">Remove them; I know that they cannot be brought back</label>
          </div>
          <div className="acts">
            <button type="submit" className="danger">
              Remove the ticked visits
            </button>
          </div>
        </form>
      )}
    </Page>
  );
};

export default PastVisits;
