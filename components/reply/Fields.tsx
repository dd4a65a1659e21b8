import type { ReactElement, ReactNode } from "react";
import { type KnownLine, takenWords } from "../../lib/letter/alike.ts";
import {
  AGREEMENTS,
  asksHow,
  CONFIRMATIONS,
  knownFields,
  OWN,
  offersOthers,
  questionFields,
  requestFields,
  testFields,
} from "../../lib/letter/formFields.ts";
import { capital, longDate, refRange, testsIn } from "../../lib/letter/words.ts";
import { NOT_KNOWN } from "../../lib/model/fact.ts";
import { LONGEST_WORDS } from "../../lib/model/reply.ts";
import type { AskedKnown, AskedQuestion, AskedRequest, AskedTest, Choice } from "../../lib/plan/asked.ts";

/** What stands in the fields, by their names, and what is wrong or was filled in otherwise meanwhile, by reference. */
export interface FilledIn {
  readonly fields: ReadonlyMap<string, string>;
  readonly faults: ReadonlyMap<string, readonly string[]>;
}

interface Place {
  readonly id: string;
  readonly text: string;
  readonly faults: readonly string[];
  readonly children: ReactNode;
}

/** One thing that is asked, with what is wrong with its answer over its fields. */
const Asked = ({ id, text, faults, children }: Place): ReactElement => (
  <fieldset id={id} className={faults.length > 0 ? "wrong" : undefined}>
    <legend>{id === "by" ? text : `${id} ${text}`}</legend>
    {faults.map((says) => (
      <p className="fault" key={says}>
        <span className="unseen">Error: </span>
        {says}
      </p>
    ))}
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
}

export const Line = ({ name, label, value, hint, longest = 200, decimal, complete = "off" }: LineProps): ReactElement => (
  <label className="f">
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

/** A field that matters with one answer only is hidden, where the browser can, until that is chosen; what stands in it is never hidden. */
const onlyWith = (kind: "later" | "how" | "day" | "way", value: string): string => `f only ${kind}${value === "" ? "" : " on"}`;

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
}

const Select = ({ name, label, value, choices, shown }: PickProps): ReactElement => (
  <label className={shown}>
    <b>{label}</b>
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

/** The set stands over its questions. */
const withoutSet = ({ set, text }: AskedQuestion): string =>
  set !== "" && text.startsWith(`${set}: `) ? text.slice(set.length + 2) : text;

const numberHint = ({ unit, units }: Pick<AskedQuestion, "unit" | "units">): string | undefined => {
  const others = units.filter((one) => one !== unit);
  if (unit === undefined) return undefined;
  return others.length === 0 ? `In ${unit}.` : `In ${unit}; or write the unit behind the number: ${others.join(", ")}.`;
};

export const QuestionPlace = ({ question, filled }: { readonly question: AskedQuestion; readonly filled: FilledIn }): ReactElement => {
  const { ref, why, look, choices } = question;
  const names = questionFields(ref);
  const [value, by] = [names.answer, names.by].map((name) => filled.fields.get(name) ?? "") as [string, string];
  return (
    <Asked id={ref} text={capital(withoutSet(question))} faults={filled.faults.get(ref) ?? []}>
      <p className="about">
        {why}
        {look === undefined ? null : ` Where to look: ${look}`}
      </p>
      {choices.length > 0 ? (
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
    </Asked>
  );
};

export const RequestPlace = ({ request, filled }: { readonly request: AskedRequest; readonly filled: FilledIn }): ReactElement => {
  const { ref, text, actor, confirmBy, late, neededFor, had } = request;
  const names = requestFields(ref);
  const at = (name: string): string => filled.fields.get(name) ?? "";
  return (
    <Asked id={ref} text={capital(text)} faults={filled.faults.get(ref) ?? []}>
      <p className="about">
        {`${capital(actor)}; to be confirmed by ${longDate(confirmBy)}${late ? ", which is late already" : ""}.`}
        {neededFor.length === 0 ? "" : ` For ${testsIn(neededFor)}.`}
      </p>
      <Options name={names.says} value={at(names.says)} choices={[...CONFIRMATIONS, NO_ANSWER]} />
      <div className="two">
        {asksHow(request) ? (
          <Select name={names.had} label="If yes: how" value={at(names.had)} choices={had} shown={onlyWith("how", at(names.had))} />
        ) : null}
        <Day name={names.by} label="If by another date: when" value={at(names.by)} shown={onlyWith("day", at(names.by))} />
        <Line name={names.words} label="What instead, or a remark" value={at(names.words)} longest={LONGEST_WORDS} />
        <Line name={names.contact} label="Contact for this" value={at(names.contact)} />
      </div>
    </Asked>
  );
};

export const TestPlace = ({ test, filled }: { readonly test: AskedTest; readonly filled: FilledIn }): ReactElement => {
  const { ref, name, way, settled, others } = test;
  const names = testFields(ref);
  const at = (field: string): string => filled.fields.get(field) ?? "";
  return (
    <Asked id={ref} text={capital(name)} faults={filled.faults.get(ref) ?? []}>
      <p className="about">
        {way === "" ? "No acceptable way is left as things stand; say so if you know one." : `${settled ? "Planned" : "Proposed"}: ${way}.`}
      </p>
      <Options name={names.says} value={at(names.says)} choices={[...AGREEMENTS, NO_ANSWER]} />
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
          value={at(names.words)}
          longest={LONGEST_WORDS}
        />
      </div>
    </Asked>
  );
};

interface CorrectionProps {
  readonly fact: AskedKnown;
  readonly label: string;
  readonly value: string;
  readonly faults: readonly string[];
}

/** What a fact is on one set. */
const Correction = ({ fact, label, value, faults }: CorrectionProps): ReactElement => {
  const { ref, choices } = fact;
  const name = knownFields(ref).is;
  return (
    <div id={ref} className={faults.length > 0 ? "wrong" : undefined}>
      {faults.map((says) => (
        <p className="fault" key={says}>
          <span className="unseen">Error: </span>
          {says}
        </p>
      ))}
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
  const own = facts.map((fact) => ({
    fact,
    value: filled.fields.get(knownFields(fact.ref).is) ?? "",
    faults: filled.faults.get(fact.ref) ?? [],
  }));
  const [first] = facts;
  return (
    <details open={own.some(({ value, faults }) => value !== "" || faults.length > 0)}>
      <summary>
        {`${refRange(facts.map(({ ref }) => ref))} ${first?.name}: `}
        <b>{first === undefined ? "" : takenWords(first)}</b>
      </summary>
      {own.map(({ fact, value, faults }) => (
        <Correction
          key={fact.ref}
          fact={fact}
          label={facts.length === 1 ? "In fact" : `In fact, ${fact.set}`}
          value={value}
          faults={faults}
        />
      ))}
    </details>
  );
};

/** Who answers: asked once for the whole reply. */
export const WhoPlace = ({ filled }: { readonly filled: FilledIn }): ReactElement => (
  <Asked id="by" text="Who answers for the vessel" faults={filled.faults.get("by") ?? []}>
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
