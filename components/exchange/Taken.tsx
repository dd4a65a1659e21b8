import type { TakenLine } from "../../lib/usecases/exchange/record.ts";

interface Props {
  readonly lines: readonly TakenLine[];
  readonly by: string;
  readonly when: string;
  readonly visit: string;
}

const Lines = ({ title, lines }: { readonly title: string; readonly lines: readonly TakenLine[] }) =>
  lines.length === 0 ? null : (
    <>
      <h2>{`${title}: ${lines.length}`}</h2>
      <dl className="before-after">
        {lines.map(({ ref, set, what, says, reason }) => (
          <div key={ref}>
            <dt>{`${ref}${set === "" ? "" : `, ${set}`}: ${what}`}</dt>
            <dd>{says}</dd>
            <dd>{reason === undefined ? "" : `Reason: ${reason}`}</dd>
          </div>
        ))}
      </dl>
    </>
  );

/** What became of a reply: what was taken in, what was left, by whom and when. */
export const Taken = ({ lines, by, when, visit }: Props) => (
  <>
    <p className="note" role="status">
      {`This reply was taken in by ${by} on ${when}. The plan is worked out with it.`}
    </p>
    <p className="acts">
      <a className="button" href={`/visits/${visit}/board`}>
        Go on to the board
      </a>
      <a className="button second" href={`/visits/${visit}/exchange`}>
        Go on to the exchange
      </a>
      <a href={`/visits/${visit}/record`}>The record of all letters</a>
    </p>
    <Lines title="Left as it was" lines={lines.filter(({ state }) => state === "left")} />
    <Lines title="Taken" lines={lines.filter(({ state }) => state === "taken")} />
    <Lines title="Known so already" lines={lines.filter(({ state }) => state === "known so already")} />
    <Lines title="Of sets that were taken out meanwhile" lines={lines.filter(({ state }) => state === "no longer asked")} />
  </>
);
