import type { ReactElement } from "react";
import { ReplyDocument, type ReplyHead } from "../../components/reply/Document.tsx";
import { CheckList, FilesForm, Receipt, Remarks, Replaced } from "../../components/reply/Ends.tsx";
import { type FilledIn, WhoPlace } from "../../components/reply/Fields.tsx";
import { Greeting, Landing, Places, photographsFor, Shut, StepForm, type StepLine, Wrong } from "../../components/reply/Pages.tsx";
import { replyPageToken } from "../../lib/access/replyLink.ts";
import { ledIn } from "../../lib/letter/alike.ts";
import { OWN } from "../../lib/letter/formFields.ts";
import { sizeWords } from "../../lib/letter/sizes.ts";
import { capital, longDate } from "../../lib/letter/words.ts";
import { replySchema } from "../../lib/model/reply.ts";
import { faultWords, NOTHING_WRITTEN } from "../../lib/reply/faultWords.ts";
import { ACCEPTED_ENDINGS, ACCEPTED_WORDS } from "../../lib/reply/fileKind.ts";
import { askedAt, type ReplyStep, replySteps } from "../../lib/reply/steps.ts";
import { atOdds, type Told, toldFilled, toldOf, tooLate } from "../../lib/reply/told.ts";
import type { Entry } from "../../lib/store/exchanges.ts";
import { WHAT_FILES } from "../../lib/usecases/exchange/files.ts";
import { faultsAt, readingOf, refsOn, seenText } from "../../lib/usecases/exchange/fillStep.ts";
import { addressIn } from "../../lib/usecases/exchange/links.ts";
import { beginsIn } from "../../lib/usecases/exchange/mailed.ts";
import { fieldsOf, WHO } from "../../lib/usecases/exchange/reply.ts";
import { coreFiles } from "./core.ts";
import { replyCookie } from "./replyCookie.ts";
import type { AtReply } from "./replyDoor.ts";
import { replyHtml } from "./replyHtml.ts";
import { instant, textAt } from "./words.ts";

interface ShownFault {
  readonly ref: string;
  readonly says: string;
  /** Whether it is that somebody else filled it in otherwise, whose answer can be taken instead. */
  readonly theirs?: true;
}

/** What a page shows besides what is kept. */
export interface Shown {
  /** What was typed and is not kept, over what is. */
  readonly typed?: ReadonlyMap<string, string>;
  /** What is wrong or was filled in otherwise meanwhile, by reference. */
  readonly faults?: readonly ShownFault[];
  /** What was just done. */
  readonly note?: string;
}

export const headOf = ({ stored, sent }: AtReply): ReplyHead => {
  const reference = textAt(stored.frame, "/visit/reference");
  return {
    vessel: textAt(stored.frame, "/visit/vessel/name"),
    reference: reference === "" ? `letter ${sent.number}` : `letter ${sent.number} (${reference})`,
    office: textAt(stored.frame, "/policy/office/name"),
  };
};

/** The page that everything is answered with which opens nothing. */
export const shutPage = (status = 403): Promise<Response> =>
  replyHtml(
    <ReplyDocument title="This link opens nothing" head={null}>
      <Shut />
    </ReplyDocument>,
    { status },
  );

/** What a link of a mail shows. */
export const landingPage = (code: string): Promise<Response> =>
  replyHtml(
    <ReplyDocument title="Reply to a letter" head={null}>
      <Landing code={code} />
    </ReplyDocument>,
  );

/** Why something was not taken or cannot be given, as the answer says it. */
interface NotRead {
  readonly status: number;
  readonly words: string;
}

/** What is said where what was sent could not be read: too large, or broken off on its way. */
export const notReadPage = (unread: NotRead | undefined): Promise<Response> =>
  replyHtml(
    <ReplyDocument title="This was not taken" head={null} wrong>
      <p>{`${capital(unread?.words ?? "this is no form")}.`}</p>
      <p>
        Nothing of the reply was changed; what was typed is still on the page before. <a href="/reply/at/files">To the files</a>
      </p>
    </ReplyDocument>,
    { status: unread?.status ?? 400 },
  );

/** What the page of files says of one that was too large to be read. */
export const fileTooLarge = (bytes: number): Shown => ({
  faults: [
    {
      ref: "file",
      says: `${faultWords({ given: `a file that is too large, about ${sizeWords(bytes)}`, wanted: ACCEPTED_WORDS })}. Nothing of the reply was changed.`,
    },
  ],
});

