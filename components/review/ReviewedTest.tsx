import { bookAt } from "../../lib/rulebook/places.ts";
import { commentField, LONGEST_WORDS } from "../../lib/usecases/review/decide.ts";
import type { ReviewedTest as Test } from "../../lib/usecases/review/reviewView.ts";
import { testAt } from "../plan/address.ts";
import { LoopStrip, stripWords } from "../plan/LoopStrip.tsx";
import { Comments, type Said } from "./Comments.tsx";
import { Ways } from "./Ways.tsx";

interface Props {
  readonly visit: string;
  readonly test: Test;
  readonly said: (comments: Test["comments"]) => readonly Said[];
  /** What was typed of a comment and not kept. */
  readonly typed: string;
  readonly fault: string | undefined;
}

const Elsewhere = ({ elsewhere, mark }: Pick<Test, "elsewhere" | "mark">) =>
  elsewhere.length === 0 ? (
    <p className="quiet">The office has no other plan of this protection on the same facts.</p>
  ) : (
    <p>
      {`On the same facts elsewhere: ${elsewhere.map(({ way, count }) => `${way} (${count} ${count === 1 ? "visit" : "visits"})`).join("; ")}. `}
      <a href={`/consistency?signature=${mark}`}>Side by side</a>
    </p>
  );

/** One test with what its reviewer weighs, what was said of it, and room for a comment. */
export const ReviewedTest = ({ visit, test, said, typed, fault }: Props) => {
  const {
    ref,
    at,
    also,
    kind,
    name,
    state,
    outcome,
    ways,
    proves,
    unproven,
    deviation,
    refused,
    elsewhere,
    mark,
    wanted,
    approved,
    comments,
  } = test;
  const field = commentField(at);
  return (
    <article className="reviewed" id={`test-${ref}`}>
      <h3>
        {[test, ...also].map((one, place) => (
          <span key={one.at}>
            {place === 0 ? "" : "; "}
            <a href={testAt(visit, one)}>{`${one.ref}, ${one.set}`}</a>
          </span>
        ))}
        {": "}
        <a href={bookAt("protections", kind)}>{name}</a>
      </h3>
      <p className="review-marks">
        <span>{outcome === "nothing acceptable" ? "✕ nothing acceptable" : state === "settled" ? "■ settled" : "▲ proposed"}</span>
        {wanted === "" ? null : <span>{approved ? `approved as it stands (${wanted})` : `to be approved: ${wanted}`}</span>}
      </p>
      {deviation === null ? (
        <p>
          {outcome === "nothing acceptable" ? (
            "No acceptable way is left as things stand."
          ) : (
            <>
              {"Way: "}
              <Ways ways={ways} />
            </>
          )}
        </p>
      ) : (
        <dl className="weighed">
          <dt>The engine chooses</dt>
          <dd>{deviation.engine}</dd>
          <dt>The inspector chooses</dt>
          <dd>
            <Ways ways={ways} />
          </dd>
          <dt>Because</dt>
          <dd>{deviation.reason === "" ? "no reason is told" : deviation.reason}</dd>
        </dl>
      )}
      {refused === "" ? null : <p>{`A choice was refused by the engine: ${refused}`}</p>}
      <LoopStrip proves={proves} />
      <span className="quiet">{` ${stripWords(proves)}`}</span>
      {unproven === "" ? null : <p>{`Stays unproven: ${unproven}.`}</p>}
      {deviation === null ? null : <Elsewhere elsewhere={elsewhere} mark={mark} />}
      <Comments said={said(comments)} />
      <details className="no-print" open={typed !== ""}>
        <summary>Comment</summary>
        <label className="unseen" htmlFor={field}>{`Comment on ${ref}, ${name}`}</label>
        {fault === undefined ? null : (
          <p className="fault" id={`${field}-fault`}>
            <span className="unseen">Error: </span>
            {fault}
          </p>
        )}
        <textarea
          id={field}
          name={`comment ${at}`}
          rows={3}
          className="long"
          maxLength={LONGEST_WORDS}
          defaultValue={typed}
          aria-describedby={fault === undefined ? undefined : `${field}-fault`}
          aria-invalid={fault === undefined ? undefined : true}
        />
      </details>
    </article>
  );
};
