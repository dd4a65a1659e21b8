import type { ResultLine } from "../../lib/usecases/visits/resultsView.ts";
import type { Names } from "./TestRecord.tsx";

/** Everything that was entered of tests, of each the latest first: none is ever taken out. */
export const ResultLines = ({ lines, instant, who }: Names & { readonly lines: readonly ResultLine[] }) => (
  <dl className="before-after">
    {lines.map(({ at, ref, set, what, entries }) => (
      <div key={at}>
        <dt>{`${ref === "" ? "" : `${ref}, `}${set}: ${what}`}</dt>
        <dd>{entries[0]?.words}</dd>
        <dd className="quiet">
          {entries[0] === undefined ? "" : `${who(entries[0].who)}, ${instant(entries[0].when)}`}
          {entries.slice(1).map(({ version, words, who: by, when }) => (
            <p key={version}>{`Before, by ${who(by)}, ${instant(when)}: ${words}`}</p>
          ))}
        </dd>
      </div>
    ))}
  </dl>
);
