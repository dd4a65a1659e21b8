import { Page } from "../../../components/frame/Page.tsx";
import { KindList, SearchForm } from "../../../components/rulebook/Contents.tsx";
import { BOOK_KINDS } from "../../../lib/rulebook/places.ts";
import { bookOf } from "../../../lib/usecases/rulebook/book.ts";
import { KIND_TITLES, things } from "../../../lib/usecases/rulebook/entries.ts";
import { admitPerson, missing } from "../../_server/gate.ts";

const Kind = async ({ params }: { readonly params: Promise<{ readonly kind: string }> }) => {
  const { office, person, token } = await admitPerson("GET /rulebook/[kind]");
  const given = (await params).kind;
  const kind = BOOK_KINDS.find((one) => one === given);
  if (kind === undefined) return missing();
  const { title, says } = KIND_TITLES[kind];
  return (
    <Page title={title} caption="Rulebook" person={person} token={token} back={{ href: "/rulebook", words: "Rulebook" }}>
      <p>{says}</p>
      <SearchForm find="" />
      <KindList kind={kind} things={things(bookOf(office.planner.rulebook))} />
    </Page>
  );
};

export default Kind;
