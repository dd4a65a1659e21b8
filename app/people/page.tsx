import { ChoiceField, ErrorSummary, Hidden } from "../../components/form/Fields.tsx";
import { Page } from "../../components/frame/Page.tsx";
import { Scroll } from "../../components/frame/Scroll.tsx";
import { OpenLinks } from "../../components/people/OpenLinks.tsx";
import { ToldLink } from "../../components/people/ToldLink.tsx";
import { lastsOn } from "../../lib/access/absence.ts";
import { CONSOLE, linkName } from "../../lib/access/invitation.ts";
import { longDate } from "../../lib/letter/words.ts";
import { takeOnce } from "../../lib/usecases/toldOnce.ts";
import { admitPerson, saidIn } from "../_server/gate.ts";
import { instant } from "../_server/words.ts";

type Props = { readonly searchParams: Promise<Readonly<Record<string, string | undefined>>> };

const People = async ({ searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /people");
  const today = office.world.now().slice(0, 10);
  const query = await searchParams;
  const [people, visits, absences, links] = await Promise.all([
    office.accounts.people(),
    office.store.openVisits(today),
    office.store.absencesFrom(today),
    office.accounts.openInvitations(office.clock()),
  ]);
  const { done, problem } = saidIn(office, query);
  // The link is shown to whoever made it, once.
  const code = await takeOnce(office, query["link"], person.id);
  const nameOf = (id: string): string => people.find((one) => one.id === id)?.name ?? (id === CONSOLE ? "the console" : "somebody");
  const awayWords = (id: string): string => {
    const now = absences.find((one) => one.person === id && lastsOn(one, today));
    if (now !== undefined) return `until ${longDate(now.to)}; ${nameOf(now.standsIn)} stands in`;
    const next = absences.find((one) => one.person === id);
    return next === undefined ? "no" : `not yet; from ${longDate(next.from)}`;
  };
  const ended = people.flatMap((one) => (one.ended === undefined ? [] : [{ ...one, ended: one.ended }]));
  return (
    <Page title="People" person={person} token={token} back={{ href: "/visits", words: "All visits" }} wide>
      <ErrorSummary faults={problem === undefined ? [] : [{ id: "", says: problem }]} />
      {done === undefined ? null : (
        <p className="note" role="status">
          {done}
        </p>
      )}
      {query["link"] === undefined ? null : (
        <ToldLink url={office.url} code={code} does="makes one account, once, within a week" withdrawn="below" />
      )}
      <Scroll label="People of the office">
        <table className="cards">
          <thead>
            <tr>
              <th scope="col">Name</th>
              <th scope="col">E-mail address</th>
              <th scope="col">Role</th>
              <th scope="col" className="number">
                Open visits
              </th>
              <th scope="col">Away</th>
              <th scope="col">Since</th>
            </tr>
          </thead>
          <tbody>
            {people
              .filter((one) => one.ended === undefined)
              .map(({ id, name, email, role, since }) => (
                <tr key={id}>
                  <th scope="row">
                    <a href={`/people/${id}`}>{name}</a>
                  </th>
                  <td data-label="E-mail address">{email}</td>
                  <td data-label="Role">{role}</td>
                  <td data-label="Open visits" className="number">
                    {visits.filter(({ owner }) => owner === id).length}
                  </td>
                  <td data-label="Away">{awayWords(id)}</td>
                  <td data-label="Since">{longDate(since.slice(0, 10))}</td>
                </tr>
              ))}
          </tbody>
        </table>
      </Scroll>
      <h2>Invite somebody</h2>
      <form method="post" action="/people/invite">
        <Hidden values={{ token }} />
        <ChoiceField
          id="role"
          label="Role"
          value="inspector"
          choices={[
            { value: "inspector", label: "Inspector: prepares his own visits" },
            { value: "supervisor", label: "Supervisor: sees every visit, invites people, reads the log" },
          ]}
        />
        <button type="submit" className="second">
          Make a link
        </button>
      </form>
      <OpenLinks
        token={token}
        links={links.map(({ id, role, forPerson, invitedBy, made, until }) => ({
          id,
          opens: forPerson === null ? `an account, ${role}` : `the password of ${nameOf(forPerson)}`,
          name: linkName(id),
          madeBy: nameOf(invitedBy),
          made: instant(made),
          until: instant(until),
        }))}
      />
      {ended.length === 0 ? null : (
        <>
          <h2>Accounts that have ended</h2>
          <p>
            What they did stays readable under their names, in records and in the log, unless they are erased:{" "}
            <a href="/privacy">what is kept about people</a>.
          </p>
          <Scroll label="Accounts that have ended">
            <table className="cards">
              <thead>
                <tr>
                  <th scope="col">Name</th>
                  <th scope="col">E-mail address</th>
                  <th scope="col">Role</th>
                  <th scope="col">Since</th>
                  <th scope="col">Ended</th>
                </tr>
              </thead>
              <tbody>
                {ended.map(({ id, name, email, role, since, ended: { who, when } }) => (
                  <tr key={id}>
                    <th scope="row">
                      <a href={`/people/${id}`}>{name}</a>
                    </th>
                    <td data-label="E-mail address">{email}</td>
                    <td data-label="Role">{role}</td>
                    <td data-label="Since">{longDate(since.slice(0, 10))}</td>
                    <td data-label="Ended">{`on ${instant(when)} by ${nameOf(who)}`}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </Scroll>
        </>
      )}
    </Page>
  );
};

export default People;
