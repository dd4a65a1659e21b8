import type { ReactNode } from "react";
import { OUTCOMES, WITHIN } from "../../lib/model/result.ts";
import { type ResultField, TAKE_BACK } from "../../lib/usecases/visits/resultFields.ts";
import type { TestView } from "../../lib/usecases/visits/resultsView.ts";
import { LOOK_AGAIN, resultFieldId, testId } from "./resultIds.ts";

export interface Names {
  readonly instant: (when: string) => string;
  readonly who: (id: string) => string;
}

interface Props extends Names {
  readonly test: TestView;
  readonly set: string;
}

const OUTCOME_LABELS = { "as planned": "Done as planned", "by another method": "Done by another method", "not done": "Not done" } as const;

const WITHIN_LABELS = {
  "within limits": "Within limits",
  "outside limits": "Outside limits, or it did not act",
  "no limit known": "No limit known",
} as const;

const faultAt = ({ problems }: TestView, field: ResultField): string | undefined => problems.find((one) => one.field === field)?.says;

const Fault = ({ test, field }: { readonly test: TestView; readonly field: ResultField }) => {
  const says = faultAt(test, field);
  return says === undefined ? null : (
    <p className="fault" id={`${resultFieldId(test.at, field)}-fault`}>
      <span className="unseen">Error: </span>
      {says}
    </p>
  );
};

/** What connects a field to its name and to what is wrong with it. */
const wired = (test: TestView, field: ResultField) => {
  const wrong = faultAt(test, field) !== undefined;
  return {
    id: resultFieldId(test.at, field),
    name: `${test.at}.${field}`,
    "aria-invalid": wrong ? (true as const) : undefined,
    "aria-describedby": wrong ? `${resultFieldId(test.at, field)}-fault` : undefined,
  };
};

interface LineProps {
  readonly test: TestView;
  readonly field: ResultField;
  readonly label: string;
  readonly children: ReactNode;
}

const Line = ({ test, field, label, children }: LineProps) => (
  <div className="field">
    <label htmlFor={resultFieldId(test.at, field)}>{label}</label>
    <Fault test={test} field={field} />
    {children}
  </div>
);

interface RadiosProps {
  readonly test: TestView;
  readonly field: "outcome" | "within";
  readonly legend: string;
  readonly choices: readonly { readonly value: string; readonly label: string }[];
}

const Radios = ({ test, field, legend, choices }: RadiosProps) => (
  <fieldset className="field stack">
    <legend>{legend}</legend>
    <Fault test={test} field={field} />
    {choices.map(({ value, label }, place) => {
      const { id, ...wiring } = wired(test, field);
      const own = place === 0 ? id : `${id}-${place}`;
      return (
        <div className="option" key={value}>
          <input type="radio" {...wiring} id={own} value={value} defaultChecked={test.values[field] === value} />
          <label htmlFor={own}>{label}</label>
        </div>
      );
    })}
  </fieldset>
);

