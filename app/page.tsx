import { redirect } from "next/navigation";
import { admit } from "./_server/gate.ts";

const Home = async () => {
  const { office, person } = await admit("GET /");
  if (person !== null) redirect("/visits");
  redirect((await office.accounts.isEmpty()) ? "/set-up" : "/sign-in");
};

export default Home;
