import type { ReactNode } from "react";

export interface Viewer {
  readonly name: string;
  readonly role: string;
}

/** One of the places of a visit, as its bar names them. */
export interface VisitBar {
  readonly id: string;
  readonly vessel: string;
  readonly about: string;
  readonly here: "parts" | "board" | "check" | "review" | "letter" | "exchange" | "day" | "results" | "none";
}

interface Props {
  readonly title: string;
  /** Stands above the title: of what this page is a part. */
  readonly caption?: string;
  readonly person: Viewer | null;
  readonly token: string;
  readonly visit?: VisitBar;
  readonly back?: { readonly href: string; readonly words: string };
  readonly errors?: boolean;
  readonly wide?: boolean;
  readonly children: ReactNode;
}

const PLACES = [
  ["parts", "Parts", ""],
  ["board", "Board", "/board"],
  ["check", "Check answers", "/check"],
  ["review", "Review", "/review"],
  ["letter", "Letter", "/letter"],
  ["exchange", "Exchange", "/exchange"],
  ["day", "Day", "/day"],
  ["results", "Results aboard", "/results"],
] as const;

/** Places of the office, and whether they are the supervisor's only. */
const OFFICE = [
  ["/visits", "Visits", false],
  ["/reviews", "Reviews", true],
  ["/consistency", "Consistency", true],
  ["/over-time", "Over time", true],
  ["/policy", "Policy", false],
  ["/rulebook", "Rulebook", false],
  ["/people", "People", true],
  ["/log", "Log", true],
] as const;

const Bar = ({ visit: { id, vessel, about, here } }: { readonly visit: VisitBar }) => (
  <nav className="visit-bar" aria-label="This visit">
    <p className="visit-name">
      <a href={`/visits/${id}`}>{vessel === "" ? "Vessel not named yet" : vessel}</a>
      <span className="quiet">{about}</span>
    </p>
    <ul>
      {PLACES.map(([place, words, end]) => (
        <li key={place}>
          <a href={`/visits/${id}${end}`} aria-current={here === place ? "page" : undefined}>
            {words}
          </a>
        </li>
      ))}
    </ul>
  </nav>
);

const Head = ({ person, token }: Pick<Props, "person" | "token">) => (
  <header className="head">
    <p className="mark">
      <a href="/">Forehail</a>
    </p>
    {person === null ? null : (
      <nav aria-label="Office">
        <ul>
          {OFFICE.filter(([, , supervisors]) => !supervisors || person.role === "supervisor").map(([href, words]) => (
            <li key={href}>
              <a href={href}>{words}</a>
            </li>
          ))}
          <li>
            <a href="/account">{`${person.name}, ${person.role}`}</a>
          </li>
          <li>
            <form method="post" action="/sign-out">
              <input type="hidden" name="token" value={token} />
              <button type="submit" className="link">
                Sign out
              </button>
            </form>
          </li>
        </ul>
      </nav>
    )}
  </header>
);

/** What every page has: who is signed in, which visit it belongs to, the way back, one heading. */
export const Page = ({ title, caption, person, token, visit, back, errors = false, wide = false, children }: Props) => (
  <>
    <title>{`${errors ? "Error: " : ""}${title}${visit === undefined ? "" : ` – ${visit.vessel}`} – Forehail`}</title>
    <Head person={person} token={token} />
    {visit === undefined ? null : <Bar visit={visit} />}
    {back === undefined ? null : (
      <nav className="back" aria-label="Way back">
        <a href={back.href}>{back.words}</a>
      </nav>
    )}
    <main id="main" className={wide ? "wide" : undefined}>
      <h1>
        {caption === undefined ? null : <span className="caption">{caption} </span>}
        {title}
      </h1>
      {children}
    </main>
    <footer className="foot">
      <p>
        Forehail plans. The ship’s people and qualified technicians perform, the inspector witnesses. Local rules, class, maker and licensed
        practice come first.
      </p>
      {person === null ? null : (
        <p>
          <a href="/privacy">What is kept about people</a>
        </p>
      )}
    </footer>
  </>
);
