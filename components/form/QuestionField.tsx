import { type ComponentProps, memo } from "react";
import type { FieldFault, Typed } from "../../lib/flow/fields.ts";
import type { Question } from "../../lib/flow/questions.ts";
import { NOT_KNOWN } from "../../lib/model/fact.ts";
import type { Meanwhile } from "../../lib/usecases/visits/stepView.ts";

/** The id of the first field of a question, which a list of problems leads to. */
export const fieldId = (at: string): string => `q${at.replaceAll("/", "-")}`;

type Wiring = (name: string) => Partial<ComponentProps<"input">>;

interface Props {
  readonly question: Question;
  readonly value: Typed;
  readonly fault?: FieldFault | undefined;
  readonly meanwhile?: Meanwhile | undefined;
  /** Connects a field to whoever watches the form; nothing where nobody does. */
  readonly wire: Wiring;
}

const clock = (when: string): string => `${when.slice(0, 10)} at ${when.slice(11, 16)} UTC`;

const About = ({ question: { at, why, look, photograph, hangs } }: Pick<Props, "question">) => (
  <div className="about" id={`${fieldId(at)}-about`}>
    <p>
      {why} {hangs === "" ? null : <span className="hangs">{hangs}</span>}
    </p>
    {look === undefined && photograph === undefined ? null : (
      <p className="look">
        {[
          ...(look === undefined ? [] : [`Look at: ${look}.`]),
          ...(photograph === undefined ? [] : [`Or a photograph: ${photograph}.`]),
        ].join(" ")}
      </p>
    )}
  </div>
);

const Trouble = ({ question: { at }, fault, meanwhile }: Pick<Props, "question" | "fault" | "meanwhile">) => (
  <>
    {fault === undefined ? null : (
      <p className={fault.kind === "unlikely" ? "doubt" : "fault"} id={`${fieldId(at)}-fault`}>
        <span className="unseen">{fault.kind === "unlikely" ? "Please look again: " : "Error: "}</span>
        {fault.says}
      </p>
    )}
    {meanwhile === undefined ? null : (
      <p className="fault" id={`${fieldId(at)}-meanwhile`}>
        <strong>Two answers. </strong>
        {`${meanwhile.who} answered “${meanwhile.theirs}” on ${clock(meanwhile.when)}, after you opened this page. What you gave stands below and is not kept yet: save it to keep yours, or give theirs.`}
      </p>
    )}
  </>
);

const describedBy = ({ question: { at }, fault, meanwhile }: Pick<Props, "question" | "fault" | "meanwhile">): string =>
  [
    ...(meanwhile === undefined ? [] : [`${fieldId(at)}-meanwhile`]),
    ...(fault === undefined ? [] : [`${fieldId(at)}-fault`]),
    `${fieldId(at)}-about`,
  ].join(" ");

const Choice = ({ question, value, fault, meanwhile, wire }: Props) => {
  const { at, choices } = question;
  const id = fieldId(at);
  const radio = (choice: string, label: string, place: number) => (
    <div className="option" key={choice}>
      <input
        type="radio"
        id={place === 0 ? id : `${id}-${place}`}
        name={`${at}.text`}
        value={choice}
        defaultChecked={value.text === choice}
        {...wire(`${at}.text`)}
      />
      <label htmlFor={place === 0 ? id : `${id}-${place}`}>{label}</label>
    </div>
  );
  return (
    <fieldset
      className={fault === undefined && meanwhile === undefined ? "question" : "question wrong"}
      aria-describedby={describedBy({ question, fault, meanwhile })}
    >
      <legend>{question.question}</legend>
      <About question={question} />
      <Trouble question={question} fault={fault} meanwhile={meanwhile} />
      <div className="options">
        {choices.map((choice, place) => radio(choice.value, choice.label, place))}
        <span className="or" aria-hidden="true">
          or
        </span>
        {radio(NOT_KNOWN, "Not known yet", choices.length)}
        {value.text === "" ? null : radio("", "No answer", choices.length + 1)}
      </div>
    </fieldset>
  );
};

const Amount = ({ question, value, fault, meanwhile, wire }: Props) => {
  const { at, unit, units } = question;
  const id = fieldId(at);
  const wrong = fault !== undefined || meanwhile !== undefined;
  return (
    <fieldset className={wrong ? "question wrong" : "question"}>
      <legend>
        <label className="ask" htmlFor={id}>
          {question.question}
        </label>
      </legend>
      <About question={question} />
      <Trouble question={question} fault={fault} meanwhile={meanwhile} />
      <div className="options">
        <span className="amount">
          <input
            type="text"
            id={id}
            name={`${at}.text`}
            defaultValue={value.text}
            inputMode="decimal"
            autoComplete="off"
            className="short"
            aria-describedby={describedBy({ question, fault, meanwhile })}
            aria-invalid={wrong ? true : undefined}
            {...wire(`${at}.text`)}
          />
          {unit === undefined ? null : units.length > 1 ? (
            <select
              name={`${at}.unit`}
              defaultValue={value.unit ?? unit}
              aria-label={`Unit of: ${question.name}`}
              {...(wire(`${at}.unit`) as ComponentProps<"select">)}
            >
              {units.map((one) => (
                <option key={one} value={one}>
                  {one}
                </option>
              ))}
            </select>
          ) : (
            <span className="unit">{unit}</span>
          )}
        </span>
        <span className="option">
          <input
            type="checkbox"
            id={`${id}-unknown`}
            name={`${at}.notKnown`}
            defaultChecked={value.notKnown === true}
            {...wire(`${at}.notKnown`)}
          />
          <label htmlFor={`${id}-unknown`}>Not known yet</label>
        </span>
        {fault?.kind === "unlikely" || value.sure === true ? (
          <span className="option">
            <input type="checkbox" id={`${id}-sure`} name={`${at}.sure`} defaultChecked={value.sure === true} {...wire(`${at}.sure`)} />
            <label htmlFor={`${id}-sure`}>It is so, as written</label>
          </span>
        ) : null}
      </div>
    </fieldset>
  );
};

/** One question with why it is asked, what hangs on it, and "not known yet". */
export const QuestionField = memo((props: Props) => (props.question.kind === "choice" ? <Choice {...props} /> : <Amount {...props} />));
