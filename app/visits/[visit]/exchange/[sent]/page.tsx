import { LoadReply } from "../../../../../components/exchange/LoadReply.tsx";
import { ReadBefore } from "../../../../../components/exchange/ReadBefore.tsx";
import { faultAtWords, LinesTold, ReadReply } from "../../../../../components/exchange/ReadReply.tsx";
import { filledWords } from "../../../../../components/exchange/RecordTable.tsx";
import { ReplyHead } from "../../../../../components/exchange/ReplyHead.tsx";
import { faultAtField, TakeIn } from "../../../../../components/exchange/TakeIn.tsx";
import { Taken } from "../../../../../components/exchange/Taken.tsx";
import { ErrorSummary } from "../../../../../components/form/Fields.tsx";
import { Page } from "../../../../../components/frame/Page.tsx";
import { PlanPanel } from "../../../../../components/plan/PlanPanel.tsx";
import { longDate } from "../../../../../lib/letter/words.ts";
import type { Reply } from "../../../../../lib/model/reply.ts";
import { fieldsOfReply, tooLate } from "../../../../../lib/reply/told.ts";
import type { SentLetter } from "../../../../../lib/store/exchanges.ts";
import { askedThen } from "../../../../../lib/usecases/exchange/askedStored.ts";
import { firstChoice, keptChoice, shownMark } from "../../../../../lib/usecases/exchange/choice.ts";
import { CAME, mailKept, readKept, readMark, saysOtherwise } from "../../../../../lib/usecases/exchange/loadReply.ts";
import { beginsIn } from "../../../../../lib/usecases/exchange/mailed.ts";
import { onPageOf, replyKept, takenLines } from "../../../../../lib/usecases/exchange/record.ts";
import { askedInWords, repliedInWords } from "../../../../../lib/usecases/exchange/replyWords.ts";
import { canTakeBack, weighReply } from "../../../../../lib/usecases/exchange/takeIn.ts";
import { takeInView } from "../../../../../lib/usecases/exchange/takeInView.ts";
import { filesOf, sentOfVisit, whoIn } from "../../../../_server/exchange.ts";
import { type AtVisit, admitToVisit, missing, saidIn } from "../../../../_server/gate.ts";
import { barOf, instant } from "../../../../_server/words.ts";

