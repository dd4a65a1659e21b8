import { type Names, sayBasis, sayCondition } from "../../lib/plan/say.ts";
import type { PlanProtection } from "../../lib/plan/schema.ts";
import type { Method } from "../../lib/rulebook/types.ts";
import { Scroll } from "../frame/Scroll.tsx";

type Verdict = PlanProtection["verdicts"][number];

const SIGNS: Readonly<Record<Verdict["verdict"], string>> = { fit: "●", depends: "◐", barred: "✕" };
const BARS: Readonly<Record<NonNullable<Verdict["bar"]>, string>> = {
  veto: "never: safety",
  rule: "not accepted under the rules",
  practical: "not possible here",
};

/** A verdict by its shape and word, with the kind of bar. */
export const VerdictMark = ({ verdict, bar }: Pick<Verdict, "verdict" | "bar">) => (
  <span className={`verdict ${verdict} ${bar ?? ""}`}>
    <span aria-hidden="true">{SIGNS[verdict]} </span>
    {verdict}
    {bar === undefined ? "" : ` (${BARS[bar]})`}
  </span>
);

interface OpenFact {
  readonly name: string;
  readonly href: string;
}

interface VerdictsProps {
  readonly protection: PlanProtection;
  readonly methods: ReadonlyMap<string, Method>;
  /** What an open fact is called, and where it is asked. */
  readonly open: (at: string) => OpenFact;
}

/** The open facts that a verdict hangs on, each leading to its question. */
const HangsOn = ({ facts }: { readonly facts: readonly OpenFact[] }) => (
  <>
    hangs on
    <ul>
      {facts.map(({ name, href }) => (
        <li key={href}>
          <a href={href}>{name}</a>
        </li>
      ))}
    </ul>
  </>
);

/** Every method of a test with what the engine says of it, why, and on which ground. */
export const Verdicts = ({ protection, methods, open }: VerdictsProps) => (
  <Scroll label="Every method with its verdict">
    <table>
      <caption className="unseen">Every method of this test: verdict, reason and basis</caption>
      <thead>
        <tr>
          <th scope="col">Method</th>
          <th scope="col">Verdict</th>
          <th scope="col">Because</th>
          <th scope="col">Basis</th>
        </tr>
      </thead>
      <tbody>
        {protection.verdicts.map(({ method, verdict, bar, reason, basis, open: facts }) => (
          <tr key={method}>
            <th scope="row">{methods.get(method)?.name ?? method}</th>
            <td>
              <VerdictMark verdict={verdict} {...(bar === undefined ? {} : { bar })} />
            </td>
            <td>{verdict === "depends" && facts !== undefined && facts.length > 0 ? <HangsOn facts={facts.map(open)} /> : reason}</td>
            <td className="basis">{basis.map(sayBasis).join("; ")}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </Scroll>
);

/** The ways that are left, best first, each with the state of facts in which it is the one. */
export const Ways = ({
  protection,
  methods,
  names,
}: {
  readonly protection: PlanProtection;
  readonly methods: ReadonlyMap<string, Method>;
  readonly names: Names;
}) => (
  <ol>
    {protection.options.map((option) => {
      const how =
        option.methods.length > 0
          ? option.methods.map((id) => methods.get(id)?.name ?? id).join(" and ")
          : option.unproven.length === 0
            ? "the test does not apply"
            : "nothing acceptable is left";
      const open = option.methods.length > 0 && option.unproven.length > 0 ? `; stays open: ${option.unproven.join(", ")}` : "";
      return (
        <li key={JSON.stringify([option.methods, option.unproven, option.when])}>
          {`${how}${open}`}
          {option.when === true ? null : <span className="quiet">{` – when ${sayCondition(option.when, names)}`}</span>}
        </li>
      );
    })}
  </ol>
);
