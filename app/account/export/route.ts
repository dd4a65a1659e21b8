import { admitPerson, missing } from "../../_server/gate.ts";
import { personCopy } from "../../_server/personCopy.ts";

/** Everything that is kept about who is signed in. */
export const GET = async (): Promise<Response> => {
  const { office, person } = await admitPerson("GET /account/export");
  const found = await office.privacy.find(person.id);
  return found !== null && "one" in found ? personCopy(office, found.one, person.id) : missing();
};
