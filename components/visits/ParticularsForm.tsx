import type { ParticularFault } from "../../lib/flow/particulars.ts";
import { type Particular, type ParticularGroup, particulars } from "../../lib/flow/particulars.ts";
import { ChoiceField, ErrorSummary, Hidden, TextField } from "../form/Fields.tsx";

export const particularId = (at: string): string => `p${at.replaceAll("/", "-")}`;

const bare = (label: string): string => label.replace(/ \(optional\)$/, "");
const told = (text = ""): string => (text.trim() === "" ? "nothing" : `“${text.trim().slice(0, 80)}”`);

interface Props {
  readonly action: string;
  readonly hidden: Readonly<Record<string, string>>;
  readonly texts: Readonly<Record<string, string>>;
  readonly faults: readonly ParticularFault[];
  /** What stands in the office's record where it differs from what was typed, because somebody else changed it. */
  readonly theirs: Readonly<Record<string, string>>;
  readonly button: string;
  /** The script that keeps the form while it is filled in. */
  readonly script: string;
  /** Names of the sets, one a line; null where they are told elsewhere. */
  readonly sets: string | null;
  readonly alike?: string;
}

const Field = ({ field, texts, faults, theirs }: { readonly field: Particular } & Pick<Props, "texts" | "faults" | "theirs">) => {
  const { at, label, hint, kind, choices } = field;
  const other = theirs[at];
  const fault = [
    ...faults.filter((one) => one.at === at).map(({ says }) => says),
    ...(other === undefined ? [] : [`Somebody else gave ${told(other)} after you opened this page; what you gave stands below`]),
  ].join(". ");
  const shared = { id: particularId(at), label, value: texts[at] ?? "", fault: fault === "" ? undefined : fault };
  return kind === "choice" ? (
    <ChoiceField {...shared} choices={choices ?? []} />
  ) : (
    <TextField {...shared} hint={hint} lines={kind === "lines" ? 3 : 1} width={kind === "day" || kind === "number" ? "short" : "middle"} />
  );
};

const Group = ({ group, ...rest }: { readonly group: ParticularGroup } & Pick<Props, "texts" | "faults" | "theirs">) => (
  <fieldset className="group">
    <legend>
      <h2>{group.title}</h2>
    </legend>
    {group.fields.map((field) => (
      <Field key={field.at} field={field} {...rest} />
    ))}
  </fieldset>
);

const isPerson = ({ title }: ParticularGroup): boolean => title.startsWith("Person");

/** A visit beside its machinery: vessel, place, days, who writes and to whom. */
export const ParticularsForm = ({ action, hidden, texts, faults, theirs, button, sets, alike = "no", script }: Props) => {
  const shown = { texts, faults, theirs };
  const people = particulars.filter(isPerson);
  return (
    <form method="post" action={action} noValidate data-script={script}>
      <ErrorSummary
        faults={[
          ...faults.map(({ at, says }) => ({ id: particularId(at), says })),
          ...particulars.flatMap(({ fields }) =>
            fields.flatMap(({ at, label }) =>
              theirs[at] === undefined
                ? []
                : [
                    {
                      id: particularId(at),
                      says: `${bare(label)}: you gave ${told(texts[at])}, somebody else ${told(theirs[at])} meanwhile; save again to keep yours`,
                    },
                  ],
            ),
          ),
        ]}
      />
      <Hidden values={hidden} />
      {particulars
        .filter((group) => !isPerson(group))
        .map((group) => (
          <Group key={group.title} group={group} {...shown} />
        ))}
      {sets === null ? null : (
        <fieldset className="group">
          <legend>
            <h2>Generating sets</h2>
          </legend>
          <TextField
            id={particularId("/sets")}
            label="Names, one a line"
            hint="As they are called aboard; names decide nothing, and sets can be added, copied and taken out later"
            value={sets}
            lines={4}
            fault={faults.find(({ at }) => at === "/sets")?.says}
          />
          <ChoiceField
            id={particularId("/alike")}
            label="Are they of one make and type?"
            hint="Sister sets share spares, tools and service engineer. Which sets are sisters can be told apart later, under “Add, copy, rename”"
            value={alike}
            choices={[
              { value: "no", label: "No, or not known yet" },
              { value: "yes", label: "Yes, all of them" },
            ]}
          />
        </fieldset>
      )}
      <details
        className="group"
        open={
          faults.some(({ at }) => at.startsWith("/visit/people/")) ||
          people.slice(1).some(({ fields }) => fields.some(({ at }) => at.endsWith("/name") && (texts[at] ?? "") !== ""))
        }
      >
        <summary>People on both sides (optional)</summary>
        {people.map((group) => (
          <Group key={group.title} group={group} {...shown} />
        ))}
      </details>
      <div className="acts">
        <button type="submit">{button}</button>
        <p className="saved" />
      </div>
    </form>
  );
};
