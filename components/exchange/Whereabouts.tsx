import { Hidden } from "../form/Fields.tsx";
import { CopyText } from "./CopyText.tsx";

export interface OpenPoint {
  readonly ref: string;
  readonly words: string;
  readonly href: string;
}

export interface WhereaboutsView {
  readonly says: string;
  readonly overdue: boolean;
  /** The one act that is next, where it is a page to go to. */
  readonly next?: { readonly href: string; readonly words: string };
  /** What is still open of the plan; null where it cannot be planned as it stands, left out where the exchange has ended. */
  readonly open?: {
    /** Those that a letter asks now; `later` are those that it leaves to the next, until it is known what drives their set. */
    readonly questions: readonly OpenPoint[];
    readonly later: readonly OpenPoint[];
    readonly requests: readonly OpenPoint[];
    readonly without: readonly OpenPoint[];
    /** Tests planned otherwise than the last letter told. */
    readonly untold: readonly OpenPoint[];
    readonly settled: boolean;
  } | null;
  /** A reminder, or why there is none to send; left out where no reply is waited for. */
  readonly reminder?: { readonly sent: string; readonly to: string; readonly text: string } | { readonly none: string };
}

interface Props {
  readonly here: string;
  readonly token: string;
  readonly view: WhereaboutsView;
}

const Points = ({ title, points }: { readonly title: string; readonly points: readonly OpenPoint[] }) =>
  points.length === 0 ? null : (
    <details>
      <summary>{title}</summary>
      <ul>
        {points.map(({ ref, words, href }) => (
          <li key={ref}>
            <a href={href}>{ref}</a>
            {`: ${words}`}
          </li>
        ))}
      </ul>
    </details>
  );

const count = (number: number, one: string, many: string): string => `${number} ${number === 1 ? one : many}`;

const Open = ({ open, here }: { readonly open: NonNullable<WhereaboutsView["open"]> | null; readonly here: string }) => {
  if (open === null)
    return (
      <p>
        {"The visit cannot be planned as it stands. "}
        <a href={`${here}/letter`}>What it waits for</a>
      </p>
    );
  const { questions, later, requests, without, untold, settled } = open;
  return (
    <>
      {settled ? (
        <p>
          As answered and confirmed by now the visit is settled: no question decides any more, every request is confirmed or no longer
          needed, and the vessel knows how each test is done.
        </p>
      ) : null}
      <Points
        title={`${count(questions.length, "question still decides", "questions still decide")} how something is tested`}
        points={questions}
      />
      <Points title={`${count(later.length, "more waits", "more wait")} until it is known what drives the set`} points={later} />
      <Points title={`${count(requests.length, "request is", "requests are")} not confirmed yet`} points={requests} />
      <Points
        title={`${count(untold.length, "test is", "tests are")} planned otherwise than the vessel was told; the next letter tells it`}
        points={untold}
      />
      <Points title={`${count(without.length, "test has", "tests have")} no acceptable way as things stand`} points={without} />
    </>
  );
};

const Reminder = ({ here, token, view: { reminder, overdue } }: Props) => {
  if (reminder === undefined) return null;
  if ("none" in reminder) return <p className="quiet" id="remind">{`No reminder now: ${reminder.none}.`}</p>;
  return (
    <form method="post" action={`${here}/exchange/remind`} id="remind">
      <Hidden values={{ token, sent: reminder.sent }} />
      <button type="submit" className={overdue ? undefined : "second"}>
        Remind
      </button>
      <details>
        <summary>{`What is sent to ${reminder.to}`}</summary>
        <CopyText id="reminder-text" label="Text of the reminder" text={reminder.text} lines={16} />
      </details>
    </form>
  );
};

/** Where the exchange stands, what of the plan is open, and what is next. */
export const Whereabouts = (props: Props) => {
  const { here, view } = props;
  return (
    <section aria-labelledby="stands" className="panel">
      <h2 id="stands">Where it stands</h2>
      <p>{view.overdue ? <strong>{view.says}</strong> : view.says}</p>
      {view.next === undefined ? null : (
        <p>
          <a className="button" href={view.next.href}>
            {view.next.words}
          </a>
        </p>
      )}
      <Reminder {...props} />
      {view.open === undefined ? null : <Open open={view.open} here={here} />}
    </section>
  );
};
