import { AccountForm } from "../../components/frame/AccountForm.tsx";
import { Page } from "../../components/frame/Page.tsx";
import { PasswordForm } from "../../components/frame/PasswordForm.tsx";
import { capital } from "../../lib/plan/say.ts";
import { admit, saidIn } from "../_server/gate.ts";

type Props = { readonly searchParams: Promise<Readonly<Record<string, string | undefined>>> };

const Join = async ({ searchParams }: Props) => {
  const { office, token } = await admit("GET /join");
  const query = await searchParams;
  const { code = "", name, email } = query;
  const { problem } = saidIn(office, query);
  const refused = await office.accounts.refused(code, office.clock());
  const whose = await office.accounts.whosePassword(code, office.clock());
  if (whose !== null)
    return (
      <Page title="Set another password" person={null} token={token} errors={problem !== undefined}>
        <PasswordForm token={token} code={code} name={whose.name} email={whose.email} problem={problem} />
      </Page>
    );
  return (
    <Page
      title={refused === null ? "Make your account" : "This link opens nothing"}
      person={null}
      token={token}
      errors={problem !== undefined}
    >
      {refused === null ? (
        <AccountForm action="/join/create" token={token} code={code} problem={problem} name={name} email={email} button="Make my account" />
      ) : (
        <>
          <p>{`${capital(refused)}.`}</p>
          <p>
            <a href="/sign-in">Sign in</a>
          </p>
        </>
      )}
    </Page>
  );
};

export default Join;
