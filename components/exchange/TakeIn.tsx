import { capital } from "../../lib/plan/say.ts";
import type { Choice } from "../../lib/usecases/exchange/choice.ts";
import { type TakingFault, takingFaultWords } from "../../lib/usecases/exchange/takeIn.ts";
import type { ShownItem, ShownWay, TakeInView } from "../../lib/usecases/exchange/takeInView.ts";
import { Hidden, TextField } from "../form/Fields.tsx";
import { LoopStrip, stripWords } from "../plan/LoopStrip.tsx";
import { VerdictMark } from "../plan/Verdicts.tsx";
import { Changes } from "./Changes.tsx";

const titleOf = ({ ref, set }: ShownItem): string => (set === "" ? ref : `${ref}, ${set}`);

const Way = ({ way: { name, verdict, bar, reason, proves, needs } }: { readonly way: ShownWay }) => (
  <>
    <dt>The way proposed</dt>
    <dd>{name}</dd>
    <dt>What the program says of it</dt>
    <dd>
      <VerdictMark verdict={verdict} {...(bar === undefined ? {} : { bar })} />
      {verdict === "fit" ? "" : `: ${reason}`}
    </dd>
    <dt>By itself it proves</dt>
    <dd>
      <LoopStrip proves={proves} would /> <span aria-hidden="true">{stripWords(proves)}</span>
    </dd>
    <dt>It needs</dt>
    <dd>{needs.length === 0 ? "nothing besides" : needs.join("; ")}</dd>
  </>
);

const Said = ({ item: { kind, detail, says, name, means, way } }: { readonly item: ShownItem }) => (
  <dl className="facts weighed">
    {detail === "" ? null : (
      <>
        <dt>{kind === "fact" ? "The letter has it" : "Asked"}</dt>
        <dd>{detail}</dd>
      </>
    )}
    <dt>The vessel says</dt>
    <dd>{says}</dd>
    <dt>Weighed as</dt>
    <dd>{[`${name}.`, ...means].join(" ")}</dd>
    {way === undefined ? null : <Way way={way} />}
  </dl>
);

const Plain = ({ items, choice, open }: { readonly items: readonly ShownItem[]; readonly choice: Choice; readonly open: boolean }) => (
  <details className="group" open={open}>
    <summary>{`Plain, taken together: ${items.length}. Look through them, or untick what shall be left.`}</summary>
    <div>
      {items.map((item) => (
        <div className="option row" key={item.ref}>
          <input
            type="checkbox"
            id={`${item.ref}-take`}
            name="plain"
            value={item.ref}
            defaultChecked={choice.plain.includes(item.ref)}
            aria-describedby={item.means.length === 0 ? undefined : `${item.ref}-means`}
          />
          <div>
            <label htmlFor={`${item.ref}-take`}>
              {`${titleOf(item)}: ${item.what} `}
              <strong>{item.says}</strong>
            </label>
            {item.means.length === 0 ? null : (
              <p className="about" id={`${item.ref}-means`}>
                {item.means.join(" ")}
              </p>
            )}
          </div>
        </div>
      ))}
    </div>
  </details>
);

interface OtherProps {
  readonly item: ShownItem;
  readonly choice: Choice;
  readonly fault: string | undefined;
  readonly reasonFault: string | undefined;
}

const LEFT = "Where it is left, the vessel is told so with the next letter, with this reason";

/** What a reason is wanted for: a way that is taken has to have one, what is left may. */
const reasonHint = ({ way, barred, kind }: ShownItem): string => {
  if (kind !== "test" || way === undefined) return `${LEFT}.`;
  if (barred !== undefined) return `${LEFT}, else with what the program says of it.`;
  return `Needed where it is taken: why against the order of preference; it stands in the plan and the record. ${LEFT}.`;
};

