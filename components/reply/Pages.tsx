import type { ReactElement, ReactNode } from "react";
import { knownLines } from "../../lib/letter/alike.ts";
import { longDate, refRange } from "../../lib/letter/words.ts";
import type { Asked, AskedQuestion } from "../../lib/plan/asked.ts";
import { sisterQuestions } from "../../lib/reply/sisters.ts";
import type { ReplyStep } from "../../lib/reply/steps.ts";
import { type FilledIn, KnownPlace, QuestionPlace, RequestPlace, SisterPlaces, TestPlace } from "./Fields.tsx";

/** What a mail's link shows before anything is opened: one button, the same for every link. */
export const Landing = ({ code }: { readonly code: string }): ReactElement => (
  <>
    <p>
      This is the way to the reply to a letter about the tests of a ship’s generating sets. Whoever has a link that is still good can answer
      for the vessel.
    </p>
    <form method="post" action="/reply/open">
      <input type="hidden" name="code" value={code} />
      <p className="acts">
        <button type="submit">Open the reply</button>
      </p>
    </form>
    <p className="quiet">Opening is a step of its own, so that mail programs that look at links open nothing.</p>
  </>
);

/** What every link that opens nothing is answered with, whatever the reason. */
export const Shut = (): ReactElement => (
  <>
    <p>This link opens no reply: it may have run out, been withdrawn or replaced, or not have been copied whole.</p>
    <p>
      Open the link in the latest letter’s mail again, whole. If it still opens nothing, ask the inspector who sent it for a new one; the
      form in the letter’s last pages and a plain answer by mail are taken as well. What was filled in before is kept.
    </p>
  </>
);

/** How much of a page is answered, as its line in the list of pages tells. */
export interface StepLine extends ReplyStep {
  readonly answered: number;
}

interface FormProps {
  readonly steps: readonly StepLine[];
  readonly here: ReplyStep["id"];
  /** What goes with every post: seal, key of the page, versions that were seen. */
  readonly hidden: readonly (readonly [name: string, value: string])[];
  /** Replaces the button that goes on. */
  readonly act?: ReactElement | undefined;
  /** Whether something on the page is wrong, so that going on all the same is offered. */
  readonly leave?: boolean;
  readonly children: ReactNode;
}

/** What was taken as known waits for no answer. */
const countOf = ({ kind, refs, answered }: StepLine): string => {
  if (kind === "known") return answered === 0 ? "" : ` (${answered} otherwise)`;
  return refs.length === 0 ? "" : ` (${answered} of ${refs.length})`;
};

/** The pages in their order; each can be gone to, and what is filled in here is saved on the way. */
const Steps = ({ steps, here }: Pick<FormProps, "steps" | "here">): ReactElement => (
  <details className="steps">
    <summary>{`Page ${steps.findIndex(({ id }) => id === here) + 1} of ${steps.length}: all pages`}</summary>
    <ol>
      {steps.map((step) => (
        <li key={step.id}>
          {step.id === here ? (
            <b>{`${step.title}${countOf(step)}`}</b>
          ) : (
            <button className="link" type="submit" formAction={`/reply/at/${step.id}`}>{`${step.title}${countOf(step)}`}</button>
          )}
        </li>
      ))}
    </ol>
  </details>
);

