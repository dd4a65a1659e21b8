import { setNameOf } from "../../letter/words.ts";
import { type Reply, replySchema } from "../../model/reply.ts";
import type { Asked } from "../../plan/asked.ts";
import { capital } from "../../plan/say.ts";
import type { Plan } from "../../plan/schema.ts";
import { toldFilled } from "../../reply/told.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Entry, ReplyState, SentLetter } from "../../store/exchanges.ts";
import type { Act, Audited, Made } from "../../store/store.ts";
import { askedThen } from "./askedStored.ts";
import { standsAs } from "./changeView.ts";
import { outcomeKept } from "./outcome.ts";
import { fieldsOf } from "./reply.ts";
import { type AskedWords, askedInWords, methodName, repliedInWords } from "./replyWords.ts";

/** One letter with all that is kept of it. */
export interface KeptExchange {
  readonly sent: SentLetter;
  readonly made: Pick<Made, "id" | "version" | "rulebook" | "plan"> | null;
  readonly state: ReplyState;
  /** What was filled in on the vessel's page. */
  readonly entries: readonly Entry[];
}

const act = ({ who, when }: Act): Act => ({ who, when });

/** One thing that a reply said, and what became of it. */
export interface TakenLine extends AskedWords {
  readonly says: string;
  readonly state: "taken" | "left" | "no longer asked" | "known so already" | "not taken in yet";
  /** Why a way that the vessel proposed was taken, or why something was left. */
  readonly reason?: string;
}

/** A reply as it was confirmed; null where there is none that can be read. */
export const replyKept = ({ confirmed }: ReplyState): Reply | null => {
  const read = replySchema.safeParse(confirmed?.reply);
  return read.success ? read.data : null;
};

/** Everything that a reply said, with what became of it. */
export const takenLines = ({ sent, state }: Pick<KeptExchange, "sent" | "state">, rulebook: Rulebook): readonly TakenLine[] => {
  const reply = replyKept(state);
  if (reply === null) return [];
  const asked = askedThen(sent.asked);
  const outcome = state.taken === undefined ? null : outcomeKept(state.taken.outcome);
  const says = repliedInWords(reply, asked, rulebook);
  const became = ({ ref, kind }: AskedWords): TakenLine["state"] => {
    if (outcome === null) return "not taken in yet";
    if (outcome.left.includes(ref)) return "left";
    if (outcome.taken.includes(ref)) return "taken";
    // A correction that repeats what is known writes nothing.
    return kind === "fact" ? "known so already" : "no longer asked";
  };
  return askedInWords(asked, reply).flatMap((words) => {
    const own = says.get(words.ref);
    const reason = outcome?.deviations.find(({ protection }) => protection === words.ref)?.reason ?? outcome?.leftBecause?.[words.ref];
    return own === undefined ? [] : [{ ...words, says: own, state: became(words), ...(reason === undefined ? {} : { reason }) }];
  });
};

/** What stands filled in on the vessel's page, by reference, as it was typed there. */
export interface OnPage {
  readonly filled: readonly { readonly ref: string; readonly text: string }[];
  readonly last: Act;
}

/** What was filled in on the vessel's page; null where nothing was. */
export const onPageOf = (entries: readonly Entry[], asked: Asked): OnPage | null => {
  const last = [...entries].sort((one, other) => one.version - other.version).at(-1);
  const said = toldFilled(asked, fieldsOf(entries)).flatMap(({ ref, says }) => (says === "" ? [] : [{ ref, text: says }]));
  const asRefs = new Set(said.map(({ ref }) => ref));
  const rest = entries.flatMap(({ ref, value }) =>
    value === undefined || value === null || asRefs.has(ref) ? [] : [{ ref, text: Object.values(value).map(String).join(", ") }],
  );
  const filled = [...rest, ...said];
  return last === undefined || filled.length === 0 ? null : { filled, last: act(last) };
};

/** One letter as the record names it. */
export interface RecordLetter {
  readonly id: string;
  readonly number: number;
  readonly kind: SentLetter["kind"];
  readonly sent: Act;
  readonly to: readonly string[];
  readonly made?: { readonly id: string; readonly version: number; readonly rulebook: string };
  readonly reply?: { readonly by: Reply["by"]; readonly remarks?: string; readonly confirmed: Act };
  readonly taken?: Act;
  /** When its reply had been taken in and that was taken back, the first first. */
  readonly takenBack: readonly Act[];
  /** What was filled in on the vessel's page, and the last of it. */
  readonly onPage?: OnPage;
}

