import { Page } from "../../../../components/frame/Page.tsx";
import { ParticularsForm } from "../../../../components/visits/ParticularsForm.tsx";
import { textsOf } from "../../../../lib/usecases/visits/particulars.ts";
import { admitToVisit } from "../../../_server/gate.ts";
import { readKept } from "../../../_server/particularsForm.ts";
import { barOf } from "../../../_server/words.ts";

type Props = { readonly params: Promise<{ readonly visit: string }> };

const Particulars = async ({ params }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/particulars", visit);
  const kept = readKept((await office.store.typed(`${visit} particulars`, person.id))?.text);
  const now = textsOf(stored.frame as object);
  const typed = kept?.texts ?? now;
  const changed = kept !== null && kept.seen < stored.frameVersion;
  const theirs = Object.fromEntries(Object.entries(now).filter(([at, text]) => changed && text !== (typed[at] ?? "").trim()));
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
        hidden={{ token, seen: String(stored.frameVersion) }}
        texts={typed}
        faults={kept?.faults ?? []}
        theirs={theirs}
        sets={null}
        button="Save and continue"
      />
    </Page>
  );
};

export default Particulars;
