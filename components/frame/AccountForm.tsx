import { ErrorSummary, Hidden, NewPasswordField, TextField } from "../form/Fields.tsx";

interface Props {
  readonly action: string;
  readonly token: string;
  /** The code of a link; null where it is to be typed from the console. */
  readonly code: string | null;
  readonly problem?: string | undefined;
  readonly name?: string | undefined;
  readonly email?: string | undefined;
  readonly button: string;
}

/** Makes an account: name, address, password. */
export const AccountForm = ({ action, token, code, problem, name = "", email = "", button }: Props) => (
  <form method="post" action={action} noValidate>
    <ErrorSummary faults={problem === undefined ? [] : [{ id: code === null ? "code" : "name", says: problem }]} />
    <Hidden values={{ token }} />
    {code === null ? <TextField id="code" label="Code from the console" width="long" /> : <Hidden values={{ code }} />}
    <TextField id="name" label="Your name" hint="As it stands in letters" value={name} autoComplete="name" />
    <TextField id="email" label="E-mail address" hint="You sign in with it" type="email" value={email} autoComplete="username" />
    <NewPasswordField id="password" label="Password" />
    <button type="submit">{button}</button>
  </form>
);
