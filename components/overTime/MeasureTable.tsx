import { longMonth } from "../../lib/plan/longDate.ts";
import type { Figures } from "../../lib/usecases/overTime/figures.ts";
import type { Measure } from "../../lib/usecases/overTime/measures.ts";
import { Scroll } from "../frame/Scroll.tsx";

interface Props {
  readonly measure: Measure;
  readonly months: readonly { readonly month: string; readonly figures: Figures }[];
  readonly all: Figures;
  /** Where the visits behind a number are listed; of all months without one. */
  readonly visitsAt: (month: string | null) => string;
}

interface RowProps extends Pick<Props, "measure"> {
  readonly name: string;
  readonly figures: Figures;
  readonly href: string;
}

const Row = ({ measure, name, figures, href }: RowProps) => {
  const { value, of } = measure.of(figures);
  return (
    <tr>
      <th scope="row">{name}</th>
      <td className="number">{value === undefined ? "–" : measure.words(value)}</td>
      <td className="number">
        {of === 0 ? (
          "0"
        ) : (
          <a href={href} aria-label={`${of} ${measure.counted}, ${name}: the visits`}>
            {of}
          </a>
        )}
      </td>
    </tr>
  );
};

/** The numbers behind a drawing, each leading to the visits that it stands on. */
export const MeasureTable = ({ measure, months, all, visitsAt }: Props) => (
  <Scroll label={`${measure.title}, the numbers`}>
    <table>
      <caption className="unseen">{`${measure.title}, by the month of the visit`}</caption>
      <thead>
        <tr>
          <th scope="col">Month of the visit</th>
          <th scope="col" className="number">
            {measure.head}
          </th>
          <th scope="col" className="number">
            {`Of ${measure.counted}`}
          </th>
        </tr>
      </thead>
      <tbody>
        {months.map(({ month, figures }) => (
          <Row key={month} measure={measure} name={longMonth(month)} figures={figures} href={visitsAt(month)} />
        ))}
        <Row measure={measure} name="All months" figures={all} href={visitsAt(null)} />
      </tbody>
    </table>
  </Scroll>
);
