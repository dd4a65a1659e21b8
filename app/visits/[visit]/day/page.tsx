import { DayPlanner } from "../../../../components/day/DayPlanner.tsx";
import { Page } from "../../../../components/frame/Page.tsx";
import { messageOf } from "../../../../lib/model/fault.ts";
import { dayOfVisit } from "../../../../lib/usecases/visits/day.ts";
import { missingWords } from "../../../../lib/usecases/visits/particulars.ts";
import { coreFiles } from "../../../_server/core.ts";
import { readKeptDay } from "../../../_server/dayForm.ts";
import { admitToVisit } from "../../../_server/gate.ts";
import { barOf } from "../../../_server/words.ts";

type Props = { readonly params: Promise<{ readonly visit: string }> };

const DayPage = async ({ params }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/day", visit);
  const day = dayOfVisit(stored, office.planner);
  const frame = {
    title: "Order of the day",
    person,
    token,
    visit: barOf(stored, "day"),
    back: { href: `/visits/${visit}`, words: "Back to the parts" },
    wide: true,
  };
  const missing = missingWords(stored);
  if (!day.ok)
    return (
      <Page {...frame}>
        <p>The day cannot be put in order yet.</p>
        <ul>
          {(missing.length > 0 ? missing.map((what) => `Not told yet: ${what}`) : day.faults.map(messageOf)).map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
        <p>
          <a href={`/visits/${visit}/particulars`}>Vessel, place, days and people</a>
        </p>
      </Page>
    );
  const { setup, texts, input } = day.value;
  const kept = readKeptDay((await office.store.typed(`${visit} day`, person.id))?.text);
  return (
    <Page {...frame} errors={(kept?.faults ?? []).length > 0}>
      <p className="quiet">
        As the plan stands now; it is worked out anew with every answer. The ship’s people perform, the inspector witnesses; whoever is on
        board may stop the work and change the order.
      </p>
      <p>
        <a href={`/visits/${visit}/lists/sheets.pdf`}>Sheets to carry aboard (PDF)</a>
      </p>
      <DayPlanner
        action={`/visits/${visit}/day/save`}
        hidden={{ token, was: JSON.stringify(texts) }}
        setup={setup}
        plan={await office.days.dayOf(setup)}
        texts={kept?.texts ?? texts}
        faults={kept?.faults ?? []}
        wake={`/core/${(await coreFiles()).wake.name}`}
        first={input.read.visit.visit.window.from}
      />
    </Page>
  );
};

export default DayPage;
