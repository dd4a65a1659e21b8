import type { PersonView } from "../../lib/usecases/privacy/personView.ts";
import { Scroll } from "../frame/Scroll.tsx";

/** Under what somebody stands, in how many rows of which place, and in which visits. */
export const Stands = ({
  view: { names, emails, accounts, places, visits, namesakes },
  vesselOf,
}: {
  readonly view: PersonView;
  readonly vesselOf: (visit: string) => string;
}) => (
  <>
    <dl className="pairs">
      <div>
        <dt>Names</dt>
        <dd>{names.length === 0 ? "none beside the address" : names.join("; ")}</dd>
      </div>
      <div>
        <dt>E-mail address</dt>
        <dd>{emails.length === 0 ? "none known" : emails.join("; ")}</dd>
      </div>
      <div>
        <dt>Account</dt>
        <dd>{accounts.length === 0 ? "none" : "of this office"}</dd>
      </div>
      {namesakes.map(({ name, email }) => (
        <div key={email + name}>
          <dt>{`Another ${name}`}</dt>
          <dd>{`${email}: where only the name stands it may be that one`}</dd>
        </div>
      ))}
    </dl>
    <Scroll label="Where the person stands">
      <table>
        <thead>
          <tr>
            <th scope="col">Place</th>
            <th scope="col" className="number">
              Rows
            </th>
          </tr>
        </thead>
        <tbody>
          {places.map(({ place, rows }) => (
            <tr key={place}>
              <th scope="row">{place}</th>
              <td className="number">{rows}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
    {visits.length === 0 ? null : (
      <>
        <h2>Visits</h2>
        <ul>
          {visits.map((visit) => (
            <li key={visit}>
              <a href={`/visits/${visit}`}>{vesselOf(visit)}</a>
            </li>
          ))}
        </ul>
      </>
    )}
  </>
);
