import type { ReactElement, ReactNode } from "react";
import { type KnownLine, takenWords, withoutSet } from "../../lib/letter/alike.ts";
import {
  agreementsOf,
  asksHow,
  CONFIRMATIONS,
  knownFields,
  OWN,
  offersOthers,
  questionFields,
  requestFields,
  testFields,
} from "../../lib/letter/formFields.ts";
import { laterWords } from "../../lib/letter/said.ts";
import { capital, longDate, refRange, testsIn } from "../../lib/letter/words.ts";
import { NOT_KNOWN } from "../../lib/model/fact.ts";
import { LONGEST_WORDS } from "../../lib/model/reply.ts";
import type { AskedKnown, AskedQuestion, AskedRequest, AskedTest, Choice } from "../../lib/plan/asked.ts";

/** What stands in the fields, by their names, and what is wrong or was filled in otherwise meanwhile, by reference. */
export interface FilledIn {
  readonly fields: ReadonlyMap<string, string>;
  readonly faults: ReadonlyMap<string, readonly string[]>;
  /** What wants a look at a place and is not wrong, by reference. */
  readonly notes: ReadonlyMap<string, string>;
  /** Places that somebody else filled in otherwise meanwhile, and where the wish to take his goes to. */
  readonly theirs: { readonly refs: readonly string[]; readonly act: string };
}

interface Place {
  readonly id: string;
  readonly text: string;
  readonly filled: FilledIn;
  /** The id of what it asks, where that stands over it. */
  readonly about?: string | undefined;
  readonly children: ReactNode;
}

/** What is wrong at a place, and the wish to take what somebody else filled in there. */
const Trouble = ({ id, filled: { faults, theirs } }: Pick<Place, "id" | "filled">): ReactElement => (
  <>
    {faults.get(id)?.map((says) => (
      <p className="fault" key={says}>
        <span className="unseen">Error: </span>
        {says}
      </p>
    ))}
    {theirs.refs.includes(id) ? (
      <button className="second" type="submit" name="theirs" value={id} formAction={theirs.act}>
        Take theirs
      </button>
    ) : null}
  </>
);

/** One thing that is asked, with what is wrong with its answer over its fields. */
const Asked = ({ id, text, filled, about, children }: Place): ReactElement => (
  <fieldset id={id} className={filled.faults.has(id) ? "wrong" : undefined} aria-describedby={about}>
    <legend>{id === "by" ? text : `${id} ${text}`}</legend>
    <Trouble id={id} filled={filled} />
    {children}
  </fieldset>
);

const Options = ({ name, value, choices }: { readonly name: string; readonly value: string; readonly choices: readonly Choice[] }) => (
  <div className="os">
    {choices.map((choice) => (
      <label className="o" key={choice.value}>
        <input type="radio" name={name} value={choice.value} defaultChecked={choice.value === value} />
        {capital(choice.label)}
      </label>
    ))}
  </div>
);

interface LineProps {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly hint?: string | undefined;
  readonly longest?: number;
  readonly decimal?: true;
  readonly complete?: string;
  /** How its label is shown. */
  readonly shown?: string;
}

export const Line = ({ name, label, value, hint, longest = 200, decimal, complete = "off", shown = "f" }: LineProps): ReactElement => (
  <label className={shown}>
    <b>{label}</b>
    {hint === undefined ? null : <small>{hint}</small>}
    <input
      type="text"
      name={name}
      defaultValue={value}
      maxLength={longest}
      inputMode={decimal === undefined ? undefined : "decimal"}
      autoComplete={complete}
    />
  </label>
);

/** A field that matters with one answer only, or with any, is hidden, where the browser can, until that is chosen; what stands in it is never hidden. */
const onlyWith = (kind: "later" | "how" | "day" | "way" | "said", value: string): string => `f only ${kind}${value === "" ? "" : " on"}`;

interface DayProps extends Pick<LineProps, "name" | "label" | "value"> {
  /** How its label is shown. */
  readonly shown?: string;
}

const Day = ({ name, label, value, shown = "f" }: DayProps): ReactElement => (
  <label className={shown}>
    <b>{label}</b>
    {/* A day that no browser can show as one stays as it was typed. What is past is told by us: a browser would say nothing of a hidden field. */}
    <input type={value === "" || /^\d{4}-\d\d-\d\d$/.test(value) ? "date" : "text"} name={name} defaultValue={value} />
  </label>
);

interface PickProps {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly choices: readonly Choice[];
  readonly shown: string;
  /** Whether what stands over it says enough to whoever sees it. */
  readonly unseen?: boolean;
}

const Select = ({ name, label, value, choices, shown, unseen = false }: PickProps): ReactElement => (
  <label className={shown}>
    <b className={unseen ? "unseen" : undefined}>{label}</b>
    <select name={name} defaultValue={value}>
      <option value="">–</option>
      {choices.map((choice) => (
        <option key={choice.value} value={choice.value}>
          {capital(choice.label)}
        </option>
      ))}
    </select>
  </label>
);

