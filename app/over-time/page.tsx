import { ChoiceField, ErrorSummary, TextField } from "../../components/form/Fields.tsx";
import { Page } from "../../components/frame/Page.tsx";
import { Scroll } from "../../components/frame/Scroll.tsx";
import { MeasureTable } from "../../components/overTime/MeasureTable.tsx";
import { barsDrawing, columnsDrawing } from "../../lib/drawing/columns.ts";
import { Drawing } from "../../lib/letter/html/drawing.tsx";
import { longMonth } from "../../lib/plan/longDate.ts";
import { periodOf, periodQuery } from "../../lib/usecases/overTime/asked.ts";
import { byMonth, causesOf, monthsFrom, together, type VisitFigures } from "../../lib/usecases/overTime/figures.ts";
import { MEASURES, type Measure } from "../../lib/usecases/overTime/measures.ts";
import { admitPerson } from "../_server/gate.ts";
import { figuresIn } from "../_server/overTime.ts";

type Props = { readonly searchParams: Promise<Readonly<Record<string, string | undefined>>> };

/** So many causes are drawn; the table has all of them. */
const DRAWN = 10;

const monthLabel = (month: string): string => longMonth(month).slice(0, 3);

const drawingOf = (measure: Measure, months: ReturnType<typeof byMonth>) =>
  columnsDrawing({
    says: `${measure.title} by month, ${measure.unit}: the numbers stand in the table below`,
    unit: measure.unit,
    counted: measure.counted,
    ...(measure.most === undefined ? {} : { most: measure.most }),
    columns: months.map(({ month, figures }, place) => {
      const { value, of } = measure.of(figures);
      return {
        label: monthLabel(month),
        of,
        ...(value === undefined ? {} : { value: measure.drawn(value) }),
        ...(place === 0 || month.endsWith("-01") ? { below: month.slice(0, 4) } : {}),
      };
    }),
  });

const Causes = ({ visits, at }: { readonly visits: readonly VisitFigures[]; readonly at: (cause: string) => string }) => {
  const causes = causesOf(visits);
  const all = causes.reduce((total, { count }) => total + count, 0);
  if (causes.length === 0) return <p>None: no test was entered as done otherwise or not done.</p>;
  return (
    <>
      <Drawing
        drawing={barsDrawing(
          "How often each cause was told; the numbers stand in the table below",
          causes.slice(0, DRAWN).map(({ words, count }) => ({ name: words, count })),
        )}
      />
      {causes.length > DRAWN ? <p className="quiet">{`Drawn are the ${DRAWN} told most often of ${causes.length}.`}</p> : null}
      <Scroll label="Causes, the numbers">
        <table>
          <caption className="unseen">Causes, the most frequent first</caption>
          <thead>
            <tr>
              <th scope="col">Cause, as it was entered</th>
              <th scope="col" className="number">
                Tests
              </th>
              <th scope="col" className="number">{`Of ${all}`}</th>
            </tr>
          </thead>
          <tbody>
            {causes.map(({ key, words, count }) => (
              <tr key={key}>
                <th scope="row">{words}</th>
                <td className="number">
                  <a href={at(key)} aria-label={`${count} for: ${words}, the visits`}>
                    {count}
                  </a>
                </td>
                <td className="number">{`${Math.round((count * 100) / all)} %`}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
    </>
  );
};

const OverTime = async ({ searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /over-time");
  const { period, typed, faults } = periodOf(await searchParams, office.world.now().slice(0, 10));
  const [people, visits] = await Promise.all([office.accounts.people(), figuresIn(office, period)]);
  const months = byMonth(visits, monthsFrom(period.from, period.to));
  const all = together(visits);
  const faultAt = (id: string): string | undefined => faults.find(({ field }) => field === id)?.says;
  const at = (what: string, more: Readonly<Record<string, string>>): string =>
    `/over-time/visits?${periodQuery(period, { what, ...more })}`;
  const nothing = visits.every(({ letters, tests }) => letters === 0 && tests === 0);
  return (
    <Page title="Over time" person={person} token={token} back={{ href: "/visits", words: "All visits" }} errors={faults.length > 0} wide>
      <ErrorSummary faults={faults.map(({ field, says }) => ({ id: field, says }))} />
      <search>
        <form method="get" action="/over-time" className="filter">
          <TextField id="from" label="First month" value={typed.from} width="short" fault={faultAt("from")} />
          <TextField id="to" label="Last month" value={typed.to} width="short" fault={faultAt("to")} />
          <ChoiceField
            id="inspector"
            label="Visits of"
            value={period.inspector}
            choices={[{ value: "", label: "Everybody" }, ...people.map(({ id, name }) => ({ value: id, label: name }))]}
          />
          <button type="submit" className="second">
            Show these
          </button>
        </form>
      </search>
      {nothing ? (
        <>
          <p>
            {`No letter went out and no result was entered for ${visits.length === 0 ? "any visit" : visits.length === 1 ? "the one visit" : `the ${visits.length} visits`} from ${longMonth(period.from)} to ${longMonth(period.to)}.`}
          </p>
          <p>Once there are some, these stand here month by month, each plotted with the numbers behind it:</p>
          <ul>
            {MEASURES.map(({ id, title, about }) => (
              <li key={id}>{`${title}. ${about}`}</li>
            ))}
            <li>Causes, where a test was not done as planned.</li>
          </ul>
        </>
      ) : (
        <>
          <p>
            {`${visits.length === 1 ? "One visit" : `${visits.length} visits`} from ${longMonth(period.from)} to ${longMonth(period.to)}, each counted in the month in which it begins and for whoever is its inspector now. Below every column stands on how many it rests: of few, little can be said. Every such number in the tables leads to its visits.`}
          </p>
          <div className="over-time">
            {MEASURES.map((measure) => (
              <section key={measure.id} aria-labelledby={measure.id}>
                <h2 id={measure.id}>{measure.title}</h2>
                <p>{measure.about}</p>
                <Drawing drawing={drawingOf(measure, months)} />
                <MeasureTable
                  measure={measure}
                  months={months}
                  all={all}
                  visitsAt={(month) => at(measure.id, month === null ? {} : { month })}
                />
              </section>
            ))}
            <section aria-labelledby="causes">
              <h2 id="causes">Causes when not</h2>
              <p>Why tests were not done as planned, in the words in which it was entered aboard.</p>
              <Causes visits={visits} at={(cause) => at("causes", { cause })} />
            </section>
          </div>
          <ul className="no-print">
            <li>
              <a href={`/over-time/numbers?${periodQuery(period)}`}>The numbers by month as a sheet (CSV)</a>
            </li>
            <li>
              <a href={`/over-time/numbers?${periodQuery(period, { what: "causes" })}`}>The causes as a sheet (CSV)</a>
            </li>
          </ul>
        </>
      )}
    </Page>
  );
};

export default OverTime;
