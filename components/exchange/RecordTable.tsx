import { longDate } from "../../lib/letter/words.ts";
import type { ExchangeRecord, OnPage, RecordCell, RecordLetter, RecordRow } from "../../lib/usecases/exchange/record.ts";
import { Scroll } from "../frame/Scroll.tsx";

const KINDS: Readonly<Record<RecordLetter["kind"], string>> = {
  letter: "a letter that asks",
  settled: "a letter that ends the exchange, nothing being open any more",
  "not settled": "a letter that ends the exchange and names what remains",
};

interface Words {
  /** "26 November 2026, 08:15 UTC". */
  readonly instant: (when: string) => string;
  readonly who: (id: string) => string;
}

/** What was filled in at one place of the vessel's page. */
export const filledWords = ({ ref, text }: OnPage["filled"][number]): string => (ref === "by" ? text : `${ref}: ${text}`);

type LettersProps = Words & { readonly letters: ExchangeRecord["letters"]; readonly visit: string };

const Letter = ({ letter, visit, instant, who }: { readonly letter: RecordLetter } & Omit<LettersProps, "letters">) => {
  const { number, kind, sent, to, made, reply, taken, takenBack, onPage, id } = letter;
  const signed = reply === undefined ? [] : [reply.by.name, reply.by.role, reply.by.contact].filter((part) => part !== undefined);
  return (
    <section>
      <h2>{`Letter ${number}`}</h2>
      <dl className="facts weighed">
        <dt>Kind</dt>
        <dd>{KINDS[kind]}</dd>
        <dt>Sent</dt>
        <dd>{`${instant(sent.when)}, by ${who(sent.who)}`}</dd>
        <dt>To</dt>
        <dd>{to.join("; ")}</dd>
        {made === undefined ? null : (
          <>
            <dt>Made from</dt>
            <dd>
              {`version ${made.version} of the visit, rulebook ${made.rulebook} `}
              <a href={`/visits/${visit}/letters/${made.id}`}>
                Letter as it went out (PDF)<span className="unseen">{`, letter ${number}`}</span>
              </a>
            </dd>
          </>
        )}
        {onPage === undefined ? null : (
          <>
            <dt>On the vessel’s page</dt>
            <dd>
              {`filled in, last ${instant(onPage.last.when)} by ${who(onPage.last.who)}`}
              {/* What was confirmed stands in the tables below. */}
              <details open={reply === undefined}>
                <summary>{`What stands there: ${onPage.filled.length}`}</summary>
                <ul>
                  {onPage.filled.map((one) => (
                    <li key={one.ref}>{filledWords(one)}</li>
                  ))}
                </ul>
              </details>
            </dd>
          </>
        )}
        <dt>Reply</dt>
        <dd>
          {reply === undefined
            ? kind === "letter"
              ? "none confirmed yet"
              : "none asked for"
            : `signed ${signed.join(", ")}; confirmed ${instant(reply.confirmed.when)}, ${who(reply.confirmed.who)}`}
        </dd>
        {reply?.remarks === undefined ? null : (
          <>
            <dt>Remarks</dt>
            <dd>{`“${reply.remarks}”`}</dd>
          </>
        )}
        {takenBack.length === 0 ? null : (
          <>
            <dt>Taken in and back</dt>
            <dd>{takenBack.map((one) => `taken back ${instant(one.when)}, by ${who(one.who)}`).join("; ")}</dd>
          </>
        )}
        {reply === undefined ? null : (
          <>
            <dt>Taken in</dt>
            <dd>
              {taken === undefined ? "not yet" : `${instant(taken.when)}, by ${who(taken.who)}`}{" "}
              <a className="no-print" href={`/visits/${visit}/exchange/${id}`}>
                {taken === undefined ? "Take it in" : "What was taken and left"}
                <span className="unseen">{`, letter ${number}`}</span>
              </a>
            </dd>
          </>
        )}
      </dl>
    </section>
  );
};

/** Every letter with its reply: who, when, on which facts and rulebook. */
export const RecordLetters = ({ letters, ...words }: LettersProps) =>
  letters.map((letter) => <Letter key={letter.id} letter={letter} {...words} />);

const Cell = ({ cell: { asked, says, became, reason } }: { readonly cell: RecordCell }) =>
  asked === "" && says === "" ? (
    <td className="quiet">not in it</td>
  ) : (
    <td>
      <p>{asked}</p>
      {says === "" ? null : (
        <p>
          <span className="quiet">Vessel: </span>
          {says}
        </p>
      )}
      {became === "" ? null : <p className="quiet">{reason === undefined ? became : `${became}: ${reason}`}</p>}
    </td>
  );

const TITLES: Readonly<Record<RecordRow["kind"], string>> = {
  test: "Tests",
  question: "Questions",
  request: "Requests",
  fact: "Said to be otherwise than assumed",
};

/** Every reference through all letters, side by side. */
export const RecordTable = ({ letters, rows }: Pick<ExchangeRecord, "letters" | "rows">) =>
  (["test", "question", "request", "fact"] as const).map((kind) => {
    const own = rows.filter((row) => row.kind === kind);
    return own.length === 0 ? null : (
      <section key={kind}>
        <h2>{TITLES[kind]}</h2>
        <Scroll label={`${TITLES[kind]} through all letters`}>
          <table className="record">
            <caption className="unseen">{`${TITLES[kind]} through all letters`}</caption>
            <thead>
              <tr>
                <th scope="col">Reference</th>
                {letters.map(({ id, number, sent }) => (
                  <th scope="col" key={id}>{`Letter ${number}, ${longDate(sent.when.slice(0, 10))}`}</th>
                ))}
              </tr>
            </thead>
            <tbody>
              {own.map(({ ref, set, what, cells }) => (
                <tr key={ref}>
                  <th scope="row">
                    {ref}
                    <span className="record-what">{`${set === "" ? "" : `${set}: `}${what}`}</span>
                  </th>
                  {cells.map((cell) => (
                    <Cell key={cell.letter} cell={cell} />
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      </section>
    );
  });

/** Choices against the order of preference, with reason and who chose. */
export const RecordDeviations = ({ deviations, instant, who }: Words & Pick<ExchangeRecord, "deviations">) =>
  deviations.length === 0 ? null : (
    <section>
      <h2>Choices against the order of preference</h2>
      <dl className="before-after">
        {deviations.map(({ ref, set, what, method, reason, refused, letter, chosen }) => (
          <div key={`${ref} ${method} ${reason}`}>
            <dt>{`${ref}, ${set}: ${what}`}</dt>
            <dd>{`${method}${refused ? " – refused" : ""}: ${reason}`}</dd>
            <dd className="quiet">
              {`${chosen === undefined ? "who chose it is not kept" : `${who(chosen.who)}, ${instant(chosen.when)}`}; ${letter === null ? "after the last letter" : `in the plan since letter ${letter}`}`}
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
