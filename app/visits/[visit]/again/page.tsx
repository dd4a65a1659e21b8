import { ErrorSummary, Hidden } from "../../../../components/form/Fields.tsx";
import { Page } from "../../../../components/frame/Page.tsx";
import { formerAnswers } from "../../../../lib/usecases/visits/again.ts";
import { admitToVisit, saidIn } from "../../../_server/gate.ts";
import { barOf } from "../../../_server/words.ts";

type Props = {
  readonly params: Promise<{ readonly visit: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
};

const Again = async ({ params, searchParams }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/again", visit);
  const answers = formerAnswers(stored, office.planner.rulebook);
  const { problem } = saidIn(office, await searchParams);
  const places = [...new Set(answers.map(({ where }) => where))];
  return (
    <Page
      title="Start another visit of this vessel"
      person={person}
      token={token}
      visit={barOf(stored, "none")}
      back={{ href: `/visits/${visit}`, words: "Back to the parts" }}
      errors={problem !== undefined}
    >
      <ErrorSummary faults={problem === undefined ? [] : [{ id: "looked", says: problem }]} />
      <p>
        The machinery is taken over from this visit. Untick what may have changed since: it is then open again and asked of the vessel. What
        belongs to the day (place, days, support, loads, defects, approvals) is not taken over.
      </p>
      <form method="post" action={`/visits/${visit}/again/create`}>
        <Hidden values={{ token, id: office.world.newId() }} />
        {answers.length === 0 ? <p>No answer about the machinery was given in this visit; only vessel and sets are taken over.</p> : null}
        {places.map((place) => (
          <fieldset className="group" key={place}>
            <legend>
              <h2>{`${place}: still holds`}</h2>
            </legend>
            <div>
              {answers
                .filter(({ where }) => where === place)
                .map(({ at, name, answer }) => (
                  <div className="option row" key={at}>
                    <input type="checkbox" id={`holds${at}`} name="holds" value={at} defaultChecked />
                    <label htmlFor={`holds${at}`}>
                      {`${name}: `}
                      <strong>{answer}</strong>
                    </label>
                  </div>
                ))}
            </div>
          </fieldset>
        ))}
        {answers.length === 0 ? null : (
          <div className="option row">
            <input type="checkbox" id="looked" name="looked" value="yes" required />
            <label htmlFor="looked">I have looked through the list: what is ticked still holds</label>
          </div>
        )}
        <button type="submit">Start the new visit</button>
      </form>
    </Page>
  );
};

export default Again;
