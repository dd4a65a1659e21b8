import { see, textIn, writeOfPerson } from "../_server/gate.ts";

export const POST = writeOfPerson("POST /sign-out", async ({ form, office, request, log, person }) => {
  const everywhere = textIn(form, "everywhere") === "yes";
  const cookies = await office.accounts.signOut(request.headers, everywhere);
  await log(everywhere ? "signed out everywhere" : "signed out", person.id);
  return see("/sign-in", cookies);
});
