import type { PlanProtection } from "../../lib/plan/schema.ts";
import { bookAt } from "../../lib/rulebook/places.ts";
import { type Caution, type Method, type Need, PARTS } from "../../lib/rulebook/types.ts";
import { Scroll } from "../frame/Scroll.tsx";
import { STATE_WORDS } from "./LoopStrip.tsx";
import { VerdictMark } from "./Verdicts.tsx";

interface Props {
  readonly protection: PlanProtection;
  readonly methods: readonly Method[];
  readonly one: string;
  readonly other: string;
  readonly needs: readonly Need[];
  readonly cautions: readonly Caution[];
  readonly action: string;
}

const HAZARDS = [
  "instruments only",
  "the engine stops, or the channel is blind while it runs",
  "a hot or pressurised system is opened, or speed rises above rated",
  "never done",
] as const;

const Picker = ({
  id,
  label,
  value,
  methods,
}: {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly methods: readonly Method[];
}) => (
  <div className="field">
    <label htmlFor={id}>{label}</label>
    <select id={id} name={id} defaultValue={value}>
      {methods.map((method) => (
        <option key={method.id} value={method.id}>
          {method.name}
        </option>
      ))}
    </select>
  </div>
);

/** Two methods side by side: what each proves, needs and asks of those who do it. */
export const Compare = ({ protection, methods, one, other, needs, cautions, action }: Props) => {
  const found = (side: string, id: string) => methods.filter((method) => method.id === id).map((method) => ({ side, method }));
  const pair = [...found("one", one), ...found("other", other)];
  const words = (ids: readonly string[], from: readonly { readonly id: string; readonly text: string }[]) => {
    const texts = from.filter(({ id }) => ids.includes(id)).map(({ text }) => text);
    return texts.length === 0 ? (
      "none"
    ) : (
      <ul>
        {texts.map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    );
  };
  const rows: readonly (readonly [string, (method: Method) => React.ReactNode])[] = [
    [
      "Verdict today",
      ({ id }) => {
        const verdict = protection.verdicts.find(({ method }) => method === id);
        return verdict === undefined ? (
          ""
        ) : (
          <VerdictMark verdict={verdict.verdict} {...(verdict.bar === undefined ? {} : { bar: verdict.bar })} />
        );
      },
    ],
    ["How it is done", ({ does }) => does],
    [
      "Proves",
      ({ proves }) =>
        PARTS.map((part) => `${part === "final" ? "final element" : part}: ${STATE_WORDS[proves[part] ?? "open"]}`).join("; "),
    ],
    ["Set value", ({ grade }) => `known ${grade}`],
    ["Hazard", ({ hazard }) => HAZARDS[hazard]],
    [
      "Takes",
      ({ minutes, stops, starts }) =>
        `${minutes} min, ${stops} ${stops === 1 ? "stop" : "stops"}, ${starts} ${starts === 1 ? "start" : "starts"}`,
    ],
    ["Needs", ({ needs: wanted }) => words(wanted, needs)],
    ["To be seen", ({ expected }) => expected],
    ["Cautions", ({ cautions: wanted }) => words(wanted, cautions)],
  ];
  return (
    <>
      <form method="get" action={action} className="no-print">
        <div className="options">
          <Picker id="one" label="One method" value={one} methods={methods} />
          <Picker id="other" label="Another" value={other} methods={methods} />
          <button type="submit" className="second">
            Compare
          </button>
        </div>
      </form>
      {pair.length < 2 ? null : (
        <Scroll label="Two methods side by side">
          <table>
            <caption className="unseen">Two methods side by side</caption>
            <thead>
              <tr>
                <td />
                {pair.map(({ side, method: { id, name } }) => (
                  <th scope="col" key={side}>
                    <a href={bookAt("methods", id)}>{name}</a>
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {rows.map(([title, cell]) => (
                <tr key={title}>
                  <th scope="row">{title}</th>
                  {pair.map(({ side, method }) => (
                    <td key={side}>{cell(method)}</td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      )}
    </>
  );
};
