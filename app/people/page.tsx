import { ChoiceField, ErrorSummary, Hidden } from "../../components/form/Fields.tsx";
import { Page } from "../../components/frame/Page.tsx";
import { Scroll } from "../../components/frame/Scroll.tsx";
import { admitPerson } from "../_server/gate.ts";

const People = async () => {
  const { office, person, token } = await admitPerson("GET /people");
  const people = await office.accounts.people();
  // The link is shown to whoever made it, once.
  const made = await office.store.typed("invitation", person.id);
  if (made !== null) await office.store.keepTyped("invitation", null, { who: person.id, when: office.world.now() });
  return (
    <Page title="People" person={person} token={token} back={{ href: "/visits", words: "All visits" }}>
      <ErrorSummary faults={[]} />
      {made === null ? null : (
        <div className="note" role="status">
          <p>Pass this link on to the one person it is for. It makes one account, once, within a week, and is not shown again.</p>
          <code className="code">{`${office.url}/join?code=${made.text}`}</code>
        </div>
      )}
      <Scroll label="People">
        <table>
          <thead>
            <tr>
              <th scope="col">Name</th>
              <th scope="col">E-mail address</th>
              <th scope="col">Role</th>
            </tr>
          </thead>
          <tbody>
            {people.map(({ id, name, email, role }) => (
              <tr key={id}>
                <th scope="row">{name}</th>
                <td>{email}</td>
                <td>{role}</td>
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
    </Page>
  );
};

export default People;
