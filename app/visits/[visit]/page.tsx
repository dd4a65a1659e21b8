import { Page } from "../../../components/frame/Page.tsx";
import { PlanPanel } from "../../../components/plan/PlanPanel.tsx";
import { OtherPolicy } from "../../../components/policy/OtherPolicy.tsx";
import { type Step, stepsOf } from "../../../lib/flow/steps.ts";
import { valueAt } from "../../../lib/model/fault.ts";
import { listAnd } from "../../../lib/plan/say.ts";
import type { StoredVisit } from "../../../lib/store/store.ts";
import { policyNow } from "../../../lib/usecases/policy/inForce.ts";
import { missingWords } from "../../../lib/usecases/visits/particulars.ts";
import { typedPages } from "../../../lib/usecases/visits/typed.ts";
import { openVisit } from "../../../lib/usecases/visits/visitDraft.ts";
import { otherPolicy } from "../../../lib/usecases/visits/visitPolicy.ts";
import { admitToVisit } from "../../_server/gate.ts";
import { barOf, instant, namesIn } from "../../_server/words.ts";

type Props = { readonly params: Promise<{ readonly visit: string }> };

const STATES: Readonly<Record<Step["state"], string>> = {
  "nothing to ask": "nothing to ask",
  "not started": "not begun",
  "in part": "in part",
  answered: "answered",
};

interface PartProps {
  readonly visit: string;
  readonly step: Step;
  /** How many fields of it stand typed that are no answers yet. */
  readonly typed: number;
}

const Part = ({ visit, step, typed }: PartProps) => {
  const open = step.asked.filter(({ state }) => state === "open").length;
  const unknown = step.asked.filter(({ state }) => state === "not known").length;
  const more = [
    ...(open > 0 && open < step.asked.length ? [`${open} of ${step.asked.length} open`] : []),
    ...(unknown > 0 ? [`${unknown} not known yet`] : []),
    ...(typed > 0 ? [`${typed} typed, but not taken as an answer`] : []),
  ];
  return (
    <li>
      <a href={`/visits/${visit}/ask/${step.path}`}>{step.title}</a>
      <span className={`state ${step.state.replaceAll(" ", "-")}`}>{[STATES[step.state], ...more].join(", ")}</span>
    </li>
  );
};

interface PartsProps {
  readonly visit: string;
  readonly steps: readonly Step[];
  readonly typed: ReadonlyMap<string, number>;
}

const Parts = ({ visit, steps, typed }: PartsProps) => (
  <ol className="parts">
    {steps
      .filter(({ state }) => state !== "nothing to ask")
      .map((step) => (
        <Part key={step.path} visit={visit} step={step} typed={typed.get(step.path) ?? 0} />
      ))}
  </ol>
);

/** Which other sets are of the same make and type, so that one service engineer, tool and spare serve them all. */
const sistersWords = ({ sets, frame }: StoredVisit, set: number): string => {
  const letterOf = (place: number): unknown => valueAt(frame, `/sets/${place}/sisters`) ?? "A";
  const names = sets.flatMap((_, place) =>
    place !== set && letterOf(place) === letterOf(set) ? [String(valueAt(frame, `/sets/${place}/name`) ?? `Set ${place + 1}`)] : [],
  );
  return names.length === 0 ? "No sister set told" : `Of one make and type with ${listAnd(names)}`;
};

