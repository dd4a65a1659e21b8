import { failure, type Result, success } from "../../kernel/result.ts";
import type { Closing, ConfirmedThen, TestSaid } from "../../letter/closed.ts";
import { refRange } from "../../letter/words.ts";
import { type Reply, replySchema } from "../../model/reply.ts";
import { type Asked, confirmedIn } from "../../plan/asked.ts";
import { type Settlement, settlementOf } from "../../reply/settlement.ts";
import type { TakenIn } from "../../reply/weigh.ts";
import type { ExchangeStore, SentLetter } from "../../store/exchanges.ts";
import type { Store, StoredVisit } from "../../store/store.ts";
import type { Planned } from "../planFile.ts";
import { openVisit } from "../visits/visitDraft.ts";
import { askedThen } from "./askedStored.ts";
import { knownToVessel } from "./former.ts";
import { outcomeKept } from "./outcome.ts";

/** One exchange that is over: what the letter asked, what was said to it and what of it was taken in. */
interface Exchanged {
  readonly sent: SentLetter;
  readonly asked: Asked;
  readonly reply: Reply;
  readonly confirmedOn: string;
  readonly outcome: TakenIn;
}

/** The replies of a visit in the order of their letters. Fails where one waits to be taken in: what it says would be lost. */
const exchangesOf = async (store: ExchangeStore, before: readonly SentLetter[]): Promise<Result<readonly Exchanged[]>> => {
  const exchanges: Exchanged[] = [];
  for (const sent of before) {
    const { confirmed, taken } = await store.replyOf(sent.id);
    if (confirmed === undefined) continue;
    if (taken === undefined) return failure(`the reply to letter ${sent.number} is not taken in yet`);
    const reply = replySchema.safeParse(confirmed.reply);
    if (!reply.success) return failure(`the reply to letter ${sent.number} cannot be read as it is kept`);
    exchanges.push({
      sent,
      asked: askedThen(sent.asked),
      reply: reply.data,
      confirmedOn: confirmed.when.slice(0, 10),
      outcome: outcomeKept(taken.outcome),
    });
  }
  return success(exchanges);
};

/** What one reply says of the tests, as it was taken. */
const testsSaid = ({ sent, asked, reply, outcome }: Exchanged): readonly TestSaid[] =>
  asked.tests.flatMap(({ ref, way, others }): readonly TestSaid[] => {
    const said = reply.tests[ref];
    if (said === undefined) return [];
    const { method, words } = said;
    const what = { ref, letter: sent.number, way, ...(words === undefined ? {} : { words }) };
    // That the vessel agreed is so whether it was noted or not; a remark with it counts only where it was taken.
    if (said.says === "agreed")
      return [{ ...what, says: words === undefined || outcome.agreed.includes(ref) ? "agreed" : "agreed with a remark" }];
    const proposal = others.find(({ value }) => value === method)?.label;
    const taken = outcome.deviations.some(({ protection }) => protection === ref);
    return [
      {
        ...what,
        says: taken ? "proposed" : "not taken",
        ...(method === undefined ? {} : { method }),
        ...(proposal === undefined ? {} : { proposal }),
      },
    ];
  });

/** The requests that the visit has as confirmed, as they read in the letter that they were confirmed with. Photographs came or came not. */
const confirmedThen = ({ read }: Planned, exchanges: readonly Exchanged[]): readonly ConfirmedThen[] =>
  read.visit.confirmed.flatMap(({ request, letter }) => {
    const then = exchanges.find(({ sent }) => sent.number === letter);
    const asked = then?.asked.requests.find(({ ref }) => ref === request);
    if (asked === undefined || asked.kind === "photograph") return [];
    const { contact, had } = then?.reply.requests[request] ?? {};
    return [
      { request, text: asked.text, ...(contact === undefined ? {} : { contact }), ...(had === undefined ? {} : { how: true as const }) },
    ];
  });

/** Why a letter that says so would be untrue; nothing where it is true. */
const against = (kind: Closing["kind"], { settled, questions, requests, untold }: Settlement): readonly string[] => {
  if (kind === "not settled") return settled ? ["nothing is open any more: the visit is settled, and the letter has to say so"] : [];
  return [
    ...(questions.length === 0
      ? []
      : [`not settled yet: ${refRange(questions)} ${questions.length === 1 ? "still decides" : "still decide"}`]),
    ...(requests.length === 0 ? [] : [`not settled yet: ${refRange(requests)} ${requests.length === 1 ? "is" : "are"} not confirmed`]),
    ...(untold.length === 0
      ? []
      : [
          `not settled yet: ${refRange(untold)} ${untold.length === 1 ? "is" : "are"} planned otherwise than the vessel was told; a letter tells it first`,
        ]),
  ];
};

/**
 * What a letter that ends the exchange tells, from what the office kept. Fails where the end would be untrue, with what is open by reference, or where
 * a reply waits to be taken in.
 */
export const closingOf = async (
  { store, stored }: { readonly store: Store; readonly stored: StoredVisit },
  planned: Planned,
  kind: Closing["kind"],
): Promise<Result<Closing>> => {
  const { plan, read } = planned;
  const exchanges = await exchangesOf(store, await store.sentOf(stored.id));
  if (!exchanges.ok) return exchanges;
  const vessel = await knownToVessel(store, stored.id);
  const settlement = settlementOf(plan, confirmedIn(read.visit), openVisit(stored).draft.answers, vessel);
  const wrong = against(kind, settlement);
  if (wrong.length > 0) return failure(...wrong);
  return success({
    kind,
    replied: exchanges.value.map(({ sent, reply: { by }, confirmedOn }) => ({
      name: by.name,
      ...(by.role === undefined ? {} : { role: by.role }),
      when: confirmedOn,
      letter: sent.number,
    })),
    tests: exchanges.value.flatMap(testsSaid),
    confirmed: confirmedThen(planned, exchanges.value),
    open: { questions: settlement.questions, requests: settlement.requests },
    answers: read.given.size,
    version: stored.version,
  });
};
