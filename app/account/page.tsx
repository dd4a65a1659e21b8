import { ErrorSummary, Hidden, NewPasswordField, TextField } from "../../components/form/Fields.tsx";
import { Page } from "../../components/frame/Page.tsx";
import { Absences } from "../../components/people/Absences.tsx";
import { longDate } from "../../lib/letter/words.ts";
import { typedAbsence } from "../_server/absenceForm.ts";
import { admitPerson, saidIn } from "../_server/gate.ts";

type Props = { readonly searchParams: Promise<Readonly<Record<string, string | undefined>>> };

const Account = async ({ searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /account");
  const { problem, field = "present", done, typed } = saidIn(office, await searchParams);
  const today = office.world.now().slice(0, 10);
  const people = await office.accounts.people();
  const member = people.find(({ id }) => id === person.id);
  const absences = await office.store.absencesFrom(today);
  const nameOf = (id: string): string => people.find((one) => one.id === id)?.name ?? "somebody";
  const theirs = absences.filter(({ standsIn }) => standsIn === person.id);
  const faultAt = (id: string): string | undefined => (field === id ? problem : undefined);
  return (
    <Page title="Your account" person={person} token={token} back={{ href: "/visits", words: "All visits" }} errors={problem !== undefined}>
      <ErrorSummary faults={problem === undefined ? [] : [{ id: field, says: problem }]} />
      {done === undefined ? null : (
        <p className="note" role="status">
          {done}
        </p>
      )}
      <dl className="pairs">
        <div>
          <dt>Name</dt>
          <dd>{person.name}</dd>
        </div>
        <div>
          <dt>E-mail address</dt>
          <dd>{person.email}</dd>
        </div>
        <div>
          <dt>Role</dt>
          <dd>{person.role}</dd>
        </div>
        {theirs.map(({ id, person: away, from, to }) => (
          <div key={id}>
            <dt>{`You stand in for ${nameOf(away)}`}</dt>
            <dd>{`${longDate(from)} to ${longDate(to)}`}</dd>
          </div>
        ))}
      </dl>
      {member === undefined ? null : (
        <>
          <h2>Absence</h2>
          <Absences
            action="/account/absence"
            token={token}
            member={member}
            absences={absences.filter((one) => one.person === person.id)}
            others={people.filter((one) => one.id !== person.id && one.ended === undefined)}
            nameOf={nameOf}
            today={today}
            typed={typedAbsence(typed)}
            faultAt={faultAt}
          />
        </>
      )}
      <h2>Another password</h2>
      <form method="post" action="/account/password" noValidate>
        <Hidden values={{ token }} />
        <TextField id="present" label="Present password" type="password" autoComplete="current-password" fault={faultAt("present")} />
        <NewPasswordField id="next" label="New password" fault={faultAt("next")} />
        <TextField id="again" label="The new password once more" type="password" autoComplete="new-password" fault={faultAt("again")} />
        <button type="submit">Change the password</button>
      </form>
      <h2>What is kept about you</h2>
      <p>
        <a href="/account/export">Load a copy of all of it (JSON)</a>, or read{" "}
        <a href="/privacy">what is kept about people, why and how long</a>.
      </p>
      <h2>Sign out everywhere</h2>
      <p>Ends every sign-in of yours, on this and on all other machines. What you typed is kept.</p>
      <form method="post" action="/sign-out">
        <Hidden values={{ token, everywhere: "yes" }} />
        <button type="submit" className="second">
          Sign out everywhere
        </button>
      </form>
    </Page>
  );
};

export default Account;