const VisitPage = async ({ params }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]", visit);
  const { draft } = openVisit(stored);
  const steps = stepsOf(draft, office.planner.rulebook);
  const nameOf = await namesIn(office);
  const [handed] = await office.store.auditedWhere({ subject: visit, act: "handed over", limit: 1 });
  const typed = await typedPages(office.store, stored, person.id);
  const missing = missingWords(stored);
  const inForce = await policyNow(office);
  const first = steps.find(({ state }) => state === "not started" || state === "in part");
  return (
    <Page
      title="Parts of this visit"
      person={person}
      token={token}
      visit={barOf(stored, "parts")}
      back={{ href: "/visits", words: "All visits" }}
      wide
    >
      <div className="beside">
        <div>
          <p className="quiet">{`Last changed ${instant(stored.changedAt)} by ${nameOf(stored.changedBy)}.`}</p>
          <OtherPolicy visit={visit} policy={inForce.number} changes={otherPolicy(stored, inForce, office.planner.rulebook)} />
          {stored.owner === person.id && handed === undefined ? null : (
            <p className="quiet">
              {`The inspector of this visit is ${nameOf(stored.owner)}.${handed === undefined ? "" : ` Handed over ${handed.detail} on ${instant(handed.when)} by ${nameOf(handed.who)}.`} `}
              {person.role === "supervisor" ? <a href={`/people/${stored.owner}#hand-over`}>Hand it over</a> : null}
            </p>
          )}
          <p>Do the parts in any order, in pieces; “not known yet” is an answer, and what matters is then asked of the vessel.</p>
          {first === undefined ? null : (
            <p>
              <a className="button" href={`/visits/${visit}/ask/${first.path}`}>
                {`Go on: ${first.set === null ? "" : `${String(valueAt(draft.frame, `/sets/${first.set}/name`))}, `}${first.title}`}
              </a>
            </p>
          )}
          <h2>Visit and vessel</h2>
          <ol className="parts">
            <li>
              <a href={`/visits/${visit}/particulars`}>Vessel, place, days and people</a>
              <span className={missing.length === 0 ? "state answered" : "state in-part"}>
                {missing.length > 0
                  ? `to be told before a letter: ${missing.join(", ")}`
                  : valueAt(stored.frame, "/policy/office/contact") === undefined
                    ? "answered, but no contact of your office: the vessel would not know where to answer"
                    : "answered"}
              </span>
            </li>
          </ol>
          <Parts visit={visit} typed={typed} steps={steps.filter(({ path }) => path === "rules")} />
          <h2>Generating sets</h2>
          <ol className="parts">
            <li>
              <a href={`/visits/${visit}/sets`}>Add, copy, rename or take out sets</a>
              <span className="state">{`${stored.sets.length} ${stored.sets.length === 1 ? "set" : "sets"}`}</span>
            </li>
          </ol>
          {stored.sets.map((id, set) => (
            <section key={id}>
              <h3>{String(valueAt(draft.frame, `/sets/${set}/name`) ?? `Set ${set + 1}`)}</h3>
              <p className="quiet">{sistersWords(stored, set)}</p>
              <Parts visit={visit} typed={typed} steps={steps.filter((step) => step.set === set)} />
            </section>
          ))}
          <h2>Plant and support</h2>
          <Parts visit={visit} typed={typed} steps={steps.filter(({ path }) => path === "plant" || path === "support")} />
          <h2>Then</h2>
          <ol className="parts">
            <li>
              <a href={`/visits/${visit}/check`}>Check answers</a>
              <span className="state" />
            </li>
            <li>
              <a href={`/visits/${visit}/board`}>See the board</a>
              <span className="state" />
            </li>
            <li>
              <a href={`/visits/${visit}/review`}>Ask for review</a>
              <span className="state">a supervisor sees the plan before its letter goes out</span>
            </li>
            <li>
              <a href={`/visits/${visit}/letter`}>Preview, make and send the letter</a>
              <span className="state" />
            </li>
            <li>
              <a href={`/visits/${visit}/exchange`}>Exchange with the vessel</a>
              <span className="state">letters sent, links, replies</span>
            </li>
            <li>
              <a href={`/visits/${visit}/results`}>Enter the results aboard</a>
              <span className="state">what became of each test</span>
            </li>
            <li>
              <a href={`/visits/${visit}/file`}>Save the visit file</a>
              <span className="state">for the command line, or another office</span>
            </li>
            <li>
              <a href={`/visits/${visit}/again`}>Start another visit of this vessel from this one</a>
              <span className="state" />
            </li>
          </ol>
        </div>
        <aside aria-label="The plan so far">
          <PlanPanel preview={office.preview(stored)} visit={visit} set={null} kind="" />
        </aside>
      </div>
    </Page>
  );
};

export default VisitPage;
