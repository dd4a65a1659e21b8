import { POLICY_GROUPS, type PolicyLine } from "../../lib/plan/policyFields.ts";

/** A policy as it reads, group by group. Local rules that nobody told of take one line. */
export const PolicyWords = ({ lines }: { readonly lines: readonly PolicyLine[] }) => {
  const ruled = lines.some(({ id, text }) => id === "rulesName" && text !== "none");
  return (
    <>
      {POLICY_GROUPS.map((group) => (
        <section key={group} className="policy-group">
          <h3>{group}</h3>
          {group === "Local rules" && !ruled ? (
            <p>None told.</p>
          ) : (
            <dl className="policy">
              {lines
                .filter((line) => line.group === group)
                .map(({ id, label, text }) => (
                  <div key={id}>
                    <dt>{label}</dt>
                    <dd>{text}</dd>
                  </div>
                ))}
            </dl>
          )}
        </section>
      ))}
    </>
  );
};
