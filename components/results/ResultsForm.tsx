import type { ResultsView } from "../../lib/usecases/visits/resultsView.ts";
import { Hidden } from "../form/Fields.tsx";
import { type Names, TestRecord } from "./TestRecord.tsx";

interface Props extends Names {
  readonly view: ResultsView;
  readonly action: string;
  readonly token: string;
  /** The script that keeps what is typed on the device, and under which name. */
  readonly script: string;
  readonly drafts: string;
}

/** Every test of a plan with the fields of its record, in one form, so that nothing is lost where one of them is kept. */
export const ResultsForm = ({ view, action, token, script, drafts, ...names }: Props) => (
  <form method="post" action={action} noValidate data-script={script} data-drafts={drafts} className="results">
    <Hidden values={{ token }} />
    <p className="saved" role="status" data-waiting="" />
    {view.sets.map(({ name, tests }) => (
      <section key={name}>
        <h2>{name}</h2>
        {tests.length === 0 ? <p>No test is planned for this set.</p> : null}
        {tests.map((test) => (
          <TestRecord key={test.at} test={test} set={name} {...names} />
        ))}
      </section>
    ))}
  </form>
);
