import { createHash } from "node:crypto";

/** Text that stands in a page as it is, and means nothing there. */
export const escaped = (text: string): string => text.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);

/** The sheet of pages that must not wait for another file: in the colours of all pages, by day and by night. */
const STYLE = `:root{--paper:#fbfaf6;--ink:#1b2025;--hair:#c9cbc6;--act:#0b4f5c;--on-act:#fff;--focus:#b85c00;color-scheme:light dark}
@media (prefers-color-scheme:dark){:root{--paper:#14181c;--ink:#e8e6df;--hair:#3b434b;--act:#8fd0dc;--on-act:#0d1a1d;--focus:#ffb562}}
*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);font:400 1rem/1.45 "Source Sans 3","Segoe UI",Roboto,Helvetica,Arial,sans-serif;overflow-wrap:break-word}
header{padding:.75rem 2rem;border-bottom:1px solid var(--hair);font-weight:600}
main{padding:1.5rem 2rem;max-width:46rem}
h1{font-size:1.6rem;line-height:1.2;margin:0 0 1rem;font-weight:600}
p{margin:0 0 .75rem}
a{color:var(--act);text-underline-offset:.15em}
:focus-visible{outline:3px solid var(--focus);outline-offset:2px}
button{font:inherit;font-weight:600;padding:.45rem 1rem;border:1px solid var(--act);border-radius:2px;background:var(--act);color:var(--on-act)}
[role=log] p:not(:last-of-type){display:none}
@media (max-width:40rem){header,main{padding-left:.9rem;padding-right:.9rem}}`;

/** By this a policy lets the sheet in, and no other. */
export const OWN_STYLE = `'sha256-${createHash("sha256").update(STYLE).digest("base64")}'`;

/** The beginning of a page of the program's own, outside of its framework; what follows goes into its main part. */
export const ownHead = (title: string): string =>
  `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${escaped(title)} – Forehail</title><link rel="icon" href="/icon.svg"><style>${STYLE}</style></head>
<body><header>Forehail</header><main id="main"><h1>${escaped(title)}</h1>
`;

export const OWN_END = "</main></body></html>";

/** A whole page of the program's own; `body` is HTML. */
export const ownPage = (title: string, body: string): string => `${ownHead(title)}${body}${OWN_END}`;

/** A page of few words, which are text. */
export const wordsPage = (title: string, words: string): string => ownPage(title, `<p>${escaped(words)}</p>`);
