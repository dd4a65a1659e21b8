import type { BookKind } from "../../lib/rulebook/places.ts";
import { KIND_TITLES, type Thing } from "../../lib/usecases/rulebook/entries.ts";
import { PROTECTION_GROUPS } from "../../lib/usecases/rulebook/groups.ts";
import type { Excerpt, Found, Hit } from "../../lib/usecases/rulebook/search.ts";
import { TextField } from "../form/Fields.tsx";

/** So many hits of a kind are shown before one asks for the rest. */
const FIRST = 8;

export const SearchForm = ({ find }: { readonly find: string }) => (
  <search>
    <form method="get" action="/rulebook" className="search">
      <TextField
        id="find"
        label="Find"
        type="search"
        value={find}
        after={
          <button type="submit" className="second">
            Find
          </button>
        }
      />
    </form>
  </search>
);

const Around = ({ excerpt: { before, hit, after } }: { readonly excerpt: Excerpt }) => (
  <span className="cell-way">
    {before}
    <mark>{hit}</mark>
    {after}
  </span>
);

const Hits = ({ hits }: { readonly hits: readonly Hit[] }) => (
  <ul className="found">
    {hits.map(({ thing, excerpt }) => (
      <li key={thing.to}>
        <a href={thing.to}>{thing.name}</a>
        {thing.of === undefined ? null : <span className="quiet">{` – ${thing.of}`}</span>}
        {excerpt === null ? null : <Around excerpt={excerpt} />}
      </li>
    ))}
  </ul>
);

/** What was found, under its kinds. */
export const Results = ({ found, find }: { readonly found: readonly Found[]; readonly find: string }) => {
  const count = found.reduce((sum, { hits }) => sum + hits.length, 0);
  if (count === 0)
    return (
      <p role="status">
        {`Nothing in the rulebook holds all of “${find}”. Try fewer words, one word only, or part of a word such as “temper”; numbers of rules as they are written, such as 61.40-10. `}
        <a href="/rulebook">Show the whole rulebook</a>
      </p>
    );
  return (
    <>
      <p role="status">
        {`${count} found for “${find}”. `}
        <a href="/rulebook">Show the whole rulebook</a>
      </p>
      {found.map(({ kind, hits }) => (
        <section key={kind}>
          <h2>{`${KIND_TITLES[kind].title}: ${hits.length}`}</h2>
          <Hits hits={hits.slice(0, FIRST)} />
          {hits.length <= FIRST ? null : (
            <details>
              <summary>{`${hits.length - FIRST} more`}</summary>
              <Hits hits={hits.slice(FIRST)} />
            </details>
          )}
        </section>
      ))}
    </>
  );
};

const Links = ({ things }: { readonly things: readonly Thing[] }) => (
  <ul className="found">
    {things.map(({ to, name }) => (
      <li key={to}>
        <a href={to}>{name}</a>
      </li>
    ))}
  </ul>
);

/** Things under heads, each head once, in their own order. */
const Headed = ({ groups }: { readonly groups: readonly { readonly title: string; readonly things: readonly Thing[] }[] }) =>
  groups.map(({ title, things }) => (
    <div key={title}>
      <h3>{title}</h3>
      <Links things={things} />
    </div>
  ));

/** Everything of one kind. */
export const KindList = ({ kind, things }: { readonly kind: BookKind; readonly things: readonly Thing[] }) => {
  const own = things.filter((one) => one.kind === kind);
  if (kind === "protections")
    return (
      <Headed
        groups={PROTECTION_GROUPS.map(({ title, kinds }) => ({
          title,
          things: kinds.flatMap((id) => own.filter(({ slug }) => slug === id)),
        }))}
      />
    );
  if (kind !== "methods") return <Links things={own} />;
  const protections = [...new Set(own.map(({ of = "" }) => of))];
  return (
    <Headed
      groups={protections.map((of) => ({ title: of.charAt(0).toUpperCase() + of.slice(1), things: own.filter((one) => one.of === of) }))}
    />
  );
};