/** What one letter had of one reference. */
export interface RecordCell {
  readonly letter: string;
  /** What was asked of it, or how it stood in the plan of the letter; empty where it did not stand in it. */
  readonly asked: string;
  readonly says: string;
  readonly became: TakenLine["state"] | "not answered" | "";
  /** Why it was taken against the order of preference, or left. */
  readonly reason?: string;
}

/** One reference through all letters. */
export interface RecordRow extends Pick<AskedWords, "ref" | "kind" | "set" | "what"> {
  readonly cells: readonly RecordCell[];
}

/** A choice against the order of preference, from the letter on in whose plan it stands first. */
export interface RecordDeviation {
  readonly ref: string;
  readonly set: string;
  readonly what: string;
  readonly method: string;
  readonly reason: string;
  readonly refused: boolean;
  /** The letter; null where it was chosen after the last one. */
  readonly letter: number | null;
  /** Who chose it, as far as that is kept. */
  readonly chosen?: Act;
}

export interface ExchangeRecord {
  readonly letters: readonly RecordLetter[];
  readonly rows: readonly RecordRow[];
  readonly deviations: readonly RecordDeviation[];
}

/** What a record is told with besides the letters. */
export interface RecordWorld {
  readonly rulebook: Rulebook;
  /** The plan as it stands now; null where the visit cannot be planned. */
  readonly now: Plan | null;
  /** What the log has of choices of this visit, the latest first. */
  readonly log: readonly Audited[];
}

/** The plan of a letter as it was made; null where it cannot be read. */
const planOf = ({ made }: KeptExchange): Plan | null => {
  const plan = JSON.parse(made?.plan ?? "null") as Plan | null;
  return Array.isArray(plan?.sets) ? plan : null;
};

/** What the log calls it that a reply was taken in and that this was taken back. */
export const TAKEN_BACK = "reply taken back";

const letterOf = ({ sent, made, state, entries }: KeptExchange, log: RecordWorld["log"]): RecordLetter => {
  const reply = replyKept(state);
  const onPage = onPageOf(entries, askedThen(sent.asked));
  return {
    id: sent.id,
    number: sent.number,
    kind: sent.kind,
    sent: act(sent),
    to: sent.to.map(({ name, address }) => (address === "" ? name : `${name} (${address})`)),
    ...(made === null ? {} : { made: { id: made.id, version: made.version, rulebook: made.rulebook } }),
    ...(reply === null || state.confirmed === undefined
      ? {}
      : { reply: { by: reply.by, confirmed: act(state.confirmed), ...(reply.remarks === undefined ? {} : { remarks: reply.remarks }) } }),
    ...(state.taken === undefined ? {} : { taken: act(state.taken) }),
    takenBack: log
      .filter(({ act: what, detail }) => what === TAKEN_BACK && detail.startsWith(`letter ${sent.number}:`))
      .map(act)
      .reverse(),
    ...(onPage === null ? {} : { onPage }),
  };
};

/** How the tests stood in the plan of a letter, by reference. */
const standings = (plan: Plan | null, rulebook: Rulebook): ReadonlyMap<string, string> =>
  new Map((plan?.sets ?? []).flatMap(({ protections }) => protections.map((one) => [one.ref, standsAs(one, rulebook)] as const)));

/** Requests that replies to earlier letters confirmed, with the numbers of these. */
const confirmedBefore = (exchanges: readonly KeptExchange[], number: number): ReadonlyMap<string, number> =>
  new Map(
    exchanges
      .filter(({ sent }) => sent.number < number)
      .flatMap(({ sent, state }) =>
        state.taken === undefined ? [] : outcomeKept(state.taken.outcome).confirmed.map(({ request }) => [request, sent.number] as const),
      ),
  );

/** What one letter had of every reference that stands in it. */
const columnOf = (
  exchange: KeptExchange,
  rulebook: Rulebook,
  stood: ReadonlyMap<string, string>,
): ReadonlyMap<string, { readonly words: AskedWords; readonly cell: RecordCell }> => {
  const lines = new Map(takenLines(exchange, rulebook).map((line) => [line.ref, line] as const));
  const answered = exchange.state.confirmed !== undefined;
  return new Map(
    askedInWords(askedThen(exchange.sent.asked), replyKept(exchange.state) ?? {}).map((words) => {
      const line = lines.get(words.ref);
      const asked = stood.get(words.ref) ?? (words.detail === "" ? "asked" : words.detail);
      const became = line?.state ?? (answered ? "not answered" : "");
      const reason = line?.reason === undefined ? {} : { reason: line.reason };
      return [
        words.ref,
        { words, cell: { letter: exchange.sent.id, asked: capital(asked), says: line?.says ?? "", became, ...reason } },
      ] as const;
    }),
  );
};