const NO_ANSWER: Choice = { value: "", label: "No answer yet" };
const FIND_OUT: Choice = { value: NOT_KNOWN, label: "We do not know yet and will find out" };

const NOT_SURE: Choice = { value: NOT_KNOWN, label: "We do not know" };

const numberHint = ({ unit, units }: Pick<AskedQuestion, "unit" | "units">): string | undefined => {
  const others = units.filter((one) => one !== unit);
  if (unit === undefined) return undefined;
  return others.length === 0 ? `In ${unit}.` : `In ${unit}; or write the unit behind the number: ${others.join(", ")}.`;
};

interface QuestionProps {
  readonly question: AskedQuestion;
  readonly filled: FilledIn;
}

const WhyAndWhere = ({ question: { why, look } }: Pick<QuestionProps, "question">): ReactElement => (
  <p className="about">
    {why}
    {look === undefined ? null : ` Where to look: ${look}`}
  </p>
);

/** From more choices on a sister question folds them, so that every set takes one row on a telephone. */
const ROW_OF_CHOICES = 3;

interface AnswerProps extends QuestionProps {
  /** Whether many choices are folded. */
  readonly folds?: boolean;
}

const AnswerFields = ({ question, filled, folds = false }: AnswerProps): ReactElement => {
  const { ref, choices } = question;
  const names = questionFields(ref);
  const [value, by] = [names.answer, names.by].map((name) => filled.fields.get(name) ?? "") as [string, string];
  return (
    <>
      {folds && choices.length > ROW_OF_CHOICES ? (
        <Select name={names.answer} label="Answer" unseen value={value} choices={[...choices, FIND_OUT]} shown="f" />
      ) : choices.length > 0 ? (
        <Options name={names.answer} value={value} choices={[...choices, FIND_OUT, NO_ANSWER]} />
      ) : (
        <Line name={names.answer} label="Answer" hint={numberHint(question)} value={value} decimal longest={60} />
      )}
      <Day
        name={names.by}
        label="If not known yet: we will find out by"
        value={by}
        shown={choices.length > 0 ? onlyWith("later", by) : "f"}
      />
    </>
  );
};

export const QuestionPlace = ({ question, filled }: QuestionProps): ReactElement => (
  <Asked id={question.ref} text={capital(withoutSet(question))} filled={filled}>
    <WhyAndWhere question={question} />
    <AnswerFields question={question} filled={filled} />
  </Asked>
);

/** One question of several sets: what is asked and why once, then a row of choices for each set. */
export const SisterPlaces = ({
  first,
  questions,
  filled,
}: {
  readonly first: AskedQuestion;
  readonly questions: readonly AskedQuestion[];
  readonly filled: FilledIn;
}): ReactElement => {
  const about = `${first.ref}-asks`;
  return (
    <section className="same">
      <h3 id={about}>{capital(withoutSet(first))}</h3>
      <WhyAndWhere question={first} />
      {questions.map((question) => (
        <Asked key={question.ref} id={question.ref} text={question.set} about={about} filled={filled}>
          <AnswerFields question={question} filled={filled} folds />
        </Asked>
      ))}
    </section>
  );
};

/** What is done instead where a request is refused, and the tests to which a refusal makes no difference. */
const withoutIt = ({ neededFor, instead }: AskedRequest): string => {
  if (instead === undefined) return "";
  const priced = new Set(instead.flatMap(({ tests }) => tests));
  const same = neededFor.filter((ref) => !priced.has(ref));
  const [only] = instead;
  if (only !== undefined && instead.length === 1 && same.length === 0)
    return only.way === "" ? " Without it no acceptable way is left." : ` Without it: ${only.way}.`;
  const parts = [
    ...instead.map(({ tests, way }) => `${testsIn(tests)} ${way === "" ? "has no acceptable way left" : `by ${way}`}`),
    ...(same.length === 0 ? [] : [`nothing changes for ${testsIn(same)}`]),
  ];
  return parts.length === 0 ? "" : ` Without it: ${parts.join("; ")}.`;
};

