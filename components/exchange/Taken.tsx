import type { TakenLine } from "../../lib/usecases/exchange/record.ts";
import { Hidden } from "../form/Fields.tsx";

interface Props {
  readonly lines: readonly TakenLine[];
  readonly by: string;
  readonly when: string;
  readonly visit: string;
  /** How it is taken back; null where the visit was changed since. */
  readonly back: { readonly action: string; readonly token: string } | null;
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
export const Taken = ({ lines, by, when, visit, back }: Props) => (
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
    {back === null ? (
      <p className="quiet">
        The visit was changed since, so that taking it in cannot be taken back as a whole. Single answers are corrected on their pages.
      </p>
    ) : (
      <details>
        <summary>Take it back</summary>
        <form method="post" action={back.action}>
          <Hidden values={{ token: back.token }} />
          <p>
            Answers, confirmations and chosen ways then stand as they stood before, and the reply waits to be taken in again, with what you
            chose. That it was taken in and taken back stays in the log.
          </p>
          <button type="submit" className="second">
            Take it back
          </button>
        </form>
      </details>
    )}
    <Lines title="Left as it was" lines={lines.filter(({ state }) => state === "left")} />
    <Lines title="Taken" lines={lines.filter(({ state }) => state === "taken")} />
    <Lines title="Known so already" lines={lines.filter(({ state }) => state === "known so already")} />
    <Lines title="Of sets that were taken out meanwhile" lines={lines.filter(({ state }) => state === "no longer asked")} />
  </>
);
