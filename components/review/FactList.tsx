import type { SaidFact } from "../../lib/plan/sayFact.ts";

/** Facts with their answers. */
export const FactList = ({ facts }: { readonly facts: readonly SaidFact[] }) => (
  <dl className="told">
    {facts.map(({ name, value }) => (
      <div key={name} className="told-pair">
        <dt>{name}</dt>
        <dd>{value}</dd>
      </div>
    ))}
  </dl>
);