export const RequestPlace = ({ request, filled }: { readonly request: AskedRequest; readonly filled: FilledIn }): ReactElement => {
  const { ref, text, actor, confirmBy, late, neededFor, had, answers = [], later } = request;
  const names = requestFields(ref);
  const at = (name: string): string => filled.fields.get(name) ?? "";
  return (
    <Asked id={ref} text={capital(text)} filled={filled}>
      <p className="about">
        {`${capital(actor)}; to be ${later ? "answered" : "confirmed"} by ${longDate(confirmBy)}${late ? ", which is late already" : ""}.`}
        {later ? ` ${laterWords(request)}` : ""}
        {neededFor.length === 0 ? "" : ` For ${later ? "later ways of " : ""}${testsIn(neededFor)}.`}
        {answers.length === 0 ? "" : ` Answers ${refRange(answers)}.`}
        {withoutIt(request)}
      </p>
      <Options name={names.says} value={at(names.says)} choices={[...CONFIRMATIONS, NO_ANSWER]} />
      {filled.notes.has(ref) ? <p className="note">{filled.notes.get(ref)}</p> : null}
      <div className="two">
        {asksHow(request) ? (
          <Select name={names.had} label="If yes: how" value={at(names.had)} choices={had} shown={onlyWith("how", at(names.had))} />
        ) : null}
        <Day name={names.by} label="If by another date: when" value={at(names.by)} shown={onlyWith("day", at(names.by))} />
        <Line
          name={names.words}
          label="What instead, or a remark"
          value={at(names.words)}
          longest={LONGEST_WORDS}
          shown={onlyWith("said", at(names.words))}
        />
        <Line name={names.contact} label="Contact for this" value={at(names.contact)} shown={onlyWith("said", at(names.contact))} />
      </div>
    </Asked>
  );
};

/** Why there is no other way to choose from. */
const noOthers = ({ hangs }: AskedTest): string =>
  hangs === true
    ? "Whether another of the known ways fits hangs on what is still asked."
    : "No other of the known ways fits as things stand.";

export const TestPlace = ({ test, filled }: { readonly test: AskedTest; readonly filled: FilledIn }): ReactElement => {
  const { ref, name, way, settled, others } = test;
  const names = testFields(ref);
  const at = (field: string): string => filled.fields.get(field) ?? "";
  return (
    <Asked id={ref} text={capital(name)} filled={filled}>
      <p className="about">
        {way === "" ? "No acceptable way is left as things stand; say so if you know one." : `${settled ? "Planned" : "Proposed"}: ${way}.`}
      </p>
      <Options name={names.says} value={at(names.says)} choices={[...agreementsOf(test), NO_ANSWER]} />
      <div className="two">
        {offersOthers(test) ? (
          <Select
            name={names.method}
            label="The other way is one of these"
            value={at(names.method)}
            choices={others}
            shown={onlyWith("way", at(names.method))}
          />
        ) : null}
        <Line
          name={names.words}
          label={offersOthers(test) ? "or in your words" : "Which way, in your words"}
          hint={offersOthers(test) ? undefined : noOthers(test)}
          value={at(names.words)}
          longest={LONGEST_WORDS}
          shown={onlyWith("said", at(names.words))}
        />
      </div>
    </Asked>
  );
};

interface CorrectionProps {
  readonly fact: AskedKnown;
  readonly label: string;
  readonly filled: FilledIn;
}

const inFact = ({ ref }: AskedKnown, { fields }: FilledIn): string => fields.get(knownFields(ref).is) ?? "";

/** What a fact is on one set. */
const Correction = ({ fact, label, filled }: CorrectionProps): ReactElement => {
  const { ref, choices } = fact;
  const [name, value] = [knownFields(ref).is, inFact(fact, filled)];
  return (
    <div id={ref} className={filled.faults.has(ref) ? "wrong" : undefined}>
      <Trouble id={ref} filled={filled} />
      {choices.length > 0 ? (
        <Select name={name} label={label} value={value} choices={[...choices, NOT_SURE]} shown="f" />
      ) : (
        <Line name={name} label={label} hint={numberHint(fact)} value={value} decimal longest={60} />
      )}
    </div>
  );
};

/** What was taken as known, in a line that opens where it is otherwise. What is filled in or wrong stands open. */
export const KnownPlace = ({ line: { facts }, filled }: { readonly line: KnownLine; readonly filled: FilledIn }): ReactElement => {
  const [first] = facts;
  return (
    <details open={facts.some((fact) => inFact(fact, filled) !== "" || filled.faults.has(fact.ref))}>
      <summary>
        {`${refRange(facts.map(({ ref }) => ref))} ${first?.name}: `}
        <b>{first === undefined ? "" : takenWords(first)}</b>
      </summary>
      {facts.map((fact) => (
        <Correction key={fact.ref} fact={fact} label={facts.length === 1 ? "In fact" : `In fact, ${fact.set}`} filled={filled} />
      ))}
    </details>
  );
};

/** Who answers: asked once for the whole reply. */
export const WhoPlace = ({ filled }: { readonly filled: FilledIn }): ReactElement => (
  <Asked id="by" text="Who answers for the vessel" filled={filled}>
    <div className="two">
      <Line name={OWN.name} label="Name" value={filled.fields.get(OWN.name) ?? ""} longest={120} complete="name" />
      <Line
        name={OWN.role}
        label="Role"
        hint="Such as superintendent, chief engineer"
        value={filled.fields.get(OWN.role) ?? ""}
        longest={80}
      />
      <Line name={OWN.contact} label="E-mail or telephone" value={filled.fields.get(OWN.contact) ?? ""} />
    </div>
  </Asked>
);
