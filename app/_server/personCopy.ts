import type { FoundPerson } from "../../lib/store/privacy/privacy.ts";
import type { Office } from "../../lib/usecases/office.ts";
import { copyOf } from "../../lib/usecases/privacy/copy.ts";

/** A copy of all that is kept about a person, as a file; that it was given out stands in the log. */
export const personCopy = async ({ privacy, store, world }: Office, person: FoundPerson, by: string): Promise<Response> => {
  const when = world.now();
  await store.audit({
    who: by,
    when,
    act: "copy of a person’s data",
    subject: person.sought.accounts[0] ?? "a person without an account",
    detail: "",
  });
  return new Response(copyOf(privacy, person, when), {
    headers: {
      "content-type": "application/json; charset=utf-8",
      "content-disposition": `attachment; filename="person-${when.slice(0, 10)}.json"`,
      "cache-control": "no-store",
    },
  });
};
