import { Page } from "../../components/frame/Page.tsx";
import { KindList, Results, SearchForm } from "../../components/rulebook/Contents.tsx";
import { BOOK_KINDS } from "../../lib/rulebook/places.ts";
import { bookOf } from "../../lib/usecases/rulebook/book.ts";
import { KIND_TITLES, things } from "../../lib/usecases/rulebook/entries.ts";
import { search } from "../../lib/usecases/rulebook/search.ts";
import { MARK_WORDS } from "../../lib/usecases/rulebook/words.ts";
import { admitPerson } from "../_server/gate.ts";
import { oneOf, type Query } from "../_server/query.ts";

/** Kinds whose lists are long, and stand folded. */
const FOLDED = new Set<string>(["methods", "needs", "cautions", "questions"]);

const Rulebook = async ({ searchParams }: { readonly searchParams: Promise<Query> }) => {
  const { office, person, token } = await admitPerson("GET /rulebook");
  const find = oneOf((await searchParams)["find"])
    .trim()
    .slice(0, 100);
  const { rulebook, digest } = office.planner;
  const book = bookOf(rulebook);
  const all = things(book);
  return (
    <Page title="Rulebook" person={person} token={token} back={{ href: "/visits", words: "All visits" }}>
      <p>
        Everything that a plan rests on: what must be proven, by which methods, what each needs and what bars it, and the arithmetic. A plan
        says nothing that does not stand here or in the answers of the visit.
      </p>
      <SearchForm find={find} />
      {find === "" ? (
        <>
          <dl className="told">
            <div className="told-pair">
              <dt>Version</dt>
              <dd>{`${rulebook.version}, digest ${digest}. A plan names both; every page here has the same address in later versions.`}</dd>
            </div>
            {(["read", "memory", "practice", "interpretation"] as const).map((mark) => (
              <div className="told-pair" key={mark}>
                <dt>{MARK_WORDS[mark]}</dt>
                <dd>{MARKS[mark]}</dd>
              </div>
            ))}
          </dl>
          <p className="quiet">
            Editions that were read may be older than the rules in force: they are named, and checked before one relies on them.
          </p>
          <nav aria-label="Parts of the rulebook">
            <ul>
              {BOOK_KINDS.map((kind) => (
                <li key={kind}>
                  <a href={`#${kind}`}>{`${KIND_TITLES[kind].title}: ${all.filter((one) => one.kind === kind).length}`}</a>
                </li>
              ))}
              <li>
                <a href="#preference">The order of preference</a>
              </li>
            </ul>
          </nav>
          {BOOK_KINDS.map((kind) => (
            <section key={kind} id={kind}>
              <h2>{KIND_TITLES[kind].title}</h2>
              <p>
                {`${KIND_TITLES[kind].says} `}
                <a href={`/rulebook/${kind}`}>{`${KIND_TITLES[kind].title} on a page of their own`}</a>
              </p>
              {FOLDED.has(kind) ? (
                <details>
                  <summary>{`All ${all.filter((one) => one.kind === kind).length}`}</summary>
                  <KindList kind={kind} things={all} />
                </details>
              ) : (
                <KindList kind={kind} things={all} />
              )}
            </section>
          ))}
          <section id="preference">
            <h2>The order of preference</h2>
            <p>
              Of the ways that are left, the one comes first that is better by the first of these; the next decides only where they are
              equal.
            </p>
            <ol>
              {rulebook.orderOfPreference.map(({ id, text }) => (
                <li key={id}>{text}</li>
              ))}
            </ol>
          </section>
        </>
      ) : (
        <Results found={search(book, find)} find={find} />
      )}
    </Page>
  );
};

const MARKS = {
  read: "the text was read, if need be in a copy that is named",
  memory: "remembered, and to be looked up before one relies on it",
  practice: "what the trade does; no rule says it",
  interpretation: "the text was read and leaves it open",
} as const;

export default Rulebook;
