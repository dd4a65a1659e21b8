import { Hidden } from "../../../components/form/Fields.tsx";
import { Page } from "../../../components/frame/Page.tsx";
import { LoopStrip } from "../../../components/plan/LoopStrip.tsx";
import { listAnd } from "../../../lib/plan/say.ts";
import { bookAt } from "../../../lib/rulebook/places.ts";
import { isRunning, whatIfNow } from "../../../lib/usecases/review/whatIf.ts";
import { type Change, type WhatIfView, whatIfView } from "../../../lib/usecases/review/whatIfView.ts";
import { admitPerson, missing } from "../../_server/gate.ts";
import { namesIn } from "../../_server/words.ts";

type Props = {
  readonly params: Promise<{ readonly tried: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
};

/** So many lines of one kind are shown; more are counted. */
const MOST_LINES = 100;
/** So few plans stand open. */
const FEW = 3;

const Way = ({ side }: { readonly side: Change["before"] }) => (
  <>
    <span className="way-words">{side.way}</span>
    {side.proves === null ? null : <LoopStrip proves={side.proves} />}
  </>
);

const count = (many: number, one: string): string => `${many} ${one}${many === 1 ? "" : "s"}`;

const Group = ({ group, nameOf }: { readonly group: WhatIfView["groups"][number]; readonly nameOf: (id: string) => string }) => (
  <section>
    <h2>
      <a href={bookAt("protections", group.kind)}>{group.protection}</a>
      {` (${count(group.decisions, "decision")})`}
    </h2>
    {group.changes.map(({ before, after, decisions, plans }) => (
      <article className="reviewed" key={JSON.stringify([before, after])}>
        <dl className="weighed">
          <dt>Now</dt>
          <dd>
            <Way side={before} />
          </dd>
          <dt>Then</dt>
          <dd>
            <Way side={after} />
          </dd>
        </dl>
        <details open={plans.length <= FEW}>
          <summary>{`${count(decisions, "decision")} in ${count(plans.length, "plan")}`}</summary>
          <ul>
            {plans.slice(0, MOST_LINES).map(({ visit, vessel, owner, sets, rulebook }) => (
              <li key={visit}>
                <a href={`/visits/${visit}/review`}>{vessel}</a>
                {`: ${listAnd(sets)}; ${nameOf(owner)}, rulebook ${rulebook}`}
              </li>
            ))}
          </ul>
          {plans.length > MOST_LINES ? <p>{`And ${plans.length - MOST_LINES} more.`}</p> : null}
        </details>
      </article>
    ))}
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
  const runs = !complete && (await isRunning(office, tried));
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
          : view.review.length === 0
            ? " What is reviewed stays the same."
            : ` Other tests would be reviewed in ${count(view.review.length, "plan")}.`}
      </p>
      {view.refused.length === 0 ? null : (
        <div className="doubt">
          <p>By today’s rulebook this policy cannot be adopted:</p>
          <ul>
            {view.refused.map((says) => (
              <li key={says}>{says}</li>
            ))}
          </ul>
        </div>
      )}
      {view.review === null || view.review.length === 0 ? null : (
        <section>
          <h2>{`Other tests reviewed (${count(view.review.length, "plan")})`}</h2>
          <ul>
            {view.review.slice(0, MOST_LINES).map(({ visit, vessel, before, after }) => (
              <li key={visit}>
                <a href={`/visits/${visit}/review`}>{vessel}</a>
                {`: ${count(before, "test")} now, ${after} then`}
              </li>
            ))}
          </ul>
          {view.review.length > MOST_LINES ? <p>{`And ${view.review.length - MOST_LINES} more.`}</p> : null}
        </section>
      )}
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
