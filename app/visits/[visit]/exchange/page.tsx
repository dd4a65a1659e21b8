import { LetterCard } from "../../../../components/exchange/LetterCard.tsx";
import { OnceLinks } from "../../../../components/exchange/OnceLinks.tsx";
import { Whereabouts } from "../../../../components/exchange/Whereabouts.tsx";
import { ErrorSummary } from "../../../../components/form/Fields.tsx";
import { Page } from "../../../../components/frame/Page.tsx";
import type { SentLetter } from "../../../../lib/store/exchanges.ts";
import { usualLastDay } from "../../../../lib/usecases/exchange/links.ts";
import { readKept } from "../../../../lib/usecases/exchange/loadReply.ts";
import { exchangeOf, type LetterState } from "../../../../lib/usecases/exchange/overview.ts";
import { settlementNow } from "../../../../lib/usecases/exchange/standing.ts";
import { takeOnce } from "../../../../lib/usecases/toldOnce.ts";
import { letterView, whereabouts } from "../../../_server/exchangeView.ts";
import { admitToVisit, saidIn } from "../../../_server/gate.ts";
import type { OnceLinks as Held } from "../../../_server/sendForm.ts";
import { barOf, namesIn } from "../../../_server/words.ts";

type Props = {
  readonly params: Promise<{ readonly visit: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
};

/** The letter that has taken the place of another; undefined for the last one. */
const laterThan = ({ sent }: LetterState, letters: readonly LetterState[]): SentLetter | undefined =>
  letters.findLast((one) => one.sent.number > sent.number)?.sent;

const ExchangePage = async ({ params, searchParams }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/exchange", visit);
  const query = await searchParams;
  const said = saidIn(office, query);
  const held = (await takeOnce(office, query["links"], person.id)) as unknown as Held | null;
  const letters = await exchangeOf(office.store, visit);
  const reads = new Map(
    await Promise.all(letters.map(async ({ sent }) => [sent.id, await readKept(office.store, sent, person.id)] as const)),
  );
  const known = await namesIn(office);
  // Whoever filled in a reply is no one of the office and stands there by his name.
  const nameOf = (who: string): string => (known(who) === "somebody" ? who : known(who));
  const now = await settlementNow(office.store, stored, office.planner);
  const saying = { nameOf, now: office.world.now(), usual: now === null ? "" : usualLastDay(now.plan.visit), said };
  const here = `/visits/${visit}`;
  const faults = said.problem === undefined ? [] : [{ id: said.field ?? "", says: said.problem }];
  return (
    <Page
      title="Exchange with the vessel"
      person={person}
      token={token}
      visit={barOf(stored, "exchange")}
      back={{ href: here, words: "Back to the parts" }}
      errors={faults.length > 0}
    >
      <ErrorSummary faults={faults} />
      {said.done === undefined ? null : (
        <p className="note" role="status">
          {said.done}
        </p>
      )}
      {held?.visit === visit && held.links.length > 0 ? <OnceLinks links={held.links} /> : null}
      {query["links"] !== undefined && held === null ? (
        <p className="note" role="status">
          The private links were shown already, or ten minutes have passed. Where one is lost, renew it below.
        </p>
      ) : null}
      <Whereabouts here={here} token={token} view={await whereabouts(office, stored, { letters, now })} />
      {letters.length === 0 ? (
        <p>Letters that go out, replies and files that come back stand here, the latest first.</p>
      ) : (
        <p>
          <a href={`${here}/record`}>The record</a>: who agreed to what, when, on which facts
        </p>
      )}
      {letters.toReversed().map((state) => (
        <LetterCard
          key={state.sent.id}
          here={here}
          token={token}
          letter={letterView(state, visit, saying, { read: reads.get(state.sent.id) ?? null, later: laterThan(state, letters) })}
        />
      ))}
    </Page>
  );
};

export default ExchangePage;
