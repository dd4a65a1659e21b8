import { Page } from "../../../components/frame/Page.tsx";
import { ParticularsForm } from "../../../components/visits/ParticularsForm.tsx";
import { valueAt } from "../../../lib/model/fault.ts";
import { policyNow } from "../../../lib/usecases/policy/inForce.ts";
import { textsOf } from "../../../lib/usecases/visits/particulars.ts";
import { coreFiles } from "../../_server/core.ts";
import { admitPerson } from "../../_server/gate.ts";
import { readKept } from "../../_server/particularsForm.ts";

const NewVisit = async () => {
  const { office, person, token } = await admitPerson("GET /visits/new");
  const kept = readKept((await office.store.typed("new visit", person.id))?.text);
  // Who writes is told by the office's policy; where none was adopted, it is the same as in the last visit, as a rule.
  const [last] = await office.store.listVisits({ owner: person.id, limit: 1 });
  const inForce = await policyNow(office);
  const policy = inForce.number > 0 ? inForce.policy.plan : (valueAt(last?.frame, "/policy") ?? { paper: "A4" });
  const writer = { people: [{ name: person.name, role: "inspector", side: "office", contact: person.email }] };
  const usual = textsOf({ preparedOn: office.world.now().slice(0, 10), policy, visit: writer });
  const { keep } = await coreFiles();
  return (
    <Page
      title="Prepare a new visit"
      person={person}
      token={token}
      back={{ href: "/visits", words: "Back to all visits" }}
      errors={(kept?.faults ?? []).length > 0}
    >
      <p>
        Everything may be left open and told later. A whole visit takes about a quarter of an hour with the drawings at hand; every page is
        kept as you leave it, so it can be done in pieces.
      </p>
      <ParticularsForm
        action="/visits/create"
        hidden={{ token, id: office.world.newId() }}
        texts={kept?.texts ?? usual}
        faults={kept?.faults ?? []}
        theirs={{}}
        script={`/core/${keep.name}`}
        sets={kept?.sets ?? "Generator 1\nGenerator 2"}
        alike={kept?.alike ?? "no"}
        button="Save and go on to the parts"
      />
    </Page>
  );
};

export default NewVisit;