export const todayOf = ({ office }: AtReply): string => office.world.now().slice(0, 10);

/** The pages of a reply, each with how much of it is answered. */
const linesOf = ({ asked }: AtReply, fields: ReadonlyMap<string, string>): readonly StepLine[] => {
  const answered = new Set(toldFilled(asked, fields).flatMap(({ ref, says }) => (says === "" ? [] : [ref])));
  return replySteps(asked).map((step) => ({ ...step, answered: step.refs.filter((ref) => answered.has(ref)).length }));
};

/** All that is wrong with a reply as it stands, by reference; who answers must be told. */
export const wrongIn = (at: AtReply, entries: readonly Entry[]): readonly { readonly ref: string; readonly says: string }[] => {
  const refs = replySteps(at.asked).flatMap(refsOn);
  const faults = faultsAt(at.asked, refs, entries, readingOf(at.office.planner.rulebook, todayOf(at)));
  const named = (fieldsOf(entries).get(OWN.name) ?? "").trim() !== "";
  return [
    ...(named ? [] : [{ ref: WHO, says: faultWords({ given: NOTHING_WRITTEN, wanted: "the name of who answers, on the first page" }) }]),
    ...faults.map((fault) => ({ ref: fault.at, says: faultWords(fault) })),
  ];
};

interface Drawn {
  readonly at: AtReply;
  readonly step: ReplyStep;
  readonly entries: readonly Entry[];
  readonly filled: FilledIn;
  /** The first day of the visit, on pages that hold days against it; else null. */
  readonly begins: string | null;
}

const bodyOf = async ({ at, step, filled, begins }: Drawn) => {
  const { asked, sent, link, office } = at;
  if (step.kind === "start")
    return (
      <>
        <Greeting
          asked={asked}
          reference={headOf(at).reference}
          replyBy={sent.replyBy}
          today={todayOf(at)}
          size={sizeWords((await office.store.made(sent.made))?.pdf.length ?? 0)}
          recipient={link.recipient}
        />
        <WhoPlace filled={filled} />
      </>
    );
  if (step.kind === "files") return null;
  if (step.kind !== "check") {
    const here = askedAt({ ...asked, questions: ledIn(asked) }, step.refs);
    return <Places asked={here} photographs={photographsFor(asked, here.questions)} filled={filled} />;
  }
  const by = [OWN.name, OWN.role].map((name) => filled.fields.get(name) ?? "").filter((part) => part !== "");
  return (
    <>
      <CheckList
        told={toldFilled(asked, filled.fields)}
        by={by.join(", ")}
        files={await office.store.attachmentsOf(sent.id)}
        steps={replySteps(asked)}
        odds={begins === null ? [] : atOdds(asked, filled.fields, begins)}
        late={filled.notes}
      />
      <Remarks filled={filled} />
    </>
  );
};

const byRef = (faults: Shown["faults"] = []): ReadonlyMap<string, readonly string[]> => {
  const lines = new Map<string, string[]>();
  for (const { ref, says } of faults) lines.set(ref, [...(lines.get(ref) ?? []), says]);
  return lines;
};

/** Where somebody else filled in otherwise meanwhile, and the address that a press on "take theirs" goes to. */
const theirsIn = (step: ReplyStep, faults: readonly ShownFault[]): FilledIn["theirs"] => ({
  refs: faults.flatMap(({ ref, theirs }) => (theirs === true ? [ref] : [])),
  act: `/reply/at/${step.id}`,
});

const hiddenOf = ({ office, link }: AtReply, step: ReplyStep, entries: readonly Entry[]): readonly (readonly [string, string])[] => [
  ["token", replyPageToken(link.mark, office.secret, office.clock())],
  ["post", office.world.newId().slice(0, 13)],
  ["from", step.id],
  ["seen", seenText(refsOn(step), entries)],
];

const CONFIRM = (
  <button type="submit" formAction="/reply/confirm">
    Confirm and send
  </button>
);

const agreeAll = (step: ReplyStep): ReactElement => (
  <p>
    <button className="second" type="submit" name="all" value="agreed" formAction={`/reply/at/${step.id}`}>
      Agree to all tests on this page that nothing is said of
    </button>
  </p>
);

/** Everything the letter's page needs so that a file can be sent with it. */
const filesOn = async ({ at, step, entries }: Drawn, faults: readonly string[]): Promise<ReactElement> => (
  <FilesForm
    files={await at.office.store.attachmentsOf(at.sent.id)}
    kinds={WHAT_FILES}
    taken={ACCEPTED_WORDS}
    endings={ACCEPTED_ENDINGS}
    hidden={hiddenOf(at, step, entries)}
    faults={faults}
  />
);

