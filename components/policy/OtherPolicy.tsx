import type { PolicyChange } from "../../lib/compare/policies.ts";

interface Props {
  readonly visit: string;
  /** The number of the policy in force. */
  readonly policy: number;
  readonly changes: readonly PolicyChange[];
}

/** Tells that a visit goes by another policy than the office's of today, field by field. */
export const OtherPolicy = ({ visit, policy, changes }: Props) =>
  changes.length === 0 ? null : (
    <div className="note">
      <p>
        {"This visit goes by a policy of its own, which differs from "}
        <a href={`/policy/${policy}`}>{`policy ${policy}`}</a>
        {", in force today:"}
      </p>
      <ul className="differs">
        {changes.map(({ id, label, was, now }) => (
          <li key={id}>{`${label}: here ${was}, office ${now}`}</li>
        ))}
      </ul>
      <p>
        <a href={`/visits/${visit}/policy`}>See what taking the office’s policy would change</a>
      </p>
    </div>
  );
