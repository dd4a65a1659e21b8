import type { PolicyFault, PolicyTexts } from "../../lib/flow/policyForm.ts";
import { fieldLabel, POLICY_FIELDS, POLICY_GROUPS, type PolicyField } from "../../lib/plan/policyFields.ts";
import { capital } from "../../lib/plan/say.ts";
import type { Rulebook } from "../../lib/rulebook/types.ts";
import { ChoiceField, Hidden, TextField } from "../form/Fields.tsx";

interface Shown {
  readonly rulebook: Rulebook;
  readonly texts: PolicyTexts;
  readonly faults: readonly PolicyFault[];
}

interface Props extends Shown {
  readonly action: string;
  readonly hidden: Readonly<Record<string, string>>;
  readonly note: string;
}

const ABOUT: Readonly<Partial<Record<(typeof POLICY_GROUPS)[number], string>>> = {
  "Limits and margins":
    "Write a unit where you think in another: 113 °F, 5.4 °F of margin. Some may be stricter than the program’s own number, never laxer.",
  "Loop parts that may stay unproven":
    "What a planned combination may leave unproven. Where it may with consent, that consent is the supervisor’s review of the plan.",
  "Local rules":
    "For the rule basis “local rules”, in your own words. A technique with a reason beside it is barred; one without is accepted.",
};

/** The choices of several that can be ticked; names of protections are the rulebook’s. */
const choicesOf = (
  { id, ...field }: PolicyField,
  { protections }: Rulebook,
): readonly { readonly value: string; readonly label: string }[] => {
  if (id === "leaveOut") return protections.map(({ kind, name }) => ({ value: kind, label: capital(name) }));
  const own = field.kind === "amount" ? [] : (field.choices ?? []);
  return own.map(({ value, label }) => ({ value, label: capital(protections.find(({ kind }) => kind === value)?.name ?? label) }));
};

const Several = ({ field, rulebook, texts, faults }: Shown & { readonly field: PolicyField }) => {
  const { id } = field;
  const ticked = (texts[id] ?? "").split(",");
  const fault = faults.find((one) => one.id === id)?.says;
  return (
    <fieldset className={fault === undefined ? "field" : "field wrong"} id={id} tabIndex={-1}>
      <legend>{fieldLabel(field, rulebook)}</legend>
      <div>
        {field.hint === undefined ? null : <p className="hint">{field.hint}</p>}
        {fault === undefined ? null : (
          <p className="fault">
            <span className="unseen">Error: </span>
            {fault}
          </p>
        )}
        <div className="several">
          {choicesOf(field, rulebook).map(({ value, label }) => (
            <div className="option row" key={value}>
              <input type="checkbox" id={`${id}-${value}`} name={id} value={value} defaultChecked={ticked.includes(value)} />
              <label htmlFor={`${id}-${value}`}>{label}</label>
            </div>
          ))}
        </div>
      </div>
    </fieldset>
  );
};

const Field = ({ field, rulebook, texts, faults }: Shown & { readonly field: PolicyField }) => {
  const { id, kind, hint } = field;
  if (kind === "several") return <Several field={field} rulebook={rulebook} texts={texts} faults={faults} />;
  const own = faults.filter((one) => one.id === id).map(({ says }) => says);
  const shared = {
    id,
    label: id.startsWith("bar-") ? fieldLabel(field, rulebook) : field.label,
    value: texts[id] ?? "",
    fault: own.length === 0 ? undefined : own.join(". "),
    ...(hint === undefined ? {} : { hint }),
  };
  if (kind === "choice") return <ChoiceField {...shared} choices={field.choices ?? []} />;
  const long = kind === "lines" || kind === "days" || id === "rulesSay";
  return <TextField {...shared} lines={long ? 4 : 1} width={kind === "amount" ? "short" : id.startsWith("bar-") ? "long" : "middle"} />;
};

/** Everything that the office settles, in groups; kept as a draft, which changes nothing yet. */
export const PolicyForm = ({ action, hidden, note, ...shown }: Props) => (
  <form method="post" action={action} noValidate>
    <Hidden values={hidden} />
    {POLICY_GROUPS.map((group) => (
      <fieldset className="group" key={group}>
        <legend>
          <h2>{group}</h2>
        </legend>
        <div>
          {ABOUT[group] === undefined ? null : <p>{ABOUT[group]}</p>}
          {POLICY_FIELDS.filter((field) => field.group === group).map((field) => (
            <Field key={field.id} field={field} {...shown} />
          ))}
        </div>
      </fieldset>
    ))}
    <fieldset className="group">
      <legend>
        <h2>Why</h2>
      </legend>
      <TextField
        id="note"
        label="What it is for (optional)"
        hint="Whoever reads the draft sees it; the reason for adopting it is asked then"
        value={note}
        lines={3}
        fault={shown.faults.find(({ id }) => id === "note")?.says}
      />
    </fieldset>
    <div className="acts">
      <button type="submit">Keep as a draft</button>
      <p>A draft changes nothing until it is adopted.</p>
    </div>
  </form>
);
