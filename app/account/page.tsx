import { Hidden } from "../../components/form/Fields.tsx";
import { Page } from "../../components/frame/Page.tsx";
import { admitPerson } from "../_server/gate.ts";

const Account = async () => {
  const { person, token } = await admitPerson("GET /account");
  return (
    <Page title="Your account" person={person} token={token} back={{ href: "/visits", words: "All visits" }}>
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
      </dl>
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
