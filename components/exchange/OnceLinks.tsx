import type { ToldLink } from "../../lib/usecases/exchange/links.ts";
import { CopyText } from "./CopyText.tsx";

/** Private links as they are told once, each with the text of the mail that carries it. */
export const OnceLinks = ({ links }: { readonly links: readonly ToldLink[] }) => (
  <section className="note once" aria-labelledby="once">
    <h2 id="once">{links.length === 1 ? "The private link" : "The private links"}</h2>
    <p>
      <strong>Shown this once.</strong> Forehail keeps no link that could be read back. Copy what you need now; a link that is lost can be
      renewed below.
    </p>
    {links.map(({ to, link, text }, place) => (
      <div key={link}>
        <h3>{to.address === "" ? to.name : `${to.name}, ${to.address}`}</h3>
        <code className="code">{link}</code>
        <details>
          <summary>The mail to copy</summary>
          <CopyText id={`once-${place}`} label={`Text of the mail to ${to.name}`} text={text} />
        </details>
      </div>
    ))}
  </section>
);
