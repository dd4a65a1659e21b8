import type { AskedWords } from "../../lib/usecases/exchange/replyWords.ts";
import { Hidden } from "../form/Fields.tsx";

interface Props {
  /** Where it came from, in words. */
  readonly from: string;
  /** What it says otherwise than the reply that was confirmed; `confirmed` is empty where that says nothing. */
  readonly lines: readonly (AskedWords & { readonly says: string; readonly confirmed: string })[];
  readonly action: string;
  readonly token: string;
}

/** A reply that was read from a form or a message and not confirmed before the vessel confirmed its own page: told until somebody discards it. */
export const ReadBefore = ({ from, lines, action, token }: Props) => (
  <div className="note" id="read">
    <p>
      {lines.length === 0
        ? `A reply was read ${from} before this one was confirmed. It says nothing otherwise.`
        : `A reply was read ${from} before this one was confirmed, and says otherwise. Nothing of it is taken in: ask the vessel which of the two holds.`}
    </p>
    {lines.length === 0 ? null : (
      <details>
        <summary>{`What it says otherwise: ${lines.length}`}</summary>
        <dl className="before-after">
          {lines.map(({ ref, set, what, says, confirmed }) => (
            <div key={ref}>
              <dt>{`${ref}${set === "" ? "" : `, ${set}`}: ${what}`}</dt>
              <dd>
                <strong>{says}</strong>
              </dd>
              <dd className="quiet">{confirmed === "" ? "not answered in the confirmed reply" : `confirmed: ${confirmed}`}</dd>
            </div>
          ))}
        </dl>
      </details>
    )}
    <form method="post" action={`${action}/confirm`}>
      <Hidden values={{ token }} />
      <button type="submit" name="act" value="put aside" className="second">
        Discard what was read
      </button>
    </form>
  </div>
);
