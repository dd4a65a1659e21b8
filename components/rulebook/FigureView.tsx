import type { FigurePage, Input, Sum } from "../../lib/plan/figurePages/types.ts";
import { unitsOffered } from "../../lib/units/units.ts";
import { exampleOf, fieldOf, type Told, type Tried } from "../../lib/usecases/rulebook/figures.ts";
import { basisWords } from "../../lib/usecases/rulebook/words.ts";
import { ChoiceField, Hidden, TextField } from "../form/Fields.tsx";

/** Which units a field takes. */
const unitHint = ({ unit, kind, hint }: Input): string | undefined => {
  const units =
    unit === undefined || kind === "numbers"
      ? ""
      : `In ${unit}${
          unitsOffered(unit).length > 1
            ? `; also ${unitsOffered(unit)
                .filter((one) => one !== unit)
                .join(", ")}`
            : ""
        }`;
  const both = [hint ?? "", units].filter((part) => part !== "").join(". ");
  return both === "" ? undefined : both;
};

const Outcomes = ({ told }: { readonly told: readonly Told[] }) => (
  <dl className="told">
    {told.map(({ name, value, means }) => (
      <div className="told-pair" key={name}>
        <dt>{name}</dt>
        <dd>
          <strong>{value}</strong>
          {means === "" ? null : <span className="cell-way">{means}</span>}
        </dd>
      </div>
    ))}
  </dl>
);

const Field = ({
  sum,
  input,
  value,
  fault,
}: {
  readonly sum: Sum;
  readonly input: Input;
  readonly value: string;
  readonly fault: string | undefined;
}) => {
  const id = fieldOf(sum, input.id);
  const hint = unitHint(input);
  const shared = {
    id,
    name: input.id,
    label: input.label,
    value,
    ...(fault === undefined ? {} : { fault }),
    ...(hint === undefined ? {} : { hint }),
  };
  return input.kind === "choice" ? (
    <ChoiceField {...shared} choices={input.choices ?? []} />
  ) : (
    <TextField {...shared} width={input.kind === "number" || input.kind === "whole" ? "short" : "middle"} />
  );
};

const shownChoice = (input: Input, value: string): string => input.choices?.find((one) => one.value === value)?.label ?? value;

const Example = ({ sum }: { readonly sum: Sum }) => (
  <details>
    <summary>{`A worked example: ${sum.example.source}`}</summary>
    <dl className="told">
      {sum.inputs
        .filter(({ id }) => (sum.example.given[id] ?? "") !== "")
        .map((input) => (
          <div className="told-pair" key={input.id}>
            <dt>{input.label}</dt>
            <dd>{shownChoice(input, sum.example.given[input.id] ?? "")}</dd>
          </div>
        ))}
    </dl>
    <p>This comes of it:</p>
    <Outcomes told={exampleOf(sum).told} />
  </details>
);

const SumView = ({ sum, page, now }: { readonly sum: Sum; readonly page: FigurePage; readonly now: Tried | null }) => (
  <section id={sum.id}>
    <h2>{sum.title}</h2>
    {sum.formula.map((formula) => (
      <p key={formula} className="formula">
        {formula}
      </p>
    ))}
    {now === null || now.told.length === 0 ? null : (
      <div className="note" role="status">
        <Outcomes told={now.told} />
        {page.caution === undefined ? null : <p>{page.caution}</p>}
      </div>
    )}
    <form method="get" action={`/rulebook/figures/${page.id}#${sum.id}`} className="no-print sum" noValidate>
      <Hidden values={{ sum: sum.id }} />
      {sum.inputs.map((input) => (
        <Field
          key={input.id}
          sum={sum}
          input={input}
          value={now?.typed[input.id] ?? ""}
          fault={now?.faults.find(({ id }) => id === fieldOf(sum, input.id))?.says}
        />
      ))}
      <button type="submit" className="second">
        Work it out
      </button>
    </form>
    <Example sum={sum} />
  </section>
);

/** The page of a figure: each of its sums with formula, calculator and worked example. */
export const FigureView = ({ page, sum, now }: { readonly page: FigurePage; readonly sum: string; readonly now: Tried | null }) => (
  <>
    <p>{page.says}</p>
    {page.caution === undefined ? null : (
      <p className="caution">
        <strong>Caution. </strong>
        {page.caution}
      </p>
    )}
    {page.sums.length < 2 ? null : (
      <ul>
        {page.sums.map(({ id, title }) => (
          <li key={id}>
            <a href={`#${id}`}>{title}</a>
          </li>
        ))}
      </ul>
    )}
    {page.sums.map((one) => (
      <SumView key={one.id} sum={one} page={page} now={one.id === sum ? now : null} />
    ))}
    <h2>Sources</h2>
    <ul>
      {[...new Set(page.sources.map(basisWords))].map((words) => (
        <li key={words}>{words}</li>
      ))}
    </ul>
  </>
);
