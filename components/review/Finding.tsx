import { longDate } from "../../lib/letter/words.ts";
import { listAnd } from "../../lib/plan/say.ts";
import { bookAt } from "../../lib/rulebook/places.ts";
import { SORT_WORDS } from "../../lib/usecases/review/findingRows.ts";
import type { FindingLine, FindingView } from "../../lib/usecases/review/findingView.ts";
import { Hidden } from "../form/Fields.tsx";
import { Scroll } from "../frame/Scroll.tsx";
import { LoopStrip } from "../plan/LoopStrip.tsx";
import { FactList } from "./FactList.tsx";
import { Ways } from "./Ways.tsx";

interface LinesProps {
  readonly lines: readonly FindingLine[];
  readonly label: string;
  readonly nameOf: (id: string) => string;
  /** By which the visits that may be sent back are ticked; left out where nothing is decided here. */
  readonly finding?: string;
}

/** Decisions of one plan that read alike, as one line with all their sets. */
interface Row extends FindingLine {
  readonly sets: readonly string[];
}

const rowsOf = (lines: readonly FindingLine[]): readonly Row[] => {
  const rows = new Map<string, Row>();
  for (const line of lines) {
    const key = JSON.stringify([line.visit, line.way, line.proves, line.reason, line.differs, line.isNew, line.maker]);
    const row = rows.get(key);
    rows.set(key, row === undefined ? { ...line, sets: [line.set] } : { ...row, sets: [...row.sets, line.set] });
  }
  return [...rows.values()];
};

const Table = ({ rows, label, nameOf, finding }: Omit<LinesProps, "lines"> & { readonly rows: readonly Row[] }) => (
  <Scroll label={label}>
    <table className="cards side-by-side">
      <thead>
        <tr>
          <th scope="col">Vessel and set</th>
          <th scope="col">Inspector, plan of</th>
          <th scope="col">Way planned</th>
          <th scope="col">Because</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(
          ({ visit, at, vessel, sets, maker, inspector, when, ruleBasis, rulebook, ways, proves, reason, against, differs, isNew }) => (
            <tr key={`${visit} ${at}`}>
              <th scope="row">
                <a href={`/visits/${visit}/review`}>{vessel === "" ? "Vessel not named yet" : vessel}</a>
                <span className="cell-way">{`${listAnd(sets)}${maker === "" ? "" : `, ${maker}`}`}</span>
              </th>
              <td data-label="Inspector, plan of">
                {nameOf(inspector)}
                <span className="cell-way">{longDate(when.slice(0, 10))}</span>
                <span className="cell-way">{`${ruleBasis}; rulebook ${rulebook.split(" ")[0] ?? ""}`}</span>
              </td>
              <td data-label="Way planned">
                {against ? <span className="deviates">against the engine</span> : <span className="quiet">the engine’s choice</span>}
                {isNew ? <strong> new since it was settled</strong> : null}
                <Ways ways={ways} />
                <LoopStrip proves={proves} />
              </td>
              <td data-label="Because">
                {differs === null ? null : (
                  <p className="twin">
                    <strong>Differs: </strong>
                    {`${differs.name}: here “${differs.there}”, where it is against the engine “${differs.here}”`}
                  </p>
                )}
                {against ? (reason === "" ? "no reason is told" : reason) : differs === null ? "order of preference" : null}
                {finding === undefined || !against ? null : (
                  <span className="option send-back no-print">
                    <input
                      type="checkbox"
                      id={`back-${finding}-${visit}-${at}`}
                      name="back"
                      value={visit}
                      form={`settle-${finding}`}
                      defaultChecked
                    />
                    <label htmlFor={`back-${finding}-${visit}-${at}`}>send back, if so settled</label>
                  </span>
                )}
              </td>
            </tr>
          ),
        )}
      </tbody>
    </table>
  </Scroll>
);

/** So many plans that take the engine’s choice are shown beside those that do not; the others are folded away. */
const BESIDE = 2;

