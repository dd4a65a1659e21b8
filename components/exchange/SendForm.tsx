import type { ReactNode } from "react";
import type { Result } from "../../lib/kernel/result.ts";
import type { Ending } from "../../lib/usecases/exchange/ending.ts";
import type { Known, RecipientFault, TypedRecipients } from "../../lib/usecases/exchange/recipients.ts";
import { Hidden, TextField } from "../form/Fields.tsx";
import { CopyText } from "./CopyText.tsx";

interface Props {
  readonly action: string;
  /** What the form carries that nobody fills in. */
  readonly hidden: Readonly<Record<string, string>>;
  readonly number: number;
  readonly settled: boolean;
  readonly known: readonly Known[];
  /** People of the vessel's side who have no address. */
  readonly without: readonly string[];
  readonly typed: TypedRecipients;
  /** Who got the last letter and does not get this one, in words; empty where nobody is left out. */
  readonly left: string;
  readonly faults: readonly RecipientFault[];
  readonly mailText: string;
  readonly further: readonly number[];
  /** What ending the exchange now would say and do, or why it cannot be ended; null where that does not come up. */
  readonly ending: Result<Ending> | null;
}

const Fault = ({ id, faults }: { readonly id: string; readonly faults: readonly RecipientFault[] }) =>
  faults
    .filter(({ field }) => field === id)
    .map(({ says }) => (
      <p className="fault" id={`${id}-fault`} key={says}>
        <span className="unseen">Error: </span>
        {says}
      </p>
    ));

const Recipients = ({ known, without, typed, faults, further }: Pick<Props, "known" | "without" | "typed" | "faults" | "further">) => (
  <>
    <fieldset className="field stack" id="recipients">
      <legend>To</legend>
      <Fault id="recipients" faults={faults} />
      {known.map(({ name, role, address, place }) => (
        <div key={place}>
          <Fault id={`to-${place}`} faults={faults} />
          <div className="option">
            <input type="checkbox" id={`to-${place}`} name="to" value={place} defaultChecked={typed.known.includes(place)} />
            <label htmlFor={`to-${place}`}>{`${name}, ${role}: ${address}`}</label>
          </div>
        </div>
      ))}
      <p className="hint">
        {known.length === 0 ? "Nobody on the vessel’s side has an e-mail address in this visit yet. " : ""}
        {without.length === 0 ? "" : `Without an e-mail address: ${without.join(", ")}. `}
        Each recipient is sent a mail with a link of his own.
      </p>
    </fieldset>
    {further.map((number) => (
      <fieldset className="pair" key={number}>
        <legend className="unseen">{`Further recipient ${number}`}</legend>
        <TextField
          id={`name-${number}`}
          label={`Further recipient ${number}: name`}
          value={typed.further[number - 1]?.name ?? ""}
          fault={faults.find(({ field }) => field === `name-${number}`)?.says}
        />
        <TextField
          id={`address-${number}`}
          label="E-mail address"
          type="email"
          value={typed.further[number - 1]?.address ?? ""}
          fault={faults.find(({ field }) => field === `address-${number}`)?.says}
        />
      </fieldset>
    ))}
  </>
);

const Wait = (): ReactNode => (
  <p className="hint">Laying out the letter takes up to half a minute, longer on a busy machine. Press once, and wait.</p>
);

/** What ending it now comes to, test by test, and in the calendars. */
const EndsSo = ({ ending: { done, later, without, calendar } }: { readonly ending: Ending }) => (
  <dl className="weighed">
    <dt>Done on this visit</dt>
    <dd>{done === "" ? "No test." : `${done}.`}</dd>
    {later.length === 0 ? null : (
      <>
        <dt>Another time</dt>
        <dd>
          Recorded as not proven, unless a new visit settles them. What each waits for:
          <ul>
            {later.map(({ tests, waitsFor }) => (
              <li key={waitsFor}>{`${tests}: ${waitsFor}.`}</li>
            ))}
          </ul>
        </dd>
      </>
    )}
    {without === "" ? null : (
      <>
        <dt>Without an acceptable way</dt>
        <dd>{`${without}.`}</dd>
      </>
    )}
    <dt>In the calendars</dt>
    <dd>{calendar}</dd>
  </dl>
);

/** Whom the letter goes to, what each mail holds, and the button that sends it. */
export const SendForm = ({ action, hidden, number, settled, left, mailText, faults, ending, ...people }: Props) => (
  <form method="post" action={action} noValidate>
    <Hidden values={hidden} />
    <Recipients {...people} faults={faults} />
    {left === "" ? null : (
      <div className="doubt">
        <Fault id="left" faults={faults} />
        {faults.some(({ field }) => field === "left") ? null : <p>{`${left}.`}</p>}
        <div className="option">
          <input type="checkbox" id="left" name="left" />
          <label htmlFor="left">Send it without them all the same</label>
        </div>
      </div>
    )}
    <details className="group">
      <summary>What each mail holds</summary>
      <ul>
        <li>{settled ? "The letter as PDF" : "The letter as PDF, with the reply form as its last pages"}</li>
        {settled ? (
          <li>A calendar file: the visit; the days to reply and to confirm by are called off</li>
        ) : (
          <>
            <li>A calendar file: the visit, the day to reply by, the days to confirm by</li>
            <li>The private link of the recipient to the reply page</li>
          </>
        )}
      </ul>
      <CopyText id="mail-text" label="Its text, to copy" text={mailText} />
    </details>
    <div className="acts" id="send-now">
      <button type="submit" name="kind" value={settled ? "settled" : "letter"}>
        {settled ? "Send the settled letter" : `Send letter ${number}`}
      </button>
      <Wait />
    </div>
    {ending === null ? null : (
      <details className="group" open={faults.some(({ field }) => field === "end")}>
        <summary>End without settling: send a letter that says what remains</summary>
        <p>It says what is agreed and what stays open for another time. It asks for no reply; the exchange ends with it.</p>
        {ending.ok ? <EndsSo ending={ending.value} /> : <p className="fault">{`It cannot be ended now: ${ending.faults.join("; ")}.`}</p>}
        <Fault id="end" faults={faults} />
        <div className="option">
          <input type="checkbox" id="end" name="end" />
          <label htmlFor="end">I mean to end it</label>
        </div>
        <div className="acts">
          <button type="submit" name="kind" value="not settled" className="danger">
            End it with letter {number}
          </button>
          <Wait />
        </div>
      </details>
    )}
  </form>
);
