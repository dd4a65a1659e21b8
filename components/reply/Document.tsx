import type { ReactElement, ReactNode } from "react";
import { STYLE } from "./style.ts";

/** Which reply it is, as every page of it says. */
export interface ReplyHead {
  readonly vessel: string;
  /** "letter 1", with the reference of the visit where it has one. */
  readonly reference: string;
  readonly office: string;
}

interface Props {
  readonly title: string;
  readonly head: ReplyHead | null;
  /** Whether something on the page has to be put right, which its title then says first. */
  readonly wrong?: boolean;
  /** Address of the script that saves what is filled in; left out where nothing is. */
  readonly script?: string;
  readonly children: ReactNode;
}

/** A whole page of the reply: its own small sheet, no typeface, no picture, and no script but the one that saves. */
export const ReplyDocument = ({ title, head, wrong = false, script, children }: Props): ReactElement => (
  <html lang="en">
    {/* biome-ignore lint/style/noHeadElement: the page is a whole document that the framework has no part in */}
    <head>
      <meta charSet="utf-8" />
      <meta name="viewport" content="width=device-width, initial-scale=1" />
      <meta name="robots" content="noindex, nofollow" />
      <meta name="referrer" content="no-referrer" />
      {/* Else a browser asks for one over the slow link. */}
      <link rel="icon" href="data:," />
      <title>{`${wrong ? "Error: " : ""}${title}${head === null ? "" : ` – ${head.vessel}`}`}</title>
      {/* biome-ignore lint/security/noDangerouslySetInnerHtml: the sheet is ours and a constant; as a child its signs would be escaped */}
      <style dangerouslySetInnerHTML={{ __html: STYLE }} />
      {script === undefined ? null : <script src={script} defer />}
    </head>
    <body>
      {head === null ? null : (
        <header>
          <p>
            <b>{head.vessel}</b>
            {`: reply to ${head.reference}`}
          </p>
          <p className="quiet">{head.office}</p>
        </header>
      )}
      <main>
        <h1>{title}</h1>
        {children}
      </main>
      <footer>
        <p>
          Forehail plans; the ship’s people and qualified technicians perform, the inspector witnesses. Local rules, class and maker come
          first.
        </p>
      </footer>
    </body>
  </html>
);