/** Decisions side by side: whose, when, which way, why. Those against the engine stand first. */
export const Lines = ({ lines, label, nameOf, finding }: LinesProps) => {
  const rows = rowsOf(lines);
  const [against, others] = [rows.filter((row) => row.against), rows.filter((row) => !row.against)];
  // One that would be folded away alone may as well be seen.
  const shown = others.length <= BESIDE + 1 ? others : others.slice(0, BESIDE);
  const folded = others.slice(shown.length);
  return (
    <>
      <Table rows={[...against, ...shown]} label={label} nameOf={nameOf} {...(finding === undefined ? {} : { finding })} />
      {folded.length === 0 ? null : (
        <details>
          <summary>{`The engine’s choice in ${new Set(folded.map(({ visit }) => visit)).size} more`}</summary>
          <Table rows={folded} label={`${label}: more that take the engine’s choice`} nameOf={nameOf} />
        </details>
      )}
    </>
  );
};

interface Props {
  readonly view: FindingView;
  readonly place: number;
  readonly nameOf: (id: string) => string;
  readonly token: string;
  /** The query of the page, to come back to it. */
  readonly query: string;
  readonly typed: { readonly how: string; readonly words: string } | null;
  readonly faults: readonly { readonly id: string; readonly says: string }[];
}

const HOW = [
  ["accepted", "Accepted, because …"],
  ["policy changed", "The office’s policy or practice is changed"],
  ["sent back", "Send the ticked plans back to their inspectors"],
] as const;

/** One finding: what is unlike, who decided so, which facts are equal, and how it is settled. */
export const Finding = ({ view, place, nameOf, token, query, typed, faults }: Props) => {
  const { id, sort, kind, protection, engine, says, equal, lines, more, settled } = view;
  const faultAt = (field: string) =>
    faults
      .filter((one) => one.id === field)
      .map((one) => (
        <p className="fault" key={one.says}>
          <span className="unseen">Error: </span>
          {one.says}
        </p>
      ));
  return (
    <article className="finding" id={`finding-${id}`} aria-labelledby={`title-${id}`}>
      <h3 id={`title-${id}`}>
        {`${place}. `}
        <a href={bookAt("protections", kind)}>{protection}</a>
        {`: ${SORT_WORDS[sort]}`}
      </h3>
      <p>{says}</p>
      {settled.map(({ number, how, words, who, when }) => (
        <p key={number} className="settled-words">{`Settled by ${nameOf(who)}, ${longDate(when.slice(0, 10))} (${how}): ${words}`}</p>
      ))}
      <p className="quiet">{`The engine’s choice on these facts: ${engine}.`}</p>
      <Lines lines={lines} label={`${protection}, decisions side by side`} nameOf={nameOf} finding={id} />
      {more === 0 ? null : <p className="quiet">{`And ${more} more decisions, all in the workbook.`}</p>}
      {equal.length === 0 ? null : (
        <details>
          <summary>{`Facts that are equal in all of them (${equal.length})`}</summary>
          <FactList facts={equal} />
        </details>
      )}
      <details className="no-print" open={typed !== null}>
        <summary>Settle it</summary>
        <form method="post" action="/consistency/settle" id={`settle-${id}`}>
          <Hidden values={{ token, finding: id, seen: String(settled.length), query }} />
          <fieldset className="stack">
            <legend>How</legend>
            {faultAt(`how-${id}`)}
            <div id={`how-${id}`} />
            {HOW.map(([value, label]) => (
              <div className="option" key={value}>
                <input type="radio" id={`${value}-${id}`} name="how" value={value} defaultChecked={typed?.how === value} />
                <label htmlFor={`${value}-${id}`}>{label}</label>
              </div>
            ))}
          </fieldset>
          <div className="field">
            <label htmlFor={`words-${id}`}>Because</label>
            {faultAt(`words-${id}`)}
            <textarea id={`words-${id}`} name="words" rows={3} className="long" defaultValue={typed?.words ?? ""} />
          </div>
          <button type="submit" className="second">
            Settle
          </button>
        </form>
      </details>
    </article>
  );
};
