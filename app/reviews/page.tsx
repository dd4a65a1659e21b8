import { Page } from "../../components/frame/Page.tsx";
import { Scroll } from "../../components/frame/Scroll.tsx";
import { longDate } from "../../lib/letter/words.ts";
import { type ReviewLine, reviewLines } from "../../lib/usecases/review/reviewLines.ts";
import { admitPerson } from "../_server/gate.ts";
import { instant, namesIn } from "../_server/words.ts";

interface Props {
  readonly lines: readonly ReviewLine[];
  readonly nameOf: (id: string) => string;
  readonly what: string;
  /** A plain date. */
  readonly today: string;
}

const Lines = ({ lines, nameOf, what, today }: Props) => (
  <Scroll label={what}>
    <table className="cards">
      <thead>
        <tr>
          <th scope="col">Vessel</th>
          <th scope="col">Inspector</th>
          <th scope="col">{what}</th>
          <th scope="col">First day</th>
          <th scope="col" className="number">
            Against the engine
          </th>
          <th scope="col" className="number">
            Part unproven
          </th>
          <th scope="col" className="number">
            No way
          </th>
          <th scope="col">Words</th>
        </tr>
      </thead>
      <tbody>
        {lines.map(({ event, vessel, owner, begins, against, unproven, stuck, changed }) => (
          <tr key={event.visit}>
            <th scope="row">
              <a href={`/visits/${event.visit}/review`}>{vessel === "" ? "Vessel not named yet" : vessel}</a>
            </th>
            <td data-label="Inspector">{nameOf(owner)}</td>
            <td data-label={what}>
              {`${instant(event.when)}, ${nameOf(event.who)}`}
              {changed ? <span className="cell-way">the visit was changed since</span> : null}
            </td>
            <td data-label="First day">{begins === null ? "not told" : `${longDate(begins)}${begins < today ? ", past" : ""}`}</td>
            <td className="number" data-label="Against the engine">
              {against === 0 ? <span className="quiet">0</span> : <strong>{against}</strong>}
            </td>
            <td className="number" data-label="Part unproven">
              {unproven}
            </td>
            <td className="number" data-label="No way">
              {stuck}
            </td>
            <td data-label="Words" className="as-written">
              {event.words}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  </Scroll>
);

const Reviews = async () => {
  const { office, person, token } = await admitPerson("GET /reviews");
  const nameOf = await namesIn(office);
  const lines = await reviewLines(office.store, await office.compare());
  const of = (...acts: readonly ReviewLine["event"]["act"][]) => lines.filter(({ event }) => acts.includes(event.act));
  const today = office.world.now().slice(0, 10);
  // What begins first is decided first; what is past, last.
  const rank = ({ begins }: ReviewLine): string => (begins === null ? "8" : begins < today ? `9${begins}` : begins);
  const asked = of("asked").toSorted((a, b) => (rank(a) < rank(b) ? -1 : rank(a) > rank(b) ? 1 : 0));
  const decided = of("approved", "sent back");
  return (
    <Page title="Reviews" person={person} token={token} back={{ href: "/visits", words: "All visits" }} wide>
      <h2>{`Asked for (${asked.length})`}</h2>
      {asked.length === 0 ? (
        <p>
          No review is waiting. Which plans need one is set in the <a href="/policy">office’s policy</a>.
        </p>
      ) : (
        <Lines lines={asked} nameOf={nameOf} today={today} what="Asked for" />
      )}
      {decided.length === 0 ? null : (
        <>
          <h2>Decided</h2>
          <Lines lines={of("sent back").toReversed()} nameOf={nameOf} today={today} what="Sent back" />
          <Lines lines={of("approved").toReversed()} nameOf={nameOf} today={today} what="Approved" />
        </>
      )}
    </Page>
  );
};

export default Reviews;
