import type { ReactNode } from "react";
import { SHORTEST_PASSWORD } from "../../lib/access/password.ts";

/** Everything that is wrong on a page, each leading to its field. */
export const ErrorSummary = ({ faults }: { readonly faults: readonly { readonly id: string; readonly says: string }[] }) =>
  faults.length === 0 ? null : (
    <div className="summary" role="alert" tabIndex={-1} id="problems" aria-labelledby="problems-title">
      <h2 id="problems-title">There is a problem</h2>
      <ul>
        {faults.map(({ id, says }) => (
          <li key={id + says}>{id === "" ? says : <a href={`#${id}`}>{says}</a>}</li>
        ))}
      </ul>
    </div>
  );

/** What describes a field: its hint, and what is wrong with it. */
const aboutOf = (id: string, hint: string | undefined, fault: string | undefined): string | undefined => {
  const about = [hint === undefined ? "" : `${id}-hint`, fault === undefined ? "" : `${id}-fault`].filter((part) => part !== "").join(" ");
  return about === "" ? undefined : about;
};

interface TextProps {
  readonly id: string;
  readonly name?: string;
  readonly label: string;
  readonly hint?: string | undefined;
  readonly value?: string;
  readonly fault?: string | undefined;
  readonly type?: "text" | "email" | "password" | "search";
  readonly autoComplete?: string;
  readonly lines?: number;
  readonly width?: "short" | "middle" | "long";
  readonly after?: ReactNode;
}

/** A text field with its label, hint and what is wrong with it. */
export const TextField = ({
  id,
  name = id,
  label,
  hint,
  value = "",
  fault,
  type = "text",
  autoComplete = "off",
  lines = 1,
  width = "middle",
  after,
}: TextProps) => {
  const shared = {
    id,
    name,
    defaultValue: value,
    className: width,
    "aria-describedby": aboutOf(id, hint, fault),
    "aria-invalid": fault === undefined ? undefined : true,
  };
  return (
    <div className={fault === undefined ? "field" : "field wrong"}>
      <label htmlFor={id}>{label}</label>
      {hint === undefined ? null : (
        <p className="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {fault === undefined ? null : (
        <p className="fault" id={`${id}-fault`}>
          <span className="unseen">Error: </span>
          {fault}
        </p>
      )}
      {lines > 1 ? <textarea {...shared} rows={lines} /> : <input {...shared} type={type} autoComplete={autoComplete} spellCheck={false} />}
      {after}
    </div>
  );
};

/** A password that is chosen, with what it needs. */
export const NewPasswordField = (props: Pick<TextProps, "id" | "label" | "fault">) => (
  <TextField
    {...props}
    hint={`At least ${SHORTEST_PASSWORD} characters; several words are easier to keep than signs`}
    type="password"
    autoComplete="new-password"
  />
);

interface ChoiceProps {
  readonly id: string;
  /** By which it is sent; its id where that is the same. */
  readonly name?: string;
  readonly label: string;
  readonly value: string;
  readonly choices: readonly { readonly value: string; readonly label: string }[];
  readonly fault?: string | undefined;
  readonly hint?: string;
}

/** A short list to choose from. */
export const ChoiceField = ({ id, name = id, label, value, choices, fault, hint }: ChoiceProps) => (
  <div className={fault === undefined ? "field" : "field wrong"}>
    <label htmlFor={id}>{label}</label>
    {hint === undefined ? null : (
      <p className="hint" id={`${id}-hint`}>
        {hint}
      </p>
    )}
    {fault === undefined ? null : (
      <p className="fault" id={`${id}-fault`}>
        <span className="unseen">Error: </span>
        {fault}
      </p>
    )}
    <select id={id} name={name} defaultValue={value} aria-describedby={aboutOf(id, hint, fault)}>
      {choices.map((choice) => (
        <option key={choice.value} value={choice.value}>
          {choice.label}
        </option>
      ))}
    </select>
  </div>
);

/** What a form carries that nobody fills in. */
export const Hidden = ({ values }: { readonly values: Readonly<Record<string, string>> }) => (
  <>
    {Object.entries(values).map(([name, value]) => (
      <input key={name} type="hidden" name={name} value={value} />
    ))}
  </>
);