/** One thing that a person has to decide. */
const Other = ({ item, choice, fault, reasonFault }: OtherProps) => {
  const { ref, what, barred } = item;
  const chosen = choice.others[ref];
  return (
    <fieldset className={fault === undefined ? "question" : "question wrong"}>
      <legend>
        <span className="ask">{`${titleOf(item)}: ${what}`}</span>
      </legend>
      <Said item={item} />
      {barred === undefined ? null : (
        <p className="doubt" id={`${ref}-barred`}>
          {barred}
        </p>
      )}
      {fault === undefined ? null : (
        <p className="fault">
          <span className="unseen">Error: </span>
          {capital(fault.replace(`${ref}: `, ""))}
        </p>
      )}
      <div className="options">
        {(
          [
            ["take", "Take it"],
            ["leave", "Leave it"],
          ] as const
        ).map(([value, words]) => (
          <div className="option" key={value}>
            <input
              type="radio"
              id={`${ref}-${value}`}
              name={`other.${ref}`}
              value={value}
              defaultChecked={chosen === value && (value === "leave" || barred === undefined)}
              disabled={value === "take" && barred !== undefined}
              aria-describedby={value === "take" && barred !== undefined ? `${ref}-barred` : undefined}
            />
            <label htmlFor={`${ref}-${value}`}>{words}</label>
          </div>
        ))}
      </div>
      <TextField
        id={`${ref}-reason`}
        name={`reason.${ref}`}
        label="Reason"
        hint={reasonHint(item)}
        value={choice.reasons[ref] ?? ""}
        fault={reasonFault}
        width="long"
      />
    </fieldset>
  );
};

const Effect = ({ effect }: Pick<TakeInView, "effect">) =>
  "changes" in effect ? (
    <Changes changes={effect.changes} confirmed={effect.confirmed} />
  ) : (
    <>
      <p>It cannot be taken in as it is chosen now; nothing is taken as long as this stands against it:</p>
      <ul>
        {effect.against.map((fault) => (
          <li key={takingFaultWords(fault)}>{takingFaultWords(fault)}</li>
        ))}
      </ul>
    </>
  );

interface Props {
  readonly view: TakeInView;
  readonly choice: Choice;
  /** Where the choice is sent to: the page's own address. */
  readonly action: string;
  readonly token: string;
  /** Tells what is shown from any other choice. */
  readonly shown: string;
  /** What was refused when it was last tried; empty where it was not. */
  readonly faults: readonly { readonly id: string; readonly says: string }[];
}

const about = (faults: Props["faults"], ...ids: readonly string[]): string | undefined => faults.find(({ id }) => ids.includes(id))?.says;

/** A confirmed reply to be taken in: what is plain, what is to be decided, what the choice changes. */
export const TakeIn = ({ view: { items, undecided, effect }, choice, action, token, shown, faults }: Props) => {
  const [plain, others] = [items.filter((item) => item.plain), items.filter((item) => !item.plain)];
  const inPlain = faults.some(({ id }) => plain.some(({ ref }) => id === `${ref}-take`));
  return (
    <form method="post" action={`${action}/weigh`} noValidate>
      <Hidden values={{ token, shown }} />
      {others.length === 0 ? null : <h2>{`To be decided one by one: ${others.length}`}</h2>}
      {others.map((item) => (
        <Other
          key={item.ref}
          item={item}
          choice={choice}
          fault={about(faults, `${item.ref}-take`, `${item.ref}-leave`)}
          reasonFault={about(faults, `${item.ref}-reason`)}
        />
      ))}
      {plain.length === 0 ? null : (
        <>
          <h2>What the reply says plainly</h2>
          <Plain items={plain} choice={choice} open={inPlain} />
        </>
      )}
      <div className="acts">
        <button type="submit" className="second">
          Show what this changes
        </button>
      </div>
      <h2 id="changes">What taking the chosen changes</h2>
      {undecided.length === 0 ? null : (
        <p className="note">{`Not decided yet, so not counted here: ${undecided.join(", ")}. Nothing is taken in before each of them is taken or left.`}</p>
      )}
      <Effect effect={effect} />
      <div className="acts">
        <button type="submit" formAction={`${action}/take-in`}>
          Take in what is chosen
        </button>
        <p className="saved">It is taken whole or not at all. What is left is kept as left, and the next letter asks what is still open.</p>
      </div>
    </form>
  );
};

/** The fault of something that stands against a choice, at the field where it is put right. */
export const faultAtField = (fault: TakingFault, items: readonly ShownItem[]): { readonly id: string; readonly says: string } => {
  const [ref = ""] = fault.refs;
  const barred = items.find((item) => item.ref === ref)?.barred !== undefined;
  const field = fault.says.startsWith("reason:") ? "reason" : barred ? "leave" : "take";
  return { id: ref === "" ? "changes" : `${ref}-${field}`, says: takingFaultWords(fault) };
};
