import type { ReactElement } from "react";
import { OWN } from "../../lib/letter/formFields.ts";
import { sizeWords } from "../../lib/letter/sizes.ts";
import { capital, refRange } from "../../lib/letter/words.ts";
import { LONGEST_WORDS } from "../../lib/model/reply.ts";
import type { ReplyStep } from "../../lib/reply/steps.ts";
import type { AtOdds, Told } from "../../lib/reply/told.ts";
import type { Attachment } from "../../lib/store/exchanges.ts";
import type { FilledIn } from "./Fields.tsx";

const Listed = ({ told }: { readonly told: readonly Told[] }): ReactElement => (
  <dl>
    {told.map(({ ref, text, says }) => (
      <div key={ref} id={ref}>
        <dt>{`${ref} ${text}`}</dt>
        <dd>{says}</dd>
      </div>
    ))}
  </dl>
);

interface CheckProps {
  readonly told: readonly Told[];
  readonly by: string;
  readonly files: readonly Attachment[];
  readonly steps: readonly ReplyStep[];
  /** Tests that are agreed to though what they need is refused or too late. */
  readonly odds: readonly AtOdds[];
  /** Why days that are offered come too late, by reference. */
  readonly late: ReadonlyMap<string, string>;
}

/** Told before it is sent, not forbidden: another way is then worked out, and the next letter says which. */
const Odds = ({ odds, late }: Pick<CheckProps, "odds" | "late">): ReactElement | null =>
  odds.length + late.size === 0 ? null : (
    <div className="note">
      {[...late].map(([ref, says]) => (
        <p key={ref}>{`${ref}: ${says}`}</p>
      ))}
      {[...new Set(odds.map(({ request }) => request))].map((request) => (
        <p key={request}>
          {`${request} ${late.has(request) ? "comes too late" : "is refused"}, and ${refRange(odds.filter((one) => one.request === request).map(({ test }) => test))} cannot be done as agreed without it. If you send it so, another way is worked out, and the next letter asks again.`}
        </p>
      ))}
    </div>
  );

const FileList = ({ files }: Pick<CheckProps, "files">): ReactElement | null =>
  files.length === 0 ? null : (
    <>
      <h2>{`Files (${files.length})`}</h2>
      <ul>
        {files.map(({ id, name, what, size }) => (
          <li key={id}>{`${capital(what)}: ${name}, ${sizeWords(size)}`}</li>
        ))}
      </ul>
    </>
  );

/** All that was filled in, and what was not, before it is confirmed. */
export const CheckList = ({ told, by, files, steps, odds, late }: CheckProps): ReactElement => {
  const open = told.filter(({ says }) => says === "");
  return (
    <>
      <p>{by === "" ? "Nobody is named yet who answers: see the first page." : `Answered by ${by}.`}</p>
      <Odds odds={odds} late={late} />
      <h2>{`Answered (${told.length - open.length} of ${told.length})`}</h2>
      <Listed told={told.filter(({ says }) => says !== "")} />
      {open.length === 0 ? null : (
        <>
          <h2>{`Not answered (${open.length})`}</h2>
          <p>What is left open is asked again in the next letter, and the tests that hang on it stay as proposed.</p>
          <ul>
            {steps
              .map((step) => ({ ...step, refs: step.refs.filter((ref) => open.some((one) => one.ref === ref)) }))
              .filter(({ refs }) => refs.length > 0)
              .map(({ id, title, refs }) => (
                <li key={id}>
                  <button className="link" type="submit" formAction={`/reply/at/${id}`}>
                    {title}
                  </button>
                  {`: ${refRange(refs)}`}
                </li>
              ))}
          </ul>
        </>
      )}
      <FileList files={files} />
      <p>
        Confirming ends this reply: nothing can be changed in it afterwards. The inspector then takes it in and sends the next letter, or
        one that says that all is settled.
      </p>
    </>
  );
};

interface FilesProps {
  readonly files: readonly Attachment[];
  readonly kinds: readonly string[];
  /** What is taken, in words, and by the endings of files. */
  readonly taken: string;
  readonly endings: string;
  readonly hidden: readonly (readonly [name: string, value: string])[];
  readonly faults: readonly string[];
}

