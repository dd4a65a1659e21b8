import type { ComponentProps } from "react";
import { longDate } from "../../lib/letter/words.ts";
import type { RecipientFault } from "../../lib/usecases/exchange/recipients.ts";
import { Hidden } from "../form/Fields.tsx";
import { SendForm } from "./SendForm.tsx";

interface View {
  readonly number: number;
  readonly office: string;
  readonly sentFor: string;
  readonly bySmtp: boolean;
  /** A plain date. */
  readonly replyBy: string;
  readonly past: string | null;
  readonly doubts: readonly { readonly says: string; readonly count?: true }[];
  readonly form: Omit<ComponentProps<typeof SendForm>, "action" | "hidden" | "faults">;
}

interface Props {
  readonly here: string;
  readonly token: string;
  readonly units: string;
  /** The version of the visit that the page shows. */
  readonly version: number;
  readonly from: string;
  readonly view: View;
  /** Why no letter may go out yet; null where one may. */
  readonly waits: string | null;
  readonly faults: readonly RecipientFault[];
}

/** How the letter is sent to the vessel: what goes out and how, what wants a look first, and the form. */
export const SendSection = ({ here, token, units, version, from, view, waits, faults }: Props) => (
  <section aria-labelledby="send" className="no-print">
    <h2 id="send">Send the letter</h2>
    <p>
      {`It goes out as letter ${view.number} of ${view.office}, from your address ${from}`}
      {view.sentFor === "" ? "" : ` (the mail says: “${view.sentFor}”)`}
      {view.bySmtp
        ? ", by the office’s mail server. "
        : ". No mail server is set (SMTP_URL), so each mail is laid as an .eml file into the folder “outbox” beside the database; open it with a mail program and send it. "}
      {view.form.settled
        ? "All is settled: it says how each protection is proven and which cannot be, and asks nothing."
        : `It asks for a reply by ${longDate(view.replyBy)}.`}
      {" What goes out is kept for good, as it went."}
    </p>
    {view.doubts.map(({ says, count }) => (
      <div className="doubt" key={says}>
        <p>{says}</p>
        {count === undefined ? null : (
          <form method="post" action={`${here}/letter/today`}>
            <Hidden values={{ token }} />
            <button type="submit" className="second">
              Count from today
            </button>
          </form>
        )}
      </div>
    ))}
    {waits !== null ? (
      <div className="doubt">
        <p>{`${waits}.`}</p>
        <p>
          <a href={`${here}/review`}>Ask for review, or see what was said</a>
        </p>
      </div>
    ) : view.past === null ? (
      <SendForm
        {...view.form}
        action={`${here}/exchange/send`}
        hidden={{ token, units, number: String(view.number), version: String(version) }}
        faults={faults}
      />
    ) : (
      <p>
        {`The last day of the visit was ${longDate(view.past)}: a private link would open nothing. `}
        <a href={`${here}/particulars#p-visit-window-from`}>Tell the days to come</a>, then send.
      </p>
    )}
  </section>
);
