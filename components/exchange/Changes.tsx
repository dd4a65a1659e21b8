import type { Named, ShownChanges } from "../../lib/usecases/exchange/changeView.ts";

const Group = ({ title, items }: { readonly title: string; readonly items: readonly Named[] }) =>
  items.length === 0 ? null : (
    <>
      <h3>{`${title}: ${items.length}`}</h3>
      <ul>
        {items.map(({ ref, what }) => (
          <li key={ref}>
            <strong>{ref}</strong> {what}
          </li>
        ))}
      </ul>
    </>
  );

interface Props {
  readonly changes: ShownChanges;
  /** Requests that count as confirmed by it. */
  readonly confirmed: readonly string[];
}

/** What a choice does to the plan: each test before and after, then questions and requests. */
export const Changes = ({ changes: { sums, tests, closed, asked, wanted, spared, lost, altered }, confirmed }: Props) => (
  <>
    <dl className="facts weighed">
      <dt>Now</dt>
      <dd>{sums[0]}</dd>
      <dt>Then</dt>
      <dd>{sums[1]}</dd>
      {confirmed.length === 0 ? null : (
        <>
          <dt>Confirmed by it</dt>
          <dd>{confirmed.join(", ")}</dd>
        </>
      )}
    </dl>
    {tests.length === 0 ? <p>No test is proven otherwise than now.</p> : <h3>{`Tests that stand otherwise: ${tests.length}`}</h3>}
    {tests.length === 0 ? null : (
      <dl className="before-after">
        {tests.map(({ ref, what, before, after }) => (
          <div key={ref}>
            <dt>{`${ref} ${what}`}</dt>
            <dd>
              <span className="quiet">Before: </span>
              {before}
            </dd>
            <dd>
              <span className="quiet">After: </span>
              {after}
            </dd>
          </div>
        ))}
      </dl>
    )}
    <Group title="Questions closed" items={closed} />
    <Group title="Questions to be asked besides" items={asked} />
    <Group title="Requests besides" items={wanted} />
    <Group title="Requests that cannot be had in time" items={lost} />
    <Group title="Requests no longer needed" items={spared} />
    {altered.length === 0 ? null : (
      <details>
        <summary>{`Read otherwise in figures, later ways, days or the like: ${altered.length}`}</summary>
        <ul>
          {altered.map(({ ref, what, respects }) => (
            <li key={ref}>
              <strong>{ref}</strong> {what} <em>({respects.join(", ")})</em>
            </li>
          ))}
        </ul>
      </details>
    )}
  </>
);
