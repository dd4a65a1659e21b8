import { ErrorSummary, Hidden, NewPasswordField } from "../form/Fields.tsx";

interface Props {
  readonly token: string;
  readonly code: string;
  readonly name: string;
  readonly email: string;
  readonly problem?: string | undefined;
}

/** Sets another password of somebody who has an account. */
export const PasswordForm = ({ token, code, name, email, problem }: Props) => (
  <form method="post" action="/join/password" noValidate>
    <ErrorSummary faults={problem === undefined ? [] : [{ id: "password", says: problem }]} />
    <Hidden values={{ token, code }} />
    <p>{`For ${name}, who signs in as ${email}. Every sign-in from before ends with it.`}</p>
    <NewPasswordField id="password" label="New password" fault={problem} />
    <button type="submit">Set the password</button>
  </form>
);
