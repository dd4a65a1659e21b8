import type { PastedMail } from "../../lib/usecases/exchange/loadReply.ts";
import { Hidden, TextField } from "../form/Fields.tsx";

interface Props {
  /** The page's own address. */
  readonly action: string;
  readonly token: string;
  readonly mail: PastedMail | null;
  readonly faults: Readonly<Record<"file" | "mail" | "mail-name", string | undefined>>;
}

/** The three ways in which a reply comes in that the vessel did not confirm on its own page. */
export const LoadReply = ({ action, token, mail, faults }: Props) => (
  <div className="ways">
    <section>
      <h2>The form in the PDF letter</h2>
      <p>
        The vessel filled in the form in the last pages of the letter and sent the file back. A form that is filled in by half is read too.
      </p>
      <form method="post" action={`${action}/load`} encType="multipart/form-data" noValidate>
        <Hidden values={{ token }} />
        <div className={faults.file === undefined ? "field" : "field wrong"}>
          <label htmlFor="file">Filled form</label>
          <p className="hint" id="file-hint">
            PDF, at most 40 MB
          </p>
          {faults.file === undefined ? null : (
            <p className="fault" id="file-fault">
              <span className="unseen">Error: </span>
              {faults.file}
            </p>
          )}
          <input
            type="file"
            id="file"
            name="file"
            accept="application/pdf,.pdf"
            aria-describedby={faults.file === undefined ? "file-hint" : "file-hint file-fault"}
          />
        </div>
        <TextField id="form-name" name="name" label="Who answers" hint="Only where the form does not say" />
        <button type="submit">Read the form</button>
      </form>
    </section>
    <section>
      <h2>An e-mail</h2>
      <p>The vessel wrote a plain message with lines such as “Q3: dry”, “R5: no, we propose …”. What is understood is shown first.</p>
      <form method="post" action={`${action}/read`} noValidate>
        <Hidden values={{ token }} />
        <TextField id="mail-name" name="name" label="Who wrote it" value={mail?.name ?? ""} fault={faults["mail-name"]} />
        <TextField
          id="mail-role"
          name="role"
          label="As what"
          hint="Chief engineer, superintendent; may be left out"
          value={mail?.role ?? ""}
        />
        <TextField id="mail" label="The message" value={mail?.text ?? ""} lines={10} width="long" fault={faults.mail} />
        <button type="submit">Read it</button>
      </form>
    </section>
    <section>
      <h2>On paper, or by telephone</h2>
      <p>
        The page that the vessel has is opened for you, to be filled in with what you were told. The record says that you keyed it in on
        behalf of the vessel.
      </p>
      <form method="post" action={`${action}/key-in`}>
        <Hidden values={{ token }} />
        <button type="submit" className="second">
          Key it in on behalf of the vessel
        </button>
      </form>
    </section>
  </div>
);
