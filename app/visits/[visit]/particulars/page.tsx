import { Page } from "../../../../components/frame/Page.tsx";
import { ParticularsForm } from "../../../../components/visits/ParticularsForm.tsx";
import { besideRecord, textsOf } from "../../../../lib/usecases/visits/particulars.ts";
import { coreFiles } from "../../../_server/core.ts";
import { admitToVisit } from "../../../_server/gate.ts";
import { readKept } from "../../../_server/particularsForm.ts";
import { barOf } from "../../../_server/words.ts";

type Props = { readonly params: Promise<{ readonly visit: string }> };

const Particulars = async ({ params }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/particulars", visit);
  const kept = readKept((await office.store.typed(`${visit} particulars`, person.id))?.text);
  const now = textsOf(stored.frame as object);
  const { texts, theirs } = besideRecord(now, kept ?? { texts: now, was: now });
  const { keep } = await coreFiles();
  return (
    <Page
      title="Vessel, place, days and people"
      person={person}
      token={token}
      visit={barOf(stored, "parts")}
      back={{ href: `/visits/${visit}`, words: "Back to the parts" }}
      errors={(kept?.faults ?? []).length > 0 || Object.keys(theirs).length > 0}
    >
      <ParticularsForm
        action={`/visits/${visit}/particulars/save`}
        script={`/core/${keep.name}`}
        hidden={{ token, was: JSON.stringify(now) }}
        texts={texts}
        faults={kept?.faults ?? []}
        theirs={theirs}
        sets={null}
        button="Save and continue"
      />
    </Page>
  );
};

export default Particulars;
