import { redirect } from "next/navigation";
import { ErrorSummary, Hidden, TextField } from "../../components/form/Fields.tsx";
import { Page } from "../../components/frame/Page.tsx";
import { admit, ownPath, saidIn } from "../_server/gate.ts";

type Props = { readonly searchParams: Promise<Readonly<Record<string, string | undefined>>> };

const SignIn = async ({ searchParams }: Props) => {
  const { office, person, token } = await admit("GET /sign-in");
  const query = await searchParams;
  const { back = "/visits", email, out } = query;
  const { problem, done } = saidIn(office, query);
  if (person !== null) redirect(ownPath(back));
  return (
    <Page title="Sign in" person={null} token={token} errors={problem !== undefined}>
      {out === undefined ? null : (
        <p className="note">
          You were signed out before this could be saved. Sign in again: what you typed is kept and stands where you left it.
        </p>
      )}
      {done === undefined ? null : (
        <p className="note" role="status">
          {done}
        </p>
      )}
      <form method="post" action="/sign-in/enter" noValidate>
        <ErrorSummary faults={problem === undefined ? [] : [{ id: "email", says: problem }]} />
        <Hidden values={{ token, back: ownPath(back) }} />
        <TextField id="email" label="E-mail address" type="email" value={email ?? ""} autoComplete="username" />
        <TextField id="password" label="Password" type="password" autoComplete="current-password" />
        <button type="submit">Sign in</button>
      </form>
      <p className="quiet">
        No account, or a password that is forgotten? Your supervisor makes you a link. The vessel needs none: it answers the letter.
      </p>
    </Page>
  );
};

export default SignIn;
