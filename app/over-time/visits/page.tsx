import { Page } from "../../../components/frame/Page.tsx";
import { Scroll } from "../../../components/frame/Scroll.tsx";
import { longDate } from "../../../lib/letter/words.ts";
import { longMonth } from "../../../lib/plan/longDate.ts";
import { periodOf, periodQuery } from "../../../lib/usecases/overTime/asked.ts";
import { causeKey, causesOf, type VisitFigures } from "../../../lib/usecases/overTime/figures.ts";
import { MEASURES } from "../../../lib/usecases/overTime/measures.ts";
import { admitPerson } from "../../_server/gate.ts";
import { figuresIn } from "../../_server/overTime.ts";
import { namesIn } from "../../_server/words.ts";

type Props = { readonly searchParams: Promise<Readonly<Record<string, string | undefined>>> };

const standsAs = ({ settled, endedOpen, letters }: VisitFigures): string => {
  if (letters === 0) return "no letter sent";
  if (settled !== undefined) return "settled";
  return endedOpen ? "ended, not settled" : "not ended yet";
};

const ofWords = (part: number, of: number): string => (of === 0 ? "–" : `${part} of ${of}`);

const CountedVisits = async ({ searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /over-time/visits");
  const query = await searchParams;
  const { period } = periodOf(query, office.world.now().slice(0, 10));
  const { month = "", what = "", cause = "" } = query;
  const [every, nameOf] = await Promise.all([figuresIn(office, period), namesIn(office)]);
  const measure = MEASURES.find(({ id }) => id === what);
  const visits = every.filter(
    (visit) =>
      visit.begins.startsWith(month) &&
      (measure === undefined || measure.counts(visit)) &&
      (cause === "" || visit.causes.some((one) => causeKey(one) === cause)),
  );
  const told = causesOf(every).find(({ key }) => key === cause)?.words;
  const title = cause === "" ? (measure?.title ?? "Visits counted") : "Causes when not";
  return (
    <Page
      title={`${title}: the visits`}
      person={person}
      token={token}
      back={{ href: `/over-time?${periodQuery(period)}`, words: "Over time" }}
      wide
    >
      <p>
        {`${visits.length === 1 ? "One visit that begins" : `${visits.length} visits that begin`} ${month === "" ? `from ${longMonth(period.from)} to ${longMonth(period.to)}` : `in ${longMonth(month)}`}`}
        {period.inspector === "" ? "" : ` of ${nameOf(period.inspector)}`}
        {measure === undefined || cause !== "" ? "." : `, as they are counted among the ${measure.counted}.`}
        {cause === "" ? "" : ` A test of each was not done as planned: “${told ?? cause}”.`}
      </p>
      {visits.length === 0 ? null : (
        <Scroll label="Visits">
          <table className="cards">
            <thead>
              <tr>
                <th scope="col">Vessel</th>
                <th scope="col">First day</th>
                <th scope="col">Inspector</th>
                <th scope="col">Exchange</th>
                <th scope="col" className="number">
                  Exchanges to settle
                </th>
                <th scope="col" className="number">
                  Days to settle
                </th>
                <th scope="col" className="number">
                  Requests confirmed
                </th>
                <th scope="col" className="number">
                  Tests as planned
                </th>
                <th scope="col">Causes when not</th>
              </tr>
            </thead>
            <tbody>
              {visits.map((visit) => (
                <tr key={visit.id}>
                  <th scope="row">
                    <a href={`/visits/${visit.id}`}>{visit.vessel === "" ? "Vessel not named yet" : visit.vessel}</a>
                  </th>
                  <td data-label="First day">{longDate(visit.begins)}</td>
                  <td data-label="Inspector">{nameOf(visit.owner)}</td>
                  <td data-label="Exchange">
                    <a href={`/visits/${visit.id}/exchange`}>{standsAs(visit)}</a>
                  </td>
                  <td data-label="Exchanges to settle" className="number">
                    {visit.settled?.exchanges ?? "–"}
                  </td>
                  <td data-label="Days to settle" className="number">
                    {visit.settled?.days ?? "–"}
                  </td>
                  <td data-label="Requests confirmed" className="number">
                    {ofWords(visit.confirmed, visit.asked)}
                  </td>
                  <td data-label="Tests as planned" className="number">
                    {ofWords(visit.asPlanned, visit.tests)}
                  </td>
                  <td data-label="Causes when not">{visit.causes.length === 0 ? "–" : visit.causes.join("; ")}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      )}
    </Page>
  );
};

export default CountedVisits;
