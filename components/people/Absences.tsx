import type { Member } from "../../lib/access/people.ts";
import { longDate } from "../../lib/letter/words.ts";
import type { Absence } from "../../lib/store/people.ts";
import { ChoiceField, Hidden, TextField } from "../form/Fields.tsx";

interface Props {
  /** Where its forms are sent to. */
  readonly action: string;
  readonly token: string;
  readonly member: Member;
  readonly absences: readonly Absence[];
  /** Who may stand in. */
  readonly others: readonly Pick<Member, "id" | "name" | "role">[];
  readonly nameOf: (id: string) => string;
  readonly today: string;
  readonly typed: { readonly from: string; readonly to: string; readonly standsIn: string };
  readonly faultAt: (id: string) => string | undefined;
}

/** The absences of a person that are not past, and the form that tells another. */
export const Absences = ({ action, token, member, absences, others, nameOf, today, typed, faultAt }: Props) => (
  <>
    {absences.length === 0 ? null : (
      <ul className="parts">
        {absences.map(({ id, from, to, standsIn }) => (
          <li key={id}>
            <span>{`${longDate(from)} to ${longDate(to)}: ${nameOf(standsIn)} stands in`}</span>
            <form method="post" action={action}>
              <Hidden values={{ token, seen: String(member.version), over: id }} />
              <button type="submit" className="link">
                {from > today ? "Take it back" : "End it now"}
              </button>
            </form>
          </li>
        ))}
      </ul>
    )}
    <form method="post" action={action} noValidate>
      <Hidden values={{ token, seen: String(member.version) }} />
      <div className="pair">
        <TextField id="from" label="First day" hint="Such as 2026-12-03" value={typed.from} width="short" fault={faultAt("from")} />
        <TextField id="to" label="Last day" hint="Such as 2026-12-17" value={typed.to} width="short" fault={faultAt("to")} />
      </div>
      <ChoiceField
        id="standsIn"
        label="Who stands in"
        hint="Sees and changes the visits on these days as if they were his own"
        value={typed.standsIn}
        choices={[
          { value: "", label: "Choose somebody" },
          ...others.map(({ id, name, role }) => ({ value: id, label: `${name}, ${role}` })),
        ]}
        fault={faultAt("standsIn")}
      />
      <button type="submit" className="second">
        Keep the absence
      </button>
    </form>
  </>
);
