import { commentField } from "../../lib/usecases/review/decide.ts";
import type { ReviewedTest } from "../../lib/usecases/review/reviewView.ts";
import { Scroll } from "../frame/Scroll.tsx";
import { testAt } from "../plan/address.ts";
import { LoopStrip } from "../plan/LoopStrip.tsx";
import { Comments, type Said } from "./Comments.tsx";
import { Ways } from "./Ways.tsx";

interface Props {
  readonly visit: string;
  readonly tests: readonly ReviewedTest[];
  readonly said: (comments: ReviewedTest["comments"]) => readonly Said[];
  readonly typed: Readonly<Record<string, string>>;
  readonly faultAt: (field: string) => string | undefined;
}

/** Tests that go by the order of preference and prove the whole loop: one line each, a comment where somebody has one. */
export const RestOfPlan = ({ visit, tests, said, typed, faultAt }: Props) =>
  tests.length === 0 ? (
    <p>None.</p>
  ) : (
    <Scroll label="All other tests">
      <table className="cards">
        <thead>
          <tr>
            <th scope="col">Test</th>
            <th scope="col">Way</th>
            <th scope="col">Proves</th>
            <th scope="col">Comments</th>
          </tr>
        </thead>
        <tbody>
          {tests.map(({ ref, at, set, also, name, ways, proves, state, wanted, approved, comments }) => {
            const field = commentField(at);
            const fault = faultAt(field);
            return (
              <tr key={at} id={`test-${ref}`}>
                <th scope="row">
                  {[{ ref, at, set }, ...also].map((one) => (
                    <a key={one.at} className="way-words" href={testAt(visit, one)}>{`${one.ref}, ${one.set}`}</a>
                  ))}
                  <span className="cell-way">{name}</span>
                </th>
                <td data-label="Way">
                  {state === "settled" ? "■ " : "▲ "}
                  <Ways ways={ways} />
                  {wanted === "" ? null : (
                    <span className="cell-way">{approved ? "approved as it stands" : `to be approved: ${wanted}`}</span>
                  )}
                </td>
                <td data-label="Proves">
                  <LoopStrip proves={proves} />
                </td>
                <td data-label="Comments">
                  <Comments said={said(comments)} />
                  <details className="no-print" open={(typed[at] ?? "") !== ""}>
                    <summary>Comment</summary>
                    <label className="unseen" htmlFor={field}>{`Comment on ${ref}, ${name}`}</label>
                    {fault === undefined ? null : <p className="fault">{fault}</p>}
                    <textarea id={field} name={`comment ${at}`} rows={2} className="middle" defaultValue={typed[at] ?? ""} />
                  </details>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </Scroll>
  );