const ORDER = "TQRK";
const placeOf = (ref: string): number => ORDER.indexOf(ref[0] ?? "") * 10_000 + Number(ref.slice(1));

const rowsOf = (exchanges: readonly KeptExchange[], rulebook: Rulebook): readonly RecordRow[] => {
  const columns = exchanges.map((exchange) => {
    const stood = standings(planOf(exchange), rulebook);
    return {
      id: exchange.sent.id,
      own: columnOf(exchange, rulebook, stood),
      stood,
      confirmed: confirmedBefore(exchanges, exchange.sent.number),
    };
  });
  const refs = [...new Set(columns.flatMap(({ own }) => [...own.keys()]))].sort((one, other) => placeOf(one) - placeOf(other));
  return refs.flatMap((ref) => {
    // What is asked is called as it was asked last.
    const words = columns.findLast(({ own }) => own.has(ref))?.own.get(ref)?.words;
    if (words === undefined) return [];
    const { kind, set, what } = words;
    const cells = columns.map(({ id, own, stood, confirmed }): RecordCell => {
      // What was confirmed is asked no more, and a letter that ends the exchange asks nothing: how it stood then is told all the same.
      const number = confirmed.get(ref);
      const stands = stood.get(ref) ?? (number === undefined ? "" : `confirmed with letter ${number}`);
      return own.get(ref)?.cell ?? { letter: id, asked: capital(stands), says: "", became: "" };
    });
    return [{ ref, kind, set, what, cells }];
  });
};

/** Who chose a way: taken in with a reply, or chosen on the page of the test. */
const chosenBy = (
  { ref, at, method }: { readonly ref: string; readonly at: string; readonly method: string },
  exchanges: readonly KeptExchange[],
  log: RecordWorld["log"],
): Act | undefined => {
  const [, set = "", kind = ""] = /^\/sets\/(\d+)\/(\w+)$/.exec(at) ?? [];
  const page = `/tests/${Number(set) + 1}/${kind}: ${method}`;
  const acts = [
    ...log.filter((entry) => entry.act === "deviation" && entry.detail.endsWith(page)),
    ...exchanges.flatMap(({ state: { taken } }) =>
      taken !== undefined && outcomeKept(taken.outcome).deviations.some((one) => one.protection === ref && one.method === method)
        ? [taken]
        : [],
    ),
  ];
  const last = acts.sort((one, other) => one.when.localeCompare(other.when)).at(-1);
  return last === undefined ? undefined : act(last);
};

const deviationsOf = (exchanges: readonly KeptExchange[], { rulebook, now, log }: RecordWorld): readonly RecordDeviation[] => {
  const plans = [...exchanges.map((one) => ({ letter: one.sent.number as number | null, plan: planOf(one) })), { letter: null, plan: now }];
  const told = new Map<string, RecordDeviation>();
  for (const { letter, plan } of plans)
    for (const { ref, at, kind, deviation } of (plan?.sets ?? []).flatMap(({ protections }) => protections)) {
      const key = `${ref} ${deviation?.method} ${deviation?.reason}`;
      if (deviation === undefined || plan === null || told.has(key)) continue;
      const chosen = chosenBy({ ref, at, method: deviation.method }, exchanges, log);
      told.set(key, {
        ref,
        set: setNameOf(at, plan),
        what: capital(rulebook.protections.find((entry) => entry.kind === kind)?.name ?? kind),
        method: methodName(rulebook, kind, deviation.method),
        reason: deviation.reason,
        refused: deviation.refused,
        letter,
        ...(chosen === undefined ? {} : { chosen }),
      });
    }
  return [...told.values()];
};

/** Who agreed what, when, on which facts and rulebook: every letter of a visit, and every reference through all of them. Pure. */
export const recordOf = (exchanges: readonly KeptExchange[], world: RecordWorld): ExchangeRecord => ({
  letters: exchanges.map((one) => letterOf(one, world.log)),
  rows: rowsOf(exchanges, world.rulebook),
  deviations: deviationsOf(exchanges, world),
});
