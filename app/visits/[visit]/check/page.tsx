import { fieldId } from "../../../../components/form/QuestionField.tsx";
import { Page } from "../../../../components/frame/Page.tsx";
import { TypedNote } from "../../../../components/visits/TypedNote.tsx";
import type { Draft } from "../../../../lib/flow/draft.ts";
import { answerWords, groupOf, setAsideIn } from "../../../../lib/flow/questions.ts";
import { type Step, stepsOf } from "../../../../lib/flow/steps.ts";
import { valueAt } from "../../../../lib/model/fault.ts";
import { capital } from "../../../../lib/plan/say.ts";
import { openVisit } from "../../../../lib/usecases/visits/visitDraft.ts";
import { admitToVisit } from "../../../_server/gate.ts";
import { barOf, typedTitles } from "../../../_server/words.ts";

type Props = { readonly params: Promise<{ readonly visit: string }> };

const Answers = ({ step, draft, visit }: { readonly step: Step; readonly draft: Draft; readonly visit: string }) => (
  <dl className="pairs">
    {step.asked.map((asked) => {
      const given = draft.answers.get(asked.at);
      const group = groupOf(asked.at, draft.frame);
      const at = `/visits/${visit}/ask/${step.path}#${fieldId(asked.at)}`;
      return (
        <div key={asked.at}>
          <dt>{`${capital(asked.spec.name)}${group === "" ? "" : ` (${group})`}`}</dt>
          <dd>{given === undefined ? <span className="quiet">no answer yet</span> : capital(answerWords(asked, given))}</dd>
          <dd className="no-print">
            <a href={at}>
              {given === undefined ? "Answer" : "Change"}
              <span className="unseen">{` ${step.title}: ${asked.spec.name}`}</span>
            </a>
          </dd>
        </div>
      );
    })}
  </dl>
);

const Check = async ({ params }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/check", visit);
  const { draft } = openVisit(stored);
  const steps = stepsOf(draft, office.planner.rulebook).filter(({ state }) => state !== "nothing to ask");
  const aside = setAsideIn(draft, office.planner.rulebook);
  return (
    <Page
      title="Check answers"
      person={person}
      token={token}
      visit={barOf(stored, "check")}
      back={{ href: `/visits/${visit}`, words: "Back to the parts" }}
    >
      <TypedNote visit={visit} pages={await typedTitles(office, stored, person.id)} />
      <p>Nothing is sent from here. What has no answer, or is not known yet, is asked of the vessel where it matters.</p>
      <p className="acts">
        <a className="button" href={`/visits/${visit}/board`}>
          Go on to the board
        </a>
        <a className="button second" href={`/visits/${visit}/letter`}>
          Go on to the letter
        </a>
      </p>
      {steps.map((step) => (
        <section key={step.path}>
          <h2>{step.set === null ? step.title : `${String(valueAt(draft.frame, `/sets/${step.set}/name`))}: ${step.title}`}</h2>
          <Answers step={step} draft={draft} visit={visit} />
        </section>
      ))}
      {aside.length === 0 ? null : (
        <section>
          <h2>Set aside</h2>
          <p>These answers do not apply as things stand; they count again as soon as they do.</p>
          <ul>
            {aside.map(({ at, name, answer }) => (
              <li key={at}>{`${name}: ${answer}`}</li>
            ))}
          </ul>
        </section>
      )}
    </Page>
  );
};

export default Check;