/** Files that go with the reply, each sent by itself, so that a broken line costs one file only. */
export const FilesForm = ({ files, kinds, taken, endings, hidden, faults }: FilesProps): ReactElement => (
  <form method="post" action="/reply/files" encType="multipart/form-data">
    {hidden.map(([name, value]) => (
      <input key={name} type="hidden" name={name} value={value} />
    ))}
    <h2>Files</h2>
    {files.length === 0 ? (
      <p>None yet. A test procedure, certificates, the record of the last test or photographs answer many questions at once.</p>
    ) : (
      <ul>
        {files.map(({ id, name, what, size }) => (
          <li key={id}>
            {`${capital(what)}: ${name}, ${sizeWords(size)} `}
            <button className="link" type="submit" name="drop" value={id} formNoValidate>
              Take it away
              <span className="unseen">{` (${name})`}</span>
            </button>
          </li>
        ))}
      </ul>
    )}
    <fieldset id="file" className={faults.length > 0 ? "wrong" : undefined}>
      <legend>Add a file</legend>
      {faults.map((says) => (
        <p className="fault" key={says}>
          <span className="unseen">Error: </span>
          {says}
        </p>
      ))}
      <label className="f">
        <b>What it is</b>
        <select name="what" required>
          <option value="">–</option>
          {kinds.map((what) => (
            <option key={what} value={what}>
              {capital(what)}
            </option>
          ))}
        </select>
      </label>
      <label className="f">
        <b>File</b>
        <small>{taken}</small>
        <input type="file" name="file" accept={endings} />
      </label>
      <button className="second" type="submit">
        Send this file
      </button>
    </fieldset>
  </form>
);

/** Remarks on the whole. */
export const Remarks = ({ filled }: { readonly filled: FilledIn }): ReactElement => (
  <fieldset id="remarks" className={filled.faults.has("remarks") ? "wrong" : undefined}>
    <legend>Remarks</legend>
    {(filled.faults.get("remarks") ?? []).map((says) => (
      <p className="fault" key={says}>
        {says}
      </p>
    ))}
    <label className="f">
      <small>Whatever the inspector should know besides; at most {LONGEST_WORDS} characters</small>
      <textarea name={OWN.remarks} rows={4} maxLength={LONGEST_WORDS} defaultValue={filled.fields.get(OWN.remarks) ?? ""} />
    </label>
  </fieldset>
);

interface ReceiptProps {
  readonly by: { readonly name: string; readonly role?: string | undefined };
  /** The instant of the confirmation, in words. */
  readonly when: string;
  /** Who gave it in where nobody did through a link: empty else. */
  readonly through: string;
  /** What has happened since; empty where nothing has. */
  readonly later: string;
  readonly told: readonly Told[];
  readonly remarks: string;
  readonly files: readonly Attachment[];
  /** What was sent too late to become part of it. */
  readonly left: readonly Told[];
}

/** What was confirmed, by whom and when; nothing of it can be changed any more. */
export const Receipt = ({ by, when, through, later, told, remarks, files, left }: ReceiptProps): ReactElement => (
  <>
    <p className="note" role="status">
      {`Confirmed by ${[by.name, by.role].filter((part) => part !== undefined).join(", ")} on ${when}${through === "" ? "" : `, given in by ${through}`}. `}
      <a href="/reply/receipt">Keep the receipt (PDF)</a>
    </p>
    {left.length === 0 ? null : (
      <div className="summary" role="alert">
        <h2>Not part of the reply</h2>
        <p>The reply had been confirmed when this came. If it differs from what is below, tell the inspector by mail:</p>
        <Listed told={left} />
      </div>
    )}
    <p>{later === "" ? "The inspector takes it in next; the next letter says what it changed. Nothing is settled before." : later}</p>
    <h2>{`What was answered (${told.filter(({ says }) => says !== "").length} of ${told.length})`}</h2>
    <Listed told={told.filter(({ says }) => says !== "")} />
    {remarks === "" ? null : <p>{`Remarks: ${remarks}`}</p>}
    <FileList files={files} />
  </>
);

/** Said where a later letter went out meanwhile. */
export const Replaced = ({
  number,
  sentOn,
  ended,
  others,
}: {
  readonly number: number;
  readonly sentOn: string;
  readonly ended: boolean;
  /** Who got that letter, where whoever looks got none of it; else empty. */
  readonly others: string;
}): ReactElement => (
  <p>
    {ended
      ? `Letter ${number} of ${sentOn} ended the exchange; nothing needs to be answered any more.`
      : `${others === "" ? `Please answer letter ${number} of ${sentOn}: its mail holds the link.` : `Letter ${number} of ${sentOn} is answered instead. It went to ${others} and not to you: they have its link, or the inspector sends you one.`} What was filled in here and not confirmed is not taken.`}
  </p>
);
