import { ErrorSummary, Hidden, TextField } from "../../components/form/Fields.tsx";
import { Page } from "../../components/frame/Page.tsx";
import { Scroll } from "../../components/frame/Scroll.tsx";
import { ownersFor } from "../../lib/access/roles.ts";
import { longDate } from "../../lib/letter/words.ts";
import { valueAt } from "../../lib/model/fault.ts";
import type { ReviewEvent } from "../../lib/store/reviews.ts";
import type { VisitLine } from "../../lib/store/store.ts";
import { standingWords } from "../../lib/usecases/exchange/standing.ts";
import { admitPerson, saidIn } from "../_server/gate.ts";
import { aboutVisit, instant, namesIn } from "../_server/words.ts";

type Props = { readonly searchParams: Promise<Readonly<Record<string, string | undefined>>> };

const A_PAGE = 50;

const setsIn = ({ frame }: VisitLine): number => {
  const sets = valueAt(frame, "/sets");
  return Array.isArray(sets) ? sets.length : 0;
};

const REVIEWS: Readonly<Partial<Record<ReviewEvent["act"], string>>> = {
  asked: "Review asked for",
  approved: "Approved",
  "sent back": "Sent back by the supervisor",
};

/** What was last done about the review of the plan, leading to it; that it was sent back waits for the inspector. */
const Review = ({ event }: { readonly event: ReviewEvent | undefined }) => {
  const words = event === undefined ? undefined : REVIEWS[event.act];
  if (event === undefined || words === undefined) return null;
  return (
    <a className="cell-way" href={`/visits/${event.visit}/review`}>
      {event.act === "sent back" ? <strong>{words}</strong> : words}
    </a>
  );
};

/** How far the exchange of letters is, leading to it; what is overdue is told by weight and words, and can be reminded of. */
const Exchange = ({ line: { id, standing }, today }: { readonly line: VisitLine; readonly today: string }) => {
  if (standing === undefined) return "no letter sent yet";
  const { words, overdue } = standingWords(standing, today);
  return (
    <>
      <a href={`/visits/${id}/exchange`}>{overdue ? <strong>{words}</strong> : words}</a>
      {overdue && standing.stage === "waiting for the reply" ? (
        <>
          {" "}
          <a href={`/visits/${id}/exchange#remind`}>Remind</a>
        </>
      ) : null}
    </>
  );
};

const Visits = async ({ searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /visits");
  const query = await searchParams;
  const { q = "", from = "0" } = query;
  const { problem } = saidIn(office, query);
  const today = office.world.now().slice(0, 10);
  const offset = Math.max(0, Math.trunc(Number(from)) || 0);
  const owners = ownersFor(person);
  const standing = await office.store.standingIn(person.id, today);
  const lines = await office.store.listVisits({
    ...(owners === null ? {} : { owner: owners }),
    ...(q === "" ? {} : { named: q }),
    limit: A_PAGE + 1,
    offset,
    today,
  });
  const nameOf = await namesIn(office);
  const shown = lines.slice(0, A_PAGE);
  const reviews = new Map((await office.store.reviewsNow(shown.map(({ id }) => id))).map((event) => [event.visit, event] as const));
  const faults = problem === undefined ? [] : problem.split("\n").map((says) => ({ id: "file", says }));
  const at = (start: number): string => `/visits?${new URLSearchParams({ ...(q === "" ? {} : { q }), from: String(start) })}`;
  return (
    <Page title="Visits" person={person} token={token} errors={faults.length > 0} wide>
      <ErrorSummary faults={faults} />
      <div className="acts">
        <a className="button" href="/visits/new">
          Prepare a new visit
        </a>
      </div>
      <search>
        <form method="get" action="/visits" className="search">
          <TextField
            id="q"
            label="Vessel"
            type="search"
            value={q}
            width="middle"
            after={
              <button type="submit" className="second">
                Find
              </button>
            }
          />
        </form>
      </search>
      {shown.length === 0 ? (
        <p>
          {q === ""
            ? "No visit is prepared yet. Begin a new one, or load a visit file below."
            : `No visit of a vessel whose name holds “${q}”. `}
          {q === "" ? null : <a href="/visits">Show all</a>}
        </p>
      ) : (
        <Scroll label="Visits, by the next day due, then by the day of the visit">
          <table className="cards">
            <thead>
              <tr>
                <th scope="col">Vessel</th>
                <th scope="col">Place and days</th>
                <th scope="col">Sets</th>
                <th scope="col">Exchange</th>
                {person.role === "supervisor" ? <th scope="col">Inspector</th> : null}
                <th scope="col">Last changed</th>
              </tr>
            </thead>
            <tbody>
              {shown.map((line) => (
                <tr key={line.id}>
                  <th scope="row">
                    <a href={`/visits/${line.id}`}>{line.vessel === "" ? "Vessel not named yet" : line.vessel}</a>
                    {standing
                      .filter((absence) => absence.person === line.owner)
                      .map(({ id, person: away, to }) => (
                        <span key={id} className="for-whom">{`for ${nameOf(away)} until ${longDate(to)}`}</span>
                      ))}
                  </th>
                  <td data-label="Place and days">{aboutVisit(line) === "" ? "not told yet" : aboutVisit(line)}</td>
                  <td className="number" data-label="Sets">
                    {setsIn(line)}
                  </td>
                  <td data-label="Exchange">
                    <Exchange line={line} today={today} />
                    <Review event={reviews.get(line.id)} />
                  </td>
                  {person.role === "supervisor" ? <td data-label="Inspector">{nameOf(line.owner)}</td> : null}
                  <td data-label="Last changed">{`${instant(line.changedAt)}, ${nameOf(line.changedBy)}`}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      )}
      {offset > 0 || lines.length > A_PAGE ? (
        <nav aria-label="More visits">
          <ul className="pages">
            {offset > 0 ? (
              <li>
                <a href={at(Math.max(0, offset - A_PAGE))}>Back in the list</a>
              </li>
            ) : null}
            {lines.length > A_PAGE ? (
              <li>
                <a href={at(offset + A_PAGE)}>Further in the list</a>
              </li>
            ) : null}
          </ul>
        </nav>
      ) : null}
      <h2>Load a visit file</h2>
      <form method="post" action="/visits/import" encType="multipart/form-data">
        <Hidden values={{ token }} />
        <div className="field">
          <label htmlFor="file">Visit file (.json)</label>
          <p className="hint" id="file-hint">
            As this program saves it, or as the command line reads it; at most 2 MB
          </p>
          <input type="file" id="file" name="file" accept=".json,application/json" aria-describedby="file-hint" />
        </div>
        <button type="submit" className="second">
          Load it
        </button>
      </form>
    </Page>
  );
};

export default Visits;