/** One page of the reply as it stands, with the cookie that keeps the link open. */
export const stepPage = async (at: AtReply, id: string, shown: Shown = {}): Promise<Response> => {
  const done = await finishedPage(at);
  if (done !== null) return done;
  const step = replySteps(at.asked).find((one) => one.id === id) ?? replySteps(at.asked)[0];
  if (step === undefined) return shutPage();
  const entries = await at.office.store.entriesOf(at.sent.id);
  const fields = new Map([...fieldsOf(entries), ...(shown.typed ?? [])]);
  const faults = shown.faults ?? (step.kind === "check" ? wrongIn(at, entries) : []);
  // Whoever only comes to the last page did nothing wrong yet.
  const tried = shown.faults !== undefined;
  const begins = step.kind === "requests" || step.kind === "check" ? await beginsIn(at.office.store, at.sent) : null;
  const notes: FilledIn["notes"] = begins === null ? new Map() : tooLate(at.asked, fields, begins);
  const drawn: Drawn = { at, step, entries, begins, filled: { fields, faults: byRef(faults), notes, theirs: theirsIn(step, faults) } };
  const own = faults.filter(({ ref }) => ref !== "file");
  const page = (
    <ReplyDocument
      title={step.title}
      head={headOf(at)}
      wrong={tried && faults.length > 0}
      script={`/core/${(await coreFiles()).reply.name}`}
    >
      {shown.note === undefined ? null : (
        <p className="note" role="status">
          {shown.note}
        </p>
      )}
      <Wrong title={step.kind === "check" ? "Before it can be sent" : "Please look at these"} lines={own} tried={tried} />
      {step.kind === "files" ? await filesOn(drawn, byRef(faults).get("file") ?? []) : null}
      <StepForm
        steps={linesOf(at, fields)}
        here={step.id}
        hidden={hiddenOf(at, step, entries)}
        act={step.kind === "check" ? CONFIRM : undefined}
        leave={step.kind !== "check" && own.length > 0}
      >
        {await bodyOf(drawn)}
        {step.kind === "tests" ? agreeAll(step) : null}
      </StepForm>
    </ReplyDocument>
  );
  return replyHtml(page, {
    status: faults.length > 0 && step.kind !== "check" ? 422 : 200,
    cookies: [replyCookie(at.link.mark, at.office)],
  });
};

/** The page in place of the reply's where nothing can be filled in any more: it was confirmed, or a later letter took its place. */
export const finishedPage = async (at: AtReply, left: readonly Told[] = []): Promise<Response | null> => {
  const { confirmed } = await at.office.store.replyOf(at.sent.id);
  const cookies = [replyCookie(at.link.mark, at.office)];
  if (confirmed !== undefined) {
    const reply = replySchema.safeParse(confirmed.reply);
    const recipient = (await at.office.store.linksOf(at.sent.id)).some((link) => link.recipient === confirmed.who);
    return replyHtml(
      <ReplyDocument title="The reply is confirmed and sent" head={headOf(at)}>
        <Receipt
          by={reply.success ? reply.data.by : { name: confirmed.who }}
          when={instant(confirmed.when)}
          through={recipient ? "" : confirmed.who}
          later={
            at.later === undefined
              ? ""
              : `Letter ${at.later.number} has gone out since, on ${longDate(at.later.when.slice(0, 10))}: it stands in place of this one.`
          }
          told={reply.success ? toldOf(at.asked, reply.data) : []}
          remarks={reply.success ? (reply.data.remarks ?? "") : ""}
          files={await at.office.store.attachmentsOf(at.sent.id)}
          left={left}
        />
      </ReplyDocument>,
      { cookies },
    );
  }
  if (at.later === undefined) return null;
  const { number, when, kind, to } = at.later;
  const own = addressIn(at.sent, at.link.recipient).toLowerCase();
  const got = to.some(({ name, address }) => name === at.link.recipient || (own !== "" && address.toLowerCase() === own));
  return replyHtml(
    <ReplyDocument title={`Letter ${number} has taken this one’s place`} head={headOf(at)}>
      <Replaced
        number={number}
        sentOn={longDate(when.slice(0, 10))}
        ended={kind !== "letter"}
        others={got ? "" : to.map(({ name }) => name).join(", ")}
      />
    </ReplyDocument>,
    { cookies },
  );
};
