import { redirect } from "next/navigation";
import { AccountForm } from "../../components/frame/AccountForm.tsx";
import { Page } from "../../components/frame/Page.tsx";
import { admit, saidIn } from "../_server/gate.ts";

type Props = { readonly searchParams: Promise<Readonly<Record<string, string | undefined>>> };

const SetUp = async ({ searchParams }: Props) => {
  const { office, token } = await admit("GET /set-up");
  if (!(await office.accounts.isEmpty())) redirect("/sign-in");
  const query = await searchParams;
  const { name, email } = query;
  const { problem } = saidIn(office, query);
  return (
    <Page title="Set up this office" person={null} token={token} errors={problem !== undefined}>
      <p>
        Nobody has an account here yet. The program printed a code on its console when it started; whoever has it makes the first
        supervisor’s account, once. The supervisor then invites the others.
      </p>
      <AccountForm
        action="/set-up/create"
        token={token}
        code={null}
        problem={problem}
        name={name}
        email={email}
        button="Make the account"
      />
    </Page>
  );
};

export default SetUp;