/** What was planned and found before: what the record is held against. */
const Planned = ({ test: { way, figures, lastTime } }: { readonly test: TestView }) => (
  <>
    <p>{way === "" ? "No way to prove it is planned." : `Planned: ${way}.`}</p>
    {figures.length === 0 ? null : (
      <ul>
        {figures.map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
    )}
    {lastTime.map(({ label, text }) => (
      <p key={label} className="quiet">{`${label}: ${text}`}</p>
    ))}
  </>
);

/** What the office has of it, and what of the fields it has not. */
const Standing = ({ test: { kept, odd, doubts, typed, problems }, instant, who }: Omit<Props, "set">) => (
  <>
    {kept === undefined ? null : <p className="note">{`Kept in the office by ${who(kept.who)}, ${instant(kept.when)}. ${kept.words}`}</p>}
    {odd.length === 0 ? null : <p className="quiet">{`Kept as it stands: ${odd.join(". ")}.`}</p>}
    {typed && problems.length + doubts.length === 0 ? (
      <p className="doubt">
        {kept === undefined
          ? "What you typed stands below and is not kept yet: press Keep."
          : "This was entered while you typed. What you typed stands below and is not kept: press Keep to put it in place of the other, which stays in the record, or take what the office has."}
      </p>
    ) : null}
  </>
);

/** What is asked once more before a record is kept, with the tick that says that it is so. The script fills it as well. */
const Asks = ({ test: { at, doubts, asked } }: { readonly test: TestView }) => {
  const id = `${testId(at)}-sure`;
  return (
    <>
      <input type="hidden" name={`${at}.asked`} value={asked} />
      <div className="asks" hidden={doubts.length === 0}>
        <p>{doubts.length === 0 ? "" : `${doubts.map(({ says }) => says).join(". ")}. ${LOOK_AGAIN}`}</p>
        <div className="option">
          <input type="checkbox" id={id} name={`${at}.sure`} value="yes" />
          <label htmlFor={id}>It is so, as written</label>
        </div>
      </div>
    </>
  );
};

/** One test with the fields of its record. It is folded; each opens by itself and works without a script. */
export const TestRecord = ({ test, set, instant, who }: Props) => {
  const { at, ref, name, values, seen, kept, methods, against, typed } = test;
  const outcomes = OUTCOMES.filter((value) => value !== "as planned" || values.planned !== "").map((value) => ({
    value,
    label: OUTCOME_LABELS[value],
  }));
  const back = kept === undefined || values.outcome === "" ? [] : [{ value: TAKE_BACK, label: "Take this record back" }];
  return (
    <details className="result" id={testId(at)} data-result={at} open={test.typed}>
      <summary>
        <strong>{`${ref} ${name}`}</strong> <span className="state">{kept === undefined ? "nothing recorded" : kept.words}</span>
      </summary>
      <fieldset>
        <legend className="unseen">{`${ref} ${name}, ${set}`}</legend>
        <Planned test={test} />
        <Standing test={test} instant={instant} who={who} />
        <input type="hidden" name={`${at}.planned`} value={values.planned} />
        <input type="hidden" name={`${at}.seen`} value={seen} />
        <Radios test={test} field="outcome" legend="What became of it" choices={[...outcomes, ...back]} />
        <div className="only-otherwise">
          <Line test={test} field="method" label="Which other method">
            <select {...wired(test, "method")} defaultValue={values.method}>
              <option value="">in own words, below</option>
              {methods.map((method) => (
                <option key={method.id} value={method.id}>
                  {method.name}
                </option>
              ))}
            </select>
          </Line>
          <Line test={test} field="way" label="The other method in own words">
            <input type="text" {...wired(test, "way")} defaultValue={values.way} className="long" autoComplete="off" />
          </Line>
        </div>
        <div className="only-not-done">
          <Line test={test} field="why" label="Why not">
            <input type="text" {...wired(test, "why")} defaultValue={values.why} className="long" autoComplete="off" />
          </Line>
        </div>
        {against === "" ? null : <p className="hint">{against}</p>}
        <div className="pair">
          <Line test={test} field="number" label="Reading">
            <input
              type="text"
              {...wired(test, "number")}
              defaultValue={values.number}
              className="short"
              inputMode="decimal"
              autoComplete="off"
            />
          </Line>
          <Line test={test} field="unit" label="Unit">
            <input
              type="text"
              {...wired(test, "unit")}
              defaultValue={values.unit}
              className="unit"
              autoComplete="off"
              autoCapitalize="off"
            />
          </Line>
        </div>
        <Radios test={test} field="within" legend="Limits" choices={WITHIN.map((value) => ({ value, label: WITHIN_LABELS[value] }))} />
        <Line test={test} field="words" label="Remark">
          <input type="text" {...wired(test, "words")} defaultValue={values.words} className="long" autoComplete="off" />
        </Line>
        <Line test={test} field="on" label="Day">
          <input type="date" {...wired(test, "on")} defaultValue={values.on} className="short" />
        </Line>
        <Asks test={test} />
        <div className="acts">
          <button type="submit" name="then" value={at}>
            Keep<span className="unseen">{` ${ref}`}</span>
          </button>
          <button type="submit" name="drop" value={at} className="second" hidden={!(typed && kept !== undefined)}>
            Take what the office has<span className="unseen">{` of ${ref}`}</span>
          </button>
          <p className="saved" role="status" />
        </div>
      </fieldset>
    </details>
  );
};
