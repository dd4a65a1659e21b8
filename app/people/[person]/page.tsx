import { ChoiceField, ErrorSummary, Hidden } from "../../../components/form/Fields.tsx";
import { Page } from "../../../components/frame/Page.tsx";
import { Absences } from "../../../components/people/Absences.tsx";
import { LogTable } from "../../../components/people/LogTable.tsx";
import { ToldLink } from "../../../components/people/ToldLink.tsx";
import { longDate } from "../../../lib/letter/words.ts";
import { takeOnce } from "../../../lib/usecases/toldOnce.ts";
import { typedAbsence } from "../../_server/absenceForm.ts";
import { admitPerson, missing, saidIn } from "../../_server/gate.ts";
import { logLines } from "../../_server/logWords.ts";
import { instant } from "../../_server/words.ts";

interface Props {
  readonly params: Promise<{ readonly person: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
}

const LATEST = 20;

const daysOf = ({ begins, ends }: { readonly begins: string | null; readonly ends: string | null }): string =>
  begins === null ? "no day told yet" : ends === null || ends === begins ? longDate(begins) : `${longDate(begins)} to ${longDate(ends)}`;

const PersonPage = async ({ params, searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /people/[person]");
  const { person: id } = await params;
  const people = await office.accounts.people();
  const member = people.find((one) => one.id === id);
  if (member === undefined) return missing();
  const query = await searchParams;
  const { problem, field = "", done, typed } = saidIn(office, query);
  const today = office.world.now().slice(0, 10);
  const [visits, absences, entries] = await Promise.all([
    office.store.openVisits(today, id),
    office.store.absencesFrom(today),
    office.store.auditedWhere({ person: id, limit: LATEST }),
  ]);
  const nameOf = (one: string): string => people.find((other) => other.id === one)?.name ?? "somebody";
  const others = people.filter((one) => one.id !== id && one.ended === undefined);
  const faultAt = (one: string): string | undefined => (field === one ? problem : undefined);
  const { name, email, role, since, ended, version } = member;
  const action = (act: string): string => `/people/${id}/${act}`;
  const hidden = { token, seen: String(version) };
  const absenceField = ["from", "to", "standsIn"].includes(field);
  const handing = absenceField ? [] : (typed ?? "").split("\n");
  const theirs = absences.filter(({ standsIn }) => standsIn === id);
  const choose = [
    { value: "", label: "Choose somebody" },
    ...others.map((one) => {
      const away = absences.find((absence) => absence.person === one.id && absence.from <= today);
      return { value: one.id, label: `${one.name}, ${one.role}${away === undefined ? "" : `, away until ${longDate(away.to)}`}` };
    }),
  ];
  return (
    <Page
      title={name}
      caption="Person of the office"
      person={person}
      token={token}
      back={{ href: "/people", words: "All people" }}
      errors={problem !== undefined}
      wide
    >
      <ErrorSummary faults={problem === undefined ? [] : [{ id: field, says: problem }]} />
      {done === undefined ? null : (
        <p className="note" role="status">
          {done}
        </p>
      )}
      {query["link"] === undefined ? null : (
        <ToldLink
          url={office.url}
          code={await takeOnce(office, query["link"], person.id)}
          does={`sets another password of ${name} once, within a day`}
          withdrawn="under “People”"
        />
      )}
      <dl className="pairs">
        <div>
          <dt>E-mail address</dt>
          <dd>{email}</dd>
        </div>
        <div>
          <dt>Role</dt>
          <dd>{role}</dd>
        </div>
        <div>
          <dt>Account since</dt>
          <dd>{longDate(since.slice(0, 10))}</dd>
        </div>
        {ended === undefined ? null : (
          <div>
            <dt>Account ended</dt>
            <dd>{`on ${instant(ended.when)} by ${nameOf(ended.who)}`}</dd>
          </div>
        )}
        {theirs.map((one) => (
          <div key={one.id}>
            <dt>{`Stands in for ${nameOf(one.person)}`}</dt>
            <dd>{`${longDate(one.from)} to ${longDate(one.to)}`}</dd>
          </div>
        ))}
      </dl>
      <p>
        <a href={`/privacy/person?who=${id}`}>What is kept about this person</a>
      </p>
      <h2 id="hand-over">Open visits</h2>
      {visits.length === 0 ? (
        <p>None. A visit is open until its exchange has ended or its last day is past.</p>
      ) : (
        <form method="post" action={action("hand-over")} noValidate>
          <Hidden values={{ token }} />
          <fieldset className="group" id="visits">
            <legend>Which of them are handed over</legend>
            {faultAt("visits") === undefined ? null : <p className="fault">{problem}</p>}
            {visits.map((visit) => (
              <div key={visit.id} className="option row">
                <input type="checkbox" id={`v-${visit.id}`} name="visit" value={visit.id} defaultChecked={handing.includes(visit.id)} />
                <label htmlFor={`v-${visit.id}`}>
                  {`${visit.vessel === "" ? "Vessel not named yet" : visit.vessel}, ${daysOf(visit)}`}
                </label>
                <a
                  href={`/visits/${visit.id}`}
                  aria-label={`Open the visit of ${visit.vessel === "" ? "a vessel not named yet" : visit.vessel}`}
                >
                  Open
                </a>
              </div>
            ))}
          </fieldset>
          <ChoiceField
            id="hand-to"
            name="to"
            label="To whom, for good"
            value={handing[0] ?? ""}
            choices={choose}
            fault={faultAt("hand-to")}
          />
          <div className="acts">
            <button type="submit" className="second">
              Hand over the ticked ones
            </button>
            <button type="submit" className="second" name="all" value="yes">
              {`Hand over all ${visits.length}`}
            </button>
          </div>
        </form>
      )}
      {ended === undefined ? (
        <>
          <h2>Absence</h2>
          <Absences
            action={action("absence")}
            token={token}
            member={member}
            absences={absences.filter((one) => one.person === id)}
            others={others}
            nameOf={nameOf}
            today={today}
            typed={typedAbsence(absenceField ? typed : undefined)}
            faultAt={faultAt}
          />
          <h2>Role</h2>
          <form method="post" action={action("role")}>
            <Hidden values={hidden} />
            <ChoiceField
              id="role"
              label="Role"
              value={role}
              choices={[
                { value: "inspector", label: "Inspector: prepares his own visits" },
                { value: "supervisor", label: "Supervisor: sees every visit, invites people, reads the log" },
              ]}
              fault={faultAt("role")}
            />
            <button type="submit" className="second">
              Change the role
            </button>
          </form>
          <h2 id="password">Password</h2>
          {id === person.id ? (
            <p>
              You change your own on <a href="/account">the page of your account</a>.
            </p>
          ) : (
            <>
              <p>{`Makes a link by which ${name} sets another password where this one is forgotten; every sign-in from before then ends. A link that was made before opens nothing any more.`}</p>
              <form method="post" action={action("password")}>
                <Hidden values={{ token }} />
                <button type="submit" className="second">
                  Make a link
                </button>
              </form>
            </>
          )}
          <h2>Sign-ins</h2>
          <p>{`Ends every sign-in of ${name}, on all machines. What was typed is kept.`}</p>
          <form method="post" action={action("sign-ins")}>
            <Hidden values={{ token }} />
            <button type="submit" className="second">
              End all sign-ins
            </button>
          </form>
          <h2 id="end">End the account</h2>
          {id === person.id ? (
            <p>Nobody ends his own account; another supervisor does it.</p>
          ) : (
            <>
              <p>
                {`${name} can then sign in no more, at once. The name stays with all that was done under it, and the account can be opened again.`}
              </p>
              <form method="post" action={action("end")} noValidate>
                <Hidden values={hidden} />
                {visits.length === 0 ? null : (
                  <ChoiceField
                    id="takes-over"
                    label={`Who takes over ${visits.length === 1 ? "the open visit" : `the ${visits.length} open visits`}`}
                    value=""
                    choices={choose}
                    fault={faultAt("takes-over")}
                  />
                )}
                <button type="submit" className="second">
                  {visits.length === 0 ? "End the account" : "Hand over and end the account"}
                </button>
              </form>
            </>
          )}
        </>
      ) : (
        <>
          <h2>Open the account again</h2>
          <p>{`${name} can then sign in again, with the same password, as ${role}. Visits that were handed over stay where they are.`}</p>
          <form method="post" action={action("end")}>
            <Hidden values={{ ...hidden, act: "open" }} />
            <button type="submit" className="second">
              Open it again
            </button>
          </form>
        </>
      )}
      <h2>In the log</h2>
      {entries.length === 0 ? <p>Nothing yet.</p> : <LogTable lines={await logLines(office, entries)} />}
      <p>
        <a href={`/log?who=${id}`}>{`All of the log by or about ${name}`}</a>
      </p>
    </Page>
  );
};

export default PersonPage;
