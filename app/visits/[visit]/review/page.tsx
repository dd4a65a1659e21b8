import { ErrorSummary, Hidden, TextField } from "../../../../components/form/Fields.tsx";
import { Page } from "../../../../components/frame/Page.tsx";
import { PlanPanel } from "../../../../components/plan/PlanPanel.tsx";
import { Comments, type Said } from "../../../../components/review/Comments.tsx";
import { RestOfPlan } from "../../../../components/review/RestOfPlan.tsx";
import { ReviewedTest } from "../../../../components/review/ReviewedTest.tsx";
import { commentField } from "../../../../lib/usecases/review/decide.ts";
import { type ReviewNow, reviewNow, unreviewed } from "../../../../lib/usecases/review/reviewNow.ts";
import { reviewView, type ReviewedTest as Test } from "../../../../lib/usecases/review/reviewView.ts";
import { otherRulebook } from "../../../../lib/usecases/review/runAgain.ts";
import { planVisit } from "../../../../lib/usecases/visits/planVisit.ts";
import { admitToVisit, saidIn } from "../../../_server/gate.ts";
import { readReview, reviewPage } from "../../../_server/reviewForm.ts";
import { barOf, instant, namesIn } from "../../../_server/words.ts";

type Props = {
  readonly params: Promise<{ readonly visit: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
};

const ACTS = { asked: "Asked for", withdrawn: "Taken back", approved: "Approved", "sent back": "Sent back" } as const;

const Events = ({ events, nameOf }: { readonly events: ReviewNow["events"]; readonly nameOf: (id: string) => string }) =>
  events.length === 0 ? null : (
    <details>
      <summary>{`What was done about the review (${events.length})`}</summary>
      <ol className="said">
        {events.toReversed().map(({ number, act, who, when, words }) => (
          <li key={number}>
            <p>
              {`${ACTS[act]} by ${nameOf(who)}, `}
              <span className="quiet">{instant(when)}</span>
            </p>
            {words === "" ? null : <p className="as-written">{words}</p>}
          </li>
        ))}
      </ol>
    </details>
  );

const standsWords = ({ state, last, wanted, missing }: ReviewNow, nameOf: (id: string) => string): string => {
  const who = last === null ? "" : `${nameOf(last.who)}, ${instant(last.when)}`;
  const how = {
    "not asked": "No review is asked for.",
    asked: `A review was asked for by ${who}.`,
    "sent back": `Sent back by ${who}.`,
    approved: missing.length === 0 ? `Approved by ${who}.` : `Approved by ${who}; since then it was changed.`,
  }[state];
  const policy =
    wanted.length === 0
      ? " The office’s policy does not ask for one."
      : missing.length === 0
        ? " All that the office’s policy wants approved is approved as it stands."
        : ` To be approved before a letter goes out: ${missing.map(({ protection }) => protection.ref).join(", ")}.`;
  return `${how}${policy}`;
};

/** How many tests these are, like sets counted each. */
const many = (tests: readonly Test[]): number => tests.reduce((sum, { also }) => sum + 1 + also.length, 0);

const ReviewPage = async ({ params, searchParams }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/review", visit);
  const query = await searchParams;
  const { done, problem } = saidIn(office, query);
  const planned = planVisit(stored, office.planner);
  const frame = {
    title: "Review of the plan",
    person,
    token,
    visit: barOf(stored, "review"),
    back:
      person.role === "supervisor" ? { href: "/reviews", words: "All reviews" } : { href: `/visits/${visit}`, words: "Back to the parts" },
    wide: true,
  } as const;
  if (!planned.ok)
    return (
      <Page {...frame}>
        <p>The plan cannot be reviewed before it can be made.</p>
        <PlanPanel preview={office.preview(stored)} visit={visit} set={null} kind="" />
      </Page>
    );
  const nameOf = await namesIn(office);
  const review = await reviewNow(office.store, stored, planned.value.plan, office.world.now().slice(0, 10));
  const view = reviewView(office.planner, stored, planned.value, review, await office.compare());
  const kept = readReview((await office.store.typed(reviewPage(visit), person.id))?.text);
  const faults = [
    ...(query["again"] === undefined ? [] : (kept?.faults ?? [])),
    ...(problem === undefined ? [] : [{ field: "", says: problem }]),
  ];
  const other = await otherRulebook(office, stored, planned.value);
  const faultAt = (field: string): string | undefined => faults.find((one) => one.field === field)?.says;
  const said = (comments: Test["comments"]): readonly Said[] =>
    comments.map(({ id, who, when, words }) => ({ id, who: nameOf(who), when: instant(when), words }));
  const testsOf = (tests: readonly Test[]) =>
    tests.map((test) => (
      <ReviewedTest
        key={test.at}
        visit={visit}
        test={test}
        said={said}
        typed={kept?.comments[test.at] ?? ""}
        fault={faultAt(commentField(test.at))}
      />
    ));
  const decides = person.role === "supervisor";
  const own = stored.owner === person.id || person.standsInFor.includes(stored.owner);
  const asks = review.state !== "asked";
  const blocked = unreviewed(review);
  return (
    <Page {...frame} errors={faults.length > 0}>
      <ErrorSummary faults={faults.map(({ field, says }) => ({ id: field, says }))} />
      {done === undefined ? null : (
        <p className="note" role="status">
          {done}
        </p>
      )}
      <p>
        {`${standsWords(review, nameOf)} `}
        <a className="no-print" href="#decide">
          {decides && !own ? "Decide" : review.state === "asked" ? "Take it back" : "Ask for review"}
        </a>
      </p>
      {review.last !== null && review.last.words !== "" ? <p className="as-written review-words">{review.last.words}</p> : null}
      <Events events={review.events} nameOf={nameOf} />
      {other === null ? null : (
        <div className="doubt">
          <p>
            {`The plan kept of this visit was made by rulebook ${other.was}; this page shows it by ${other.is}. `}
            {other.changes.length === 0
              ? "Every decision is the same."
              : `Other than then: ${other.changes.map(({ kind, set }) => `${office.planner.rulebook.protections.find((one) => one.kind === kind)?.short ?? kind}, ${set}`).join("; ")}.`}
          </p>
          <form method="post" action={`/visits/${visit}/review/run-again`} className="no-print">
            <Hidden values={{ token }} />
            <button type="submit" className="second">
              {`Run it again by ${other.is}`}
            </button>
          </form>
        </div>
      )}
      <form method="post" action={`/visits/${visit}/review/decide`}>
        <Hidden values={{ token, seen: String(review.events.length), version: String(stored.version) }} />
        <h2>{`Choices against the engine (${many(view.deviations)})`}</h2>
        {view.deviations.length === 0 ? <p>None: every test goes by the order of preference.</p> : testsOf(view.deviations)}
        <h2>{`Open risks (${many(view.risks.tests) + view.risks.words.length})`}</h2>
        {view.risks.tests.length + view.risks.words.length === 0 ? <p>None is told.</p> : null}
        {testsOf(view.risks.tests)}
        {view.risks.words.length === 0 ? null : (
          <ul>
            {view.risks.words.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        )}
        <h2>{`Loop parts that stay unproven (${many(view.unproven)})`}</h2>
        {view.unproven.length === 0 ? <p>None beside those above.</p> : testsOf(view.unproven)}
        <h2>{`All other tests (${many(view.others)})`}</h2>
        <RestOfPlan visit={visit} tests={view.others} said={said} typed={kept?.comments ?? {}} faultAt={faultAt} />
        {view.general.length === 0 ? null : (
          <>
            <h2>Said of the whole plan</h2>
            <Comments said={said(view.general)} />
          </>
        )}
        <section aria-labelledby="decide" className="no-print">
          <h2 id="decide">{decides ? "Decide" : "Review"}</h2>
          {blocked === null ? null : <p>{blocked}.</p>}
          <TextField
            id="words"
            label={decides ? "Words (reasons, where it is sent back)" : "Note for the reviewer (optional)"}
            value={kept?.words ?? ""}
            lines={4}
            width="long"
            fault={faultAt("words")}
          />
          <div className="acts">
            {decides && !own ? (
              <>
                <button type="submit" name="act" value="approved">
                  Approve as it stands
                </button>
                <button type="submit" name="act" value="sent back" className="second">
                  Send back
                </button>
              </>
            ) : null}
            {!decides || own ? (
              <button type="submit" name="act" value={asks ? "asked" : "withdrawn"} className={asks ? undefined : "second"}>
                {asks ? "Ask for review" : "Take the request back"}
              </button>
            ) : null}
            <button type="submit" name="act" value="comment" className="second">
              Keep comments only
            </button>
          </div>
          {decides && own ? (
            <p className="quiet">This visit is your own, or you stand in for whose it is: another supervisor approves it.</p>
          ) : null}
        </section>
      </form>
    </Page>
  );
};

export default ReviewPage;
