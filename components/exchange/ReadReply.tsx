import type { Reply } from "../../lib/model/reply.ts";
import { faultWords } from "../../lib/reply/faultWords.ts";
import type { Frame } from "../../lib/reply/mailFrame.ts";
import type { ReadReply as Read } from "../../lib/usecases/exchange/loadReply.ts";
import type { AskedWords } from "../../lib/usecases/exchange/replyWords.ts";
import { Hidden } from "../form/Fields.tsx";
import { ReplyHead } from "./ReplyHead.tsx";

type Told = Read["told"][number];

/** What frames a message, by its reason, as it is folded away: none of it is counted among what was not understood. */
const FOLDED = [
  ["greeting or signature", "Greeting and signature, passed over"],
  ["quoted from an earlier message", "Lines quoted from an earlier message, passed over"],
] as const satisfies readonly (readonly [Frame, string])[];

/** A fault of a reply with its reference before it. */
export const faultAtWords = ({ at, ...fault }: Read["faults"][number]): string =>
  `${at === "" ? "" : at === "by" ? "Who answers: " : at === "remarks" ? "Remarks: " : `${at}: `}${faultWords(fault)}`;

const why = ({ why: reason }: Told): string => (typeof reason === "string" ? reason : reason.map(faultAtWords).join("; "));

const Line = ({ told }: { readonly told: Told }) => (
  <li>
    {`Line ${told.line}: “${told.text.trim()}” – `}
    <span className="quiet">{why(told)}</span>
  </li>
);

/** Lines of a message that were not taken; apart those that only frame it. */
export const LinesTold = ({ told }: Pick<Read, "told">) => {
  const own = told.filter((one) => FOLDED.every(([reason]) => one.why !== reason));
  return (
    <>
      {own.length === 0 ? null : (
        <>
          <h3>{`Lines not understood, or not wholly: ${own.length}`}</h3>
          <p>
            Nothing of them is taken beyond what stands above. Read them yourself; what matters in them can be written as a line of its own.
          </p>
          <ul>
            {own.map((one) => (
              <Line key={one.line} told={one} />
            ))}
          </ul>
        </>
      )}
      {FOLDED.map(([reason, title]) => {
        const lines = told.filter((one) => one.why === reason);
        return lines.length === 0 ? null : (
          <details key={reason}>
            <summary>{`${title}: ${lines.length}`}</summary>
            <ul>
              {lines.map((one) => (
                <Line key={one.line} told={one} />
              ))}
            </ul>
          </details>
        );
      })}
    </>
  );
};

interface Props {
  readonly reply: Reply;
  readonly told: Read["told"];
  /** Where it came from, in words. */
  readonly from: string;
  readonly lines: readonly (AskedWords & { readonly says: string })[];
  readonly unanswered: readonly AskedWords[];
  /** Why days that are offered come too late, by reference. */
  readonly late: ReadonlyMap<string, string>;
  readonly action: string;
  readonly token: string;
  readonly shown: string;
}

/** What was read of a reply, reference by reference, before somebody says that it is the vessel's. */
export const ReadReply = ({ reply, told, from, lines, unanswered, late, action, token, shown }: Props) => (
  <section className="panel">
    <h2 id="read">{`Read ${from}: not taken in yet`}</h2>
    <ReplyHead by={reply.by} remarks={reply.remarks} files={[]} />
    <dl className="before-after">
      {lines.map(({ ref, set, what, detail, says }) => (
        <div key={ref}>
          <dt>{`${ref}${set === "" ? "" : `, ${set}`}: ${what}`}</dt>
          <dd className="quiet">{detail}</dd>
          <dd>
            <strong>{says}</strong>
          </dd>
        </div>
      ))}
    </dl>
    {[...late].map(([ref, note]) => (
      <p className="note" key={ref}>{`${ref}: ${note}`}</p>
    ))}
    {unanswered.length === 0 ? null : (
      <details>
        <summary>{`Not answered: ${unanswered.length}`}</summary>
        <ul>
          {unanswered.map(({ ref, set, what }) => (
            <li key={ref}>{`${ref}${set === "" ? "" : `, ${set}`}: ${what}`}</li>
          ))}
        </ul>
      </details>
    )}
    <LinesTold told={told} />
    <form method="post" action={`${action}/confirm`}>
      <Hidden values={{ token, shown }} />
      <div className="acts">
        <button type="submit" name="act" value="confirm">
          It is right: this is the vessel’s reply
        </button>
        <button type="submit" name="act" value="put aside" className="second">
          Put it aside
        </button>
      </div>
    </form>
    <p className="quiet">Confirming it ends the vessel’s own page. It is taken into the plan only after that, and only what you choose.</p>
  </section>
);
