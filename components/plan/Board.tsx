import type { Glance, GlanceProtection } from "../../lib/flow/glance.ts";
import { bookAt } from "../../lib/rulebook/places.ts";
import type { Rulebook } from "../../lib/rulebook/types.ts";
import { Scroll } from "../frame/Scroll.tsx";
import { testAt } from "./address.ts";
import { LoopStrip } from "./LoopStrip.tsx";
import { isOpen, StandingMark } from "./PlanPanel.tsx";

const Cell = ({
  protection,
  visit,
  setName,
}: {
  readonly protection: GlanceProtection | undefined;
  readonly visit: string;
  readonly setName: string;
}) => {
  if (protection === undefined) return <td className="none">not proven here</td>;
  const { ref, standing, proves, ways, open, deviation, name } = protection;
  if (standing === "does not apply")
    return (
      <td className="none">
        <a href={testAt(visit, protection)} aria-label={`${ref}, ${setName}, ${name}`}>
          {ref}
        </a>{" "}
        – does not apply
      </td>
    );
  return (
    <td>
      <a href={testAt(visit, protection)} aria-label={`${ref}, ${setName}, ${name}`}>
        {ref}
      </a>{" "}
      <StandingMark standing={standing} /> {deviation ? <span className="deviates">deviation</span> : null}
      <div>
        <LoopStrip proves={proves} would={isOpen(protection)} />
      </div>
      <span className="cell-way">{`${ways.join(" and ")}${open === 0 ? "" : ` (${open} open)`}`}</span>
    </td>
  );
};

/** The whole plan: sets across, protections down. */
export const Board = ({ glance, visit, rulebook }: { readonly glance: Glance; readonly visit: string; readonly rulebook: Rulebook }) => {
  const kinds = rulebook.protections.filter(({ kind }) =>
    glance.sets.some(({ protections }) => protections.some((one) => one.kind === kind && one.standing !== "does not apply")),
  );
  const never = rulebook.protections.filter(
    ({ kind }) =>
      !kinds.some((one) => one.kind === kind) && glance.sets.some(({ protections }) => protections.some((one) => one.kind === kind)),
  );
  return (
    <>
      {glance.sets.length > 1 ? (
        <p className="only-narrow quiet">{`${glance.sets.length} sets stand side by side: the table goes on to the right.`}</p>
      ) : null}
      <Scroll label="Board of all tests">
        <table className="board">
          <caption className="unseen">Every protection of every set: where it stands, what of its loop is proven, and by which way</caption>
          <thead>
            <tr>
              <th scope="col">Protection</th>
              {glance.sets.map(({ at, name }) => (
                <th scope="col" key={at}>
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {kinds.map(({ kind, short }) => (
              <tr key={kind}>
                <th scope="row">
                  <a href={bookAt("protections", kind)}>{short}</a>
                </th>
                {glance.sets.map(({ at, name, protections }) => (
                  <Cell key={at} visit={visit} setName={name} protection={protections.find((one) => one.kind === kind)} />
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      {never.length === 0 ? null : <p className="quiet">{`On no set: ${never.map(({ short }) => short).join(", ")}.`}</p>}
    </>
  );
};

/** What the signs of the board mean. */
export const Legend = () => (
  <dl className="facts">
    <dt>Loop strip</dt>
    <dd>
      four parts: sensing, wiring, logic, final element; filled: proven at set point; hatched: at running value only, or seen to move;
      empty: open; lighter and dashed: what the proposed way would prove
    </dd>
    <dt>■ settled, ▲ proposed, △ may apply, ✕ nothing acceptable</dt>
    <dd>settled: one way is left whatever the open answers; proposed: the best way still possible</dd>
  </dl>
);