type Props = {
  readonly params: Promise<{ readonly visit: string; readonly sent: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
};

interface Shown {
  readonly at: AtVisit;
  readonly sent: SentLetter;
  readonly query: Readonly<Record<string, string | undefined>>;
}

const frameOf = ({ at: { person, token, stored }, sent }: Shown, title: string) => ({
  title,
  caption: `Letter ${sent.number}, sent ${longDate(sent.when.slice(0, 10))}`,
  person,
  token,
  visit: barOf(stored, "exchange"),
  back: { href: `/visits/${stored.id}/exchange`, words: "Back to the exchange" },
  wide: true,
});

const problemsIn = (problem: string | undefined): readonly { readonly id: string; readonly says: string }[] =>
  problem === undefined ? [] : problem.split("\n").map((says) => ({ id: "", says }));

/** A letter without a reply that is confirmed. */
const loading = async (shown: Shown) => {
  if (shown.sent.kind !== "letter")
    return (
      <Page {...frameOf(shown, "No reply is waited for")}>
        <p>This letter ended the exchange: it asked nothing, and waits for no reply.</p>
      </Page>
    );
  const { at, sent, query } = shown;
  const { office, person, token, stored } = at;
  const { rulebook } = office.planner;
  const [read, mail] = [await readKept(office.store, sent, person.id), await mailKept(office.store, sent, person.id)];
  const onPage = onPageOf(await office.store.entriesOf(sent.id), askedThen(sent.asked));
  const action = `/visits/${stored.id}/exchange/${sent.id}`;
  const { problem } = saidIn(office, query);
  const tried = read?.tried ?? read;
  const field = tried?.way === "form" ? "file" : "mail";
  const faults = [
    ...problemsIn(problem).map((one) => ({ ...one, id: "file" })),
    // A new try that came to nothing takes the place of what the former one told.
    ...(problem === undefined ? (tried?.faults ?? []) : []).map((one) => ({
      id: one.at === "by" && field === "mail" ? "mail-name" : field,
      says: faultAtWords(one),
    })),
  ];
  const asked = askedThen(sent.asked);
  const words = askedInWords(asked, read?.reply ?? {});
  const says = read?.reply === undefined ? new Map<string, string>() : repliedInWords(read.reply, asked, rulebook);
  const begins = await beginsIn(office.store, sent);
  const first = (id: string): string | undefined => faults.find((one) => one.id === id)?.says;
  const ways = (
    <LoadReply
      action={action}
      token={token}
      mail={mail}
      faults={{ file: first("file"), mail: first("mail"), "mail-name": first("mail-name") }}
    />
  );
  return (
    <Page {...frameOf(shown, "Load a reply")} errors={faults.length > 0}>
      <ErrorSummary faults={faults} />
      {tried === null || tried.reply !== undefined || problem !== undefined || tried.told.length === 0 ? null : (
        <LinesTold told={tried.told} />
      )}
      {tried?.onPages === true ? (
        <p className="note">
          What stands in the form is put onto the reply’s own pages, so that nothing is lost. Press “Key it in” below: everything is there
          as it was written, what is wrong is marked where it stands, and it is mended and confirmed on behalf of the vessel.
        </p>
      ) : null}
      {onPage === null || tried?.onPages === true ? null : (
        <div className="note">
          <p>
            {`On its own page the vessel has filled in something, last ${instant(onPage.last.when)} by ${onPage.last.who}, and has not confirmed it. It stays in the record; what you confirm here takes its place.`}
          </p>
          <details>
            <summary>{`What it filled in: ${onPage.filled.length}`}</summary>
            <ul>
              {onPage.filled.map((one) => (
                <li key={one.ref}>{filledWords(one)}</li>
              ))}
            </ul>
          </details>
        </div>
      )}
      {read?.reply === undefined ? (
        <p>
          {`The vessel answers on its own page by ${longDate(sent.replyBy)}. Where its answer comes another way, it comes in here. Nothing is taken in before you have looked at what was understood.`}
        </p>
      ) : (
        <ReadReply
          reply={read.reply}
          told={read.told}
          from={`${CAME[read.way]}${read.file === "" ? "" : ` ${read.file}`}`}
          lines={words.flatMap((one) => {
            const own = says.get(one.ref);
            return own === undefined ? [] : [{ ...one, says: own }];
          })}
          late={begins === null ? new Map() : tooLate(asked, fieldsOfReply(read.reply), begins)}
          unanswered={words.filter(({ ref }) => !says.has(ref))}
          action={action}
          token={token}
          shown={readMark(read)}
        />
      )}
      {read?.reply === undefined ? (
        ways
      ) : (
        <details className="group" open={faults.length > 0}>
          <summary>Read something else in its place</summary>
          {ways}
        </details>
      )}
    </Page>
  );
};

/** A reply that was read and not confirmed before another one was: what it says otherwise, kept until it is discarded. */
const readBefore = async ({ at, sent }: Shown, reply: Reply | null) => {
  const { office, person, token, stored } = at;
  const read = await readKept(office.store, sent, person.id);
  if (read?.reply === undefined || reply === null) return null;
  const { rulebook } = office.planner;
  const asked = askedThen(sent.asked);
  const [said, confirmed] = [repliedInWords(read.reply, asked, rulebook), repliedInWords(reply, asked, rulebook)];
  const otherwise = saysOtherwise(said, confirmed);
  const words = askedInWords(asked, read.reply).filter(({ ref }) => otherwise.includes(ref));
  return (
    <ReadBefore
      from={`${CAME[read.way]}${read.file === "" ? "" : ` ${read.file}`}`}
      lines={words.map((one) => ({ ...one, says: said.get(one.ref) ?? "", confirmed: confirmed.get(one.ref) ?? "" }))}
      action={`/visits/${stored.id}/exchange/${sent.id}`}
      token={token}
    />
  );
};

/** A confirmed reply that is to be taken in, or that was. */
const taking = async (shown: Shown) => {
  const { at, sent, query } = shown;
  const { office, person, token, stored } = at;
  const { store, planner } = office;
  const state = await store.replyOf(sent.id);
  const reply = replyKept(state);
  const who = await whoIn(office);
  const head =
    reply === null ? null : (
      <ReplyHead
        by={reply.by}
        remarks={reply.remarks}
        files={await filesOf(office, sent)}
        confirmed={state.confirmed === undefined ? "" : `${instant(state.confirmed.when)}, ${who(state.confirmed.who)}`}
      />
    );
  const before = await readBefore(shown, reply);
  const { problem } = saidIn(office, query);
  if (state.taken !== undefined)
    return (
      <Page {...frameOf(shown, "Reply taken in")} errors={problem !== undefined}>
        <ErrorSummary faults={problemsIn(problem)} />
        <Taken
          lines={takenLines({ sent, state }, planner.rulebook)}
          by={who(state.taken.who)}
          when={instant(state.taken.when)}
          visit={stored.id}
          back={canTakeBack(stored, state.taken.outcome) ? { action: `/visits/${stored.id}/exchange/${sent.id}/take-back`, token } : null}
        />
        <h2>The reply</h2>
        {head}
        {before}
      </Page>
    );
  const weighed = await weighReply({ store, planner }, stored, sent);
  const preview = office.preview(stored);
  if (!weighed.ok)
    return (
      <Page {...frameOf(shown, "Take in the reply")}>
        {head}
        {before}
        {"waits" in preview ? (
          <PlanPanel preview={preview} visit={stored.id} set={null} kind="" />
        ) : (
          <p>{`The reply cannot be taken in: ${weighed.faults.join("; ")}.`}</p>
        )}
      </Page>
    );
  const choice = (await keptChoice(store, { visit: stored.id, sent: sent.id }, person.id)) ?? firstChoice(weighed.value.weighed);
  const view = takeInView(stored, weighed.value, { planner, choice });
  const undecided = view.undecided.map((ref) => {
    const barred = view.items.find((item) => item.ref === ref)?.barred !== undefined;
    return { id: `${ref}-${barred ? "leave" : "take"}`, says: `${ref}: not decided yet; choose “Take it” or “Leave it”` };
  });
  const against = "against" in view.effect ? view.effect.against.map((fault) => faultAtField(fault, view.items)) : [];
  const tried = query["tried"] === undefined ? [] : [...undecided, ...against];
  const faults = tried.length > 0 ? tried : problemsIn(problem).map((one) => ({ ...one, id: "changes" }));
  return (
    <Page {...frameOf(shown, "Take in the reply")} errors={faults.length > 0}>
      <ErrorSummary faults={faults} />
      {head}
      {before}
      <p>
        What the reply says is weighed against what is known today. Nothing of it is in the plan yet: you take it or leave it, and see
        before what it changes.
      </p>
      {view.items.length === 0 ? <p>The reply answers nothing that is still asked; taking it in only keeps that it came.</p> : null}
      <TakeIn
        view={view}
        choice={choice}
        action={`/visits/${stored.id}/exchange/${sent.id}`}
        token={token}
        shown={shownMark(choice, stored)}
        faults={faults}
      />
      {view.unanswered.length === 0 ? null : (
        <details>
          <summary>{`Not answered: ${view.unanswered.length}`}</summary>
          <ul>
            {view.unanswered.map(({ ref, set, what }) => (
              <li key={ref}>{`${ref}${set === "" ? "" : `, ${set}`}: ${what}`}</li>
            ))}
          </ul>
        </details>
      )}
    </Page>
  );
};

const ReplyPage = async ({ params, searchParams }: Props) => {
  const { visit, sent: id } = await params;
  const at = await admitToVisit("GET /visits/[visit]/exchange/[sent]", visit);
  const sent = await sentOfVisit(at.office, visit, id);
  if (sent === null) return missing();
  const shown: Shown = { at, sent, query: await searchParams };
  const { confirmed } = await at.office.store.replyOf(sent.id);
  return confirmed === undefined ? loading(shown) : taking(shown);
};

export default ReplyPage;
