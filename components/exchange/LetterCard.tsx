import { Hidden, TextField } from "../form/Fields.tsx";
import { Scroll } from "../frame/Scroll.tsx";

export interface MailView {
  readonly key: string;
  readonly to: string;
  readonly what: string;
  readonly became: string;
  /** The link that another try would renew; undefined where none is needed. */
  readonly again?: { readonly mark: string; readonly until: string };
}

export interface LinkView {
  readonly mark: string;
  readonly id: string;
  readonly recipient: string;
  readonly says: string;
  readonly stands: boolean;
  /** Whether another can be made in its place; nobody answers a letter that a later one has replaced. */
  readonly renews: boolean;
  /** Where a mail with a new one can go; empty where no address is known. */
  readonly address: string;
  readonly until: string;
  readonly fault?: string | undefined;
}

export interface LetterView {
  readonly id: string;
  readonly title: string;
  readonly sent: string;
  readonly to: string;
  readonly paper: string;
  /** Undefined for a letter that asks for no reply. */
  readonly due?: string;
  readonly reply?: string;
  /** A reply that was read and that nobody confirmed yet. */
  readonly waits?: { readonly says: string; readonly words: string };
  readonly act?: { readonly href: string; readonly words: string };
  readonly files: readonly { readonly id: string; readonly words: string }[];
  readonly mails: readonly MailView[];
  readonly links: readonly LinkView[];
}

interface Props {
  readonly here: string;
  readonly token: string;
  readonly letter: LetterView;
}

const Mails = ({ here, token, letter }: Props) => (
  <Scroll label={`Mails of ${letter.title}`}>
    <table className="mails cards">
      <thead>
        <tr>
          <th scope="col">To</th>
          <th scope="col">Mail</th>
          <th scope="col">What became of it</th>
        </tr>
      </thead>
      <tbody>
        {letter.mails.map(({ key, to, what, became, again }) => (
          <tr key={key}>
            <th scope="row">{to}</th>
            <td data-label="Mail">{what}</td>
            <td data-label="What became of it">
              {became}
              {again === undefined ? null : (
                <form method="post" action={`${here}/exchange/link`}>
                  <Hidden values={{ token, act: "renew", sent: letter.id, mark: again.mark, until: again.until, mail: "on" }} />
                  <button type="submit" className="second">
                    Try again, with a new link
                  </button>
                </form>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  </Scroll>
);

type LinkProps = Pick<Props, "here" | "token" | "letter"> & { readonly link: LinkView };

/** Nobody takes a link from a vessel by one press: what it means is opened first. */
const Withdraw = ({ here, token, letter, link }: LinkProps) => (
  <details>
    <summary>Withdraw</summary>
    <form method="post" action={`${here}/exchange/link`}>
      <Hidden values={{ token, act: "withdraw", sent: letter.id, mark: link.mark }} />
      <p>
        {`Every link of ${link.recipient} to this letter then opens nothing any more, and no mail is sent. What was filled in is kept; a new link can be made at any time.`}
      </p>
      <button type="submit" className="danger">
        Withdraw it
      </button>
    </form>
  </details>
);

/** A new link, in place of the one that there is or was. */
const Renewal = ({ here, token, letter, link }: LinkProps) => (
  <details open={link.fault !== undefined}>
    <summary>{link.stands ? "Renew" : "Make a new one"}</summary>
    <form method="post" action={`${here}/exchange/link`} noValidate>
      <Hidden values={{ token, sent: letter.id, mark: link.mark }} />
      <TextField
        id={link.id}
        name="until"
        label="Opens until"
        hint="Its last day, for example 2027-03-24 or 24 March 2027"
        value={link.until}
        fault={link.fault}
      />
      {link.address === "" ? null : (
        <div className="option">
          <input type="checkbox" id={`${link.id}-mail`} name="mail" defaultChecked />
          <label htmlFor={`${link.id}-mail`}>{`Send the letter with it to ${link.address} once more`}</label>
        </div>
      )}
      <div className="acts">
        <button type="submit" name="act" value="renew" className="second">
          {link.stands ? "Renew: a new one in its place" : "Make a new link"}
        </button>
      </div>
    </form>
  </details>
);

const Link = ({ here, token, letter, link }: LinkProps) => (
  <li>
    <p>
      <strong>{link.recipient}</strong>
      {`: ${link.says}`}
    </p>
    {link.renews ? <Renewal here={here} token={token} letter={letter} link={link} /> : null}
    {link.renews && link.stands ? <Withdraw here={here} token={token} letter={letter} link={link} /> : null}
  </li>
);

/** A letter that went out: what it is, what became of its mails, how far its reply is, and its links. */
export const LetterCard = (props: Props) => {
  const { here, letter } = props;
  const { id, title, sent, to, paper, due, reply, waits, act, files, mails, links } = letter;
  return (
    <section className="went-out" aria-labelledby={`letter-${id}`}>
      <h2 id={`letter-${id}`}>{title}</h2>
      <dl className="told">
        <dt>Sent</dt>
        <dd>
          {sent} <a href={`${here}/letters/${paper}`}>As it went out (PDF)</a>
        </dd>
        <dt>To</dt>
        <dd>{to}</dd>
        {due === undefined ? null : (
          <>
            <dt>Reply due</dt>
            <dd>{due}</dd>
          </>
        )}
        {reply === undefined ? null : (
          <>
            <dt>Reply</dt>
            <dd>
              {reply} {act === undefined ? null : <a href={act.href}>{act.words}</a>}
              {act === undefined || waits === undefined ? null : (
                <p className="note">
                  {waits.says} <a href={`${act.href}#read`}>{waits.words}</a>
                </p>
              )}
            </dd>
          </>
        )}
        {files.length === 0 ? null : (
          <>
            <dt>Files that came</dt>
            <dd>
              <ul>
                {files.map((file) => (
                  <li key={file.id}>
                    <a href={`${here}/files/${file.id}`}>{file.words}</a>
                  </li>
                ))}
              </ul>
            </dd>
          </>
        )}
      </dl>
      {links.length === 0 ? null : (
        <>
          <h3>Private links</h3>
          <ul className="links">
            {links.map((link) => (
              <Link key={link.mark} {...props} link={link} />
            ))}
          </ul>
        </>
      )}
      <h3>Mails</h3>
      {mails.length === 0 ? <p>None was handed over.</p> : <Mails {...props} />}
    </section>
  );
};