/** A page that is filled in: one form, posted to the page that comes next, which answers with itself. */
export const StepForm = ({ steps, here, hidden, act, leave = false, children }: FormProps): ReactElement => {
  const place = steps.findIndex(({ id }) => id === here);
  const [before, after] = [steps[place - 1], steps[place + 1]];
  return (
    <form method="post" action={`/reply/at/${after?.id ?? here}`} data-saves={`/reply/at/${here}`}>
      {hidden.map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      {/* The first button is what the Enter key presses. */}
      <button className="unseen" type="submit" tabIndex={-1} aria-hidden="true">
        Save and continue
      </button>
      <Steps steps={steps} here={here} />
      {children}
      <p className="saved" role="status" />
      <div className="acts">
        {act ?? <button type="submit">Save and continue</button>}
        {leave && after !== undefined ? (
          <button className="second" type="submit" name="leave" value="yes">
            Leave it so and go on
          </button>
        ) : null}
        {before === undefined ? null : (
          <button className="second" type="submit" formAction={`/reply/at/${before.id}`}>
            Back
          </button>
        )}
        {act === undefined ? (
          <button className="second" type="submit" formAction={`/reply/at/${here}`}>
            Save, and go on later
          </button>
        ) : null}
      </div>
    </form>
  );
};

/** A photograph that answers questions, and which. */
export interface Photograph {
  readonly ref: string;
  readonly text: string;
  readonly answers: readonly string[];
}

/** The photographs that are asked for, each with those of these questions that it answers. Pure. */
export const photographsFor = ({ requests }: Asked, questions: readonly AskedQuestion[]): readonly Photograph[] => {
  const asked = new Set(questions.map(({ ref }) => ref));
  return requests
    .map(({ ref, text, answers = [] }) => ({ ref, text, answers: answers.filter((one) => asked.has(one)) }))
    .filter(({ answers }) => answers.length > 0);
};

/** That a photograph can be sent in place of answers, said before these are typed. */
const Photographs = ({ photographs }: { readonly photographs: readonly Photograph[] }): ReactElement | null =>
  photographs.length === 0 ? null : (
    <div className="note">
      <p>
        {"Photographs spare you answers. Send them with the page "}
        <button className="link" type="submit" formAction="/reply/at/files">
          Files
        </button>
        {", and leave open what they show; without them, please write it."}
      </p>
      <ul>
        {photographs.map(({ ref, text, answers }) => (
          <li key={ref}>{`${ref}, ${text}: ${refRange(answers)}`}</li>
        ))}
      </ul>
    </div>
  );

const grouped = <Item,>(items: readonly Item[], nameOf: (item: Item) => string): readonly (readonly [string, readonly Item[]])[] => {
  const groups = new Map<string, Item[]>();
  for (const item of items) groups.set(nameOf(item), [...(groups.get(nameOf(item)) ?? []), item]);
  return [...groups];
};

/** One question, or the same one of several sets. */
const AskedOnce = ({ questions, filled }: { readonly questions: readonly AskedQuestion[]; readonly filled: FilledIn }) => {
  const [first, ...sisters] = questions;
  if (first === undefined) return null;
  return sisters.length === 0 ? (
    <QuestionPlace question={first} filled={filled} />
  ) : (
    <SisterPlaces first={first} questions={questions} filled={filled} />
  );
};

const setsOf = (questions: readonly AskedQuestion[]): string => [...new Set(questions.map(({ set }) => set))].join(", ");

interface PlacesProps {
  readonly asked: Asked;
  /** The photographs of the letter that answer something on this page. */
  readonly photographs: readonly Photograph[];
  readonly filled: FilledIn;
}

/** What one page asks, under the names of the sets. */
export const Places = ({ asked, photographs, filled }: PlacesProps): ReactElement => (
  <>
    <Photographs photographs={photographs} />
    {grouped(sisterQuestions(asked.questions), setsOf).map(([sets, alike]) => (
      <section key={sets}>
        <h2>{sets === "" ? "The ship" : sets}</h2>
        {alike.map((questions) => (
          <AskedOnce key={questions[0]?.ref} questions={questions} filled={filled} />
        ))}
      </section>
    ))}
    {asked.requests.map((request) => (
      <RequestPlace key={request.ref} request={request} filled={filled} />
    ))}
    {grouped(asked.tests, ({ set }) => set).map(([set, tests]) => (
      <section key={set}>
        <h2>{set}</h2>
        {tests.map((test) => (
          <TestPlace key={test.ref} test={test} filled={filled} />
        ))}
      </section>
    ))}
    {asked.known.length === 0 ? null : <p>Nothing is asked here. Open what is otherwise, and say what it is in fact.</p>}
    {grouped(knownLines(asked.known), ({ sets }) => sets.join(", ")).map(([sets, lines]) => (
      <section key={sets}>
        <h2>{sets === "" ? "The ship" : sets}</h2>
        {lines.map((line) => (
          <KnownPlace key={line.facts[0]?.ref} line={line} filled={filled} />
        ))}
      </section>
    ))}
  </>
);

const counted = (count: number, one: string, many: string): readonly string[] =>
  count === 0 ? [] : [`${count} ${count === 1 ? one : many}`];

interface GreetingProps {
  readonly asked: Asked;
  readonly reference: string;
  readonly replyBy: string;
  readonly today: string;
  /** Size of the letter's PDF in words. */
  readonly size: string;
  readonly recipient: string;
}

/** What the first page says: which letter, what is asked, by when, and how answering goes. */
export const Greeting = ({ asked, reference, replyBy, today, size, recipient }: GreetingProps): ReactElement => {
  const deciding = asked.questions.filter(({ decides }) => decides).length;
  const details = asked.questions.length - deciding;
  const kinds = details === 0 || deciding === 0 ? "" : `: ${deciding} decide how something is tested, ${details} fill in details`;
  const what = [
    ...counted(asked.questions.length, "question to answer", "questions to answer").map((line) => `${line}${kinds}`),
    ...counted(asked.requests.length, "thing to arrange and confirm", "things to arrange and confirm"),
    ...counted(asked.tests.length, "test to agree to", "tests to agree to"),
  ];
  return (
    <>
      <p>{`${recipient}, this is the reply to ${reference}.`}</p>
      <ul>
        {what.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <p>
        <b>{`Please answer by ${longDate(replyBy)}`}</b>
        {replyBy < today ? ", which has passed: an answer is welcome all the same." : "."} The letter itself:{" "}
        <a href="/reply/letter">{`PDF, ${size}`}</a>.
      </p>
      <p>
        Each page is saved as you leave it. Several people may fill in the same reply through this link; nothing counts until one of you
        presses “Confirm and send” on the last page. Leave out what you cannot answer: it is asked again.
      </p>
      <Photographs photographs={photographsFor(asked, asked.questions)} />
    </>
  );
};

interface WrongProps {
  readonly title: string;
  readonly lines: readonly { readonly ref: string; readonly says: string }[];
  /** Whether something was pressed already; else it is told beforehand, as what is still to be done. */
  readonly tried: boolean;
}

/** All that is wrong on a page, each leading to its place. */
export const Wrong = ({ title, lines, tried }: WrongProps): ReactElement | null =>
  lines.length === 0 ? null : (
    <div className={tried ? "summary" : "note"} role={tried ? "alert" : undefined}>
      <h2>{title}</h2>
      <ul>
        {lines.map(({ ref, says }) => (
          <li key={ref + says}>
            <a href={`#${ref}`}>{`${ref === "by" ? "Who answers" : ref}: ${says}`}</a>
          </li>
        ))}
      </ul>
    </div>
  );
