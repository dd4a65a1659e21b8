import { Hidden } from "../../../components/form/Fields.tsx";
import { Page } from "../../../components/frame/Page.tsx";
import { Scroll } from "../../../components/frame/Scroll.tsx";
import { LoopStrip } from "../../../components/plan/LoopStrip.tsx";
import { isRunning, whatIfNow } from "../../../lib/usecases/review/whatIf.ts";
import { type ChangeLine, type WhatIfView, whatIfView } from "../../../lib/usecases/review/whatIfView.ts";
import { admitPerson, missing } from "../../_server/gate.ts";
import { namesIn } from "../../_server/words.ts";

type Props = {
  readonly params: Promise<{ readonly tried: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
};

/** So many lines of one protection are shown; more are counted. */
const MOST_LINES = 100;

const Way = ({ side }: { readonly side: ChangeLine["before"] }) => (
  <>
    <span className="way-words">{side.way}</span>
    {side.proves === null ? null : <LoopStrip proves={side.proves} />}
  </>
);

const Group = ({
  group: { protection, lines },
  nameOf,
}: {
  readonly group: WhatIfView["groups"][number];
  readonly nameOf: (id: string) => string;
}) => (
  <section>
    <h2>{`${protection} (${lines.length})`}</h2>
    <Scroll label={`${protection}: decisions that would be others`}>
      <table className="cards side-by-side">
        <thead>
          <tr>
            <th scope="col">Vessel and set</th>
            <th scope="col">Inspector</th>
            <th scope="col">Now</th>
            <th scope="col">Then</th>
          </tr>
        </thead>
        <tbody>
          {lines.slice(0, MOST_LINES).map((line) => (
            <tr key={`${line.visit} ${line.at}`}>
              <th scope="row">
                <a href={`/visits/${line.visit}/review`}>{line.vessel}</a>
                <span className="cell-way">{line.set}</span>
              </th>
              <td data-label="Inspector">
                {nameOf(line.owner)}
                <span className="cell-way">{`rulebook ${line.rulebook}`}</span>
              </td>
              <td data-label="Now">
                <Way side={line.before} />
              </td>
              <td data-label="Then">
                <Way side={line.after} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
    {lines.length > MOST_LINES ? <p>{`And ${lines.length - MOST_LINES} more.`}</p> : null}
  </section>
);

const TriedPage = async ({ params }: Props) => {
  const { tried } = await params;
  const { office, person, token } = await admitPerson("GET /what-if/[tried]");
  const now = await whatIfNow(office.store, tried);
  if (now === null) return missing();
  const view = whatIfView(now, await office.compare(), office.planner.rulebook);
  const nameOf = await namesIn(office);
  const complete = view.done >= view.total;
  const runs = !complete && isRunning(tried);
  return (
    <Page title={view.title} caption="What if" person={person} token={token} back={{ href: "/what-if", words: "What if" }} wide>
      {runs ? <meta httpEquiv="refresh" content="2" /> : null}
      {complete ? null : (
        <div role="status">
          <p>
            <label htmlFor="progress">{`${view.done} of ${view.total} plans tried. `}</label>
            <progress id="progress" max={view.total} value={view.done} />
          </p>
          {runs ? (
            <p className="quiet">This page looks again by itself every two seconds.</p>
          ) : (
            <form method="post" action={`/what-if/${tried}/go-on`}>
              <Hidden values={{ token }} />
              <p>It stands still: the program was stopped meanwhile, or another one is at it.</p>
              <button type="submit">Go on</button>
            </form>
          )}
        </div>
      )}
      <p>
        {view.decisions === 0
          ? `${complete ? "Nothing" : "So far nothing"} would be decided otherwise in ${view.done} ${view.done === 1 ? "plan" : "plans"}.`
          : `${view.decisions} ${view.decisions === 1 ? "decision" : "decisions"} of ${view.changed} of ${view.done} ${view.done === 1 ? "plan" : "plans"} would be others.`}
        {view.review === null
          ? ""
          : view.review.more + view.review.fewer === 0
            ? " What is reviewed stays the same."
            : ` More would be reviewed in ${view.review.more}, less in ${view.review.fewer}.`}
      </p>
      {view.faults.length === 0 ? null : (
        <section>
          <h2>{`Plans that could not be made (${view.faults.length})`}</h2>
          <ul>
            {view.faults.slice(0, MOST_LINES).map(({ visit, vessel, says }) => (
              <li key={visit}>
                <a href={`/visits/${visit}`}>{vessel}</a>
                {`: ${says}`}
              </li>
            ))}
          </ul>
        </section>
      )}
      {view.groups.map((group) => (
        <Group key={group.protection} group={group} nameOf={nameOf} />
      ))}
    </Page>
  );
};

export default TriedPage;
