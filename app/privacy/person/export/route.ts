import { admitPerson, missing } from "../../../_server/gate.ts";
import { personCopy } from "../../../_server/personCopy.ts";

/** Everything that is kept about one person. */
export const GET = async (request: Request): Promise<Response> => {
  const { office, person } = await admitPerson("GET /privacy/person/export");
  const found = await office.privacy.find(new URL(request.url).searchParams.get("who") ?? "");
  return found !== null && "one" in found ? personCopy(office, found.one, person.id) : missing();
};
