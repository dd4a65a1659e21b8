import { BAR_WORDS } from "../../lib/plan/barWords.ts";
import { type Names, sayBasis, sayCondition } from "../../lib/plan/say.ts";
import type { PlanProtection } from "../../lib/plan/schema.ts";
import { bookAt } from "../../lib/rulebook/places.ts";
import type { Method } from "../../lib/rulebook/types.ts";
import { Scroll } from "../frame/Scroll.tsx";

type Verdict = PlanProtection["verdicts"][number];

const SIGNS: Readonly<Record<Verdict["verdict"], string>> = { fit: "●", depends: "◐", barred: "✕" };

/** A verdict by its shape and word, with the kind of bar. */
export const VerdictMark = ({ verdict, bar }: Pick<Verdict, "verdict" | "bar">) => (
  <span className={`verdict ${verdict} ${bar ?? ""}`}>
    <span aria-hidden="true">{SIGNS[verdict]} </span>
    {verdict}
    {bar === undefined ? "" : ` (${BAR_WORDS[bar]})`}
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
            <th scope="row">
              <a href={bookAt("methods", method)}>{methods.get(method)?.name ?? method}</a>
            </th>
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

type Option = PlanProtection["options"][number];

interface WaysProps {
  readonly protection: PlanProtection;
  readonly methods: ReadonlyMap<string, Method>;
  readonly names: Names;
}

/** What a way needs, one thing a line. */
const needsOf = (when: Option["when"], names: Names): readonly string[] =>
  when === true ? [] : "all" in when ? when.all.map((part) => sayCondition(part, names)) : [sayCondition(when, names)];

/** A way by its methods, each leading to its page of the rulebook. */
const WayName = ({ option: { methods: ids, unproven }, methods }: { readonly option: Option; readonly methods: WaysProps["methods"] }) => {
  if (ids.length === 0) return unproven.length === 0 ? "the test does not apply" : "nothing acceptable is left";
  return ids.map((id, place) => (
    <span key={id}>
      {place === 0 ? "" : " and "}
      <a href={bookAt("methods", id)}>{methods.get(id)?.name ?? id}</a>
    </span>
  ));
};

const WayRows = ({
  options,
  from,
  methods,
  names,
}: Omit<WaysProps, "protection"> & { readonly options: readonly Option[]; readonly from: number }) =>
  options.map((option, place) => {
    const needs = needsOf(option.when, names);
    return (
      <tr key={JSON.stringify([option.methods, option.unproven, option.when])}>
        <td className="number">{from + place + 1}</td>
        <th scope="row">
          <WayName option={option} methods={methods} />
        </th>
        <td>{option.methods.length > 0 ? option.unproven.join(", ") : ""}</td>
        <td>
          {needs.length === 0 ? (
            "nothing that is not known yet"
          ) : (
            <ul>
              {needs.map((need) => (
                <li key={need}>{need}</li>
              ))}
            </ul>
          )}
        </td>
      </tr>
    );
  });

/** So many ways are shown before one asks for the rest. */
const FIRST_WAYS = 5;

const WayTable = (props: Parameters<typeof WayRows>[0] & { readonly label: string }) => (
  <Scroll label={props.label}>
    <table>
      <caption className="unseen">{props.label}</caption>
      <thead>
        <tr>
          <th scope="col" className="number">
            No.
          </th>
          <th scope="col">Way</th>
          <th scope="col">Stays open</th>
          <th scope="col">Still needs</th>
        </tr>
      </thead>
      <tbody>
        <WayRows {...props} />
      </tbody>
    </table>
  </Scroll>
);

/** The ways that are left, best first, each with what must still come true for it to be the one; the last resort is told apart. */
export const Ways = ({ protection: { options }, methods, names }: WaysProps) => {
  const last = options.at(-1);
  const nothing = last !== undefined && last.methods.length === 0 && last.unproven.length > 0;
  const ways = nothing ? options.slice(0, -1) : options;
  const rest = ways.slice(FIRST_WAYS);
  return (
    <>
      {ways.length === 0 ? null : (
        <WayTable label="Ways that are left, best first" options={ways.slice(0, FIRST_WAYS)} from={0} methods={methods} names={names} />
      )}
      {rest.length === 0 ? null : (
        <details>
          <summary>{`${rest.length} more ${rest.length === 1 ? "way" : "ways"}`}</summary>
          <WayTable label="Further ways" options={rest} from={FIRST_WAYS} methods={methods} names={names} />
        </details>
      )}
      {nothing ? (
        <p>{ways.length === 0 ? "Nothing acceptable is left." : "Where none of them comes true, nothing acceptable is left."}</p>
      ) : null}
    </>
  );
};
