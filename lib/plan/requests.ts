import type { DecidedVisit, Wanted } from "../decide/visit.ts";
import { compareDates } from "../figures/workingDays.ts";
import type { Condition } from "../logic/condition.ts";
import { type PhotographId, photographs, resolve } from "../model/fact.ts";
import { CFR_OFFSHORE, CFR_PERIODIC, RULE_BASIS } from "../model/facts/visit.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { Dates } from "./dates.ts";
import { effortOf } from "./effort.ts";
import type { Draft } from "./questions.ts";
import { listAnd } from "./say.ts";
import type { PlanRequest } from "./schema.ts";

export interface RequestContext {
  readonly rulebook: Rulebook;
  readonly decided: DecidedVisit;
  readonly answers: ReadonlyMap<string, string | number>;
  readonly dates: Dates;
  readonly drafts: readonly Draft[];
  /** Whether a fact is not known. */
  readonly isOpen: (at: string) => boolean;
  readonly ruleBasis: string | undefined;
  readonly refOf: (channel: string) => string;
  readonly questionRef: (at: string) => string;
  readonly requestRef: (key: string) => string;
  readonly setNames: readonly string[];
  /** How many groups of sister sets there are: only then they are told apart in words. */
  readonly groups: number;
}

export const wantedKey = ({ need, at }: Wanted): string => (at === null ? need.id : `${need.id}|${at}`);
export const photographKey = (id: PhotographId): string => `photograph|${id}`;

const setsOf = (channels: readonly string[]): readonly number[] =>
  [...new Set(channels.map((channel) => Number(channel.split("/")[2])))].sort((a, b) => a - b);

/** Minutes that the chosen methods which need it take, over all protections. */
const minutesOf = ({ need, neededBy }: Wanted, { decided, answers }: RequestContext): number =>
  (neededBy.length === 0 ? [] : decided.protections.filter(({ at }) => neededBy.includes(at)))
    .flatMap(({ prepared, remaining, set, sisters }) =>
      prepared.compiled.methods
        .filter(({ method }) => remaining[0]?.methods.includes(method.id) && method.needs.includes(need.id))
        .map(({ method }) => effortOf(method, (template) => answers.get(resolve(template, set, sisters))).minutes),
    )
    .reduce((sum, minutes) => sum + minutes, 0);

const HALF_HOUR = 30;

/** Under a US basis no technician is ordered before the technique of his procedure is known; while the basis is open, not before it is. */
const notBefore = (wanted: Wanted, { drafts, ruleBasis, questionRef }: RequestContext): readonly string[] => {
  if (wanted.need.id !== "service-engineer") return [];
  if (ruleBasis !== undefined && ruleBasis !== CFR_PERIODIC && ruleBasis !== CFR_OFFSHORE) return [];
  const channels = [...wanted.neededBy, ...wanted.laterFor];
  const first = drafts.filter(
    ({ fact, asked }) =>
      asked !== null && fact.at.endsWith("/makerProcedure") && channels.some((channel) => fact.at.startsWith(`${channel}/`)),
  );
  // While it is open which rules bind, they may bar his technique altogether.
  const basisOpen = drafts.filter(({ fact }) => fact.at === RULE_BASIS);
  return [...basisOpen, ...first].map(({ fact }) => questionRef(fact.at));
};

const textOf = (wanted: Wanted, minutes: number, context: RequestContext): string => {
  const { need, at, sisters } = wanted;
  const sets = setsOf([...wanted.neededBy, ...wanted.laterFor]).map((set) => context.setNames[set] ?? "");
  const ofSet = at?.startsWith("/sets/") === true || need.perSet === true || (sisters !== null && context.groups > 1);
  const hours =
    need.kind === "technician" && need.at !== undefined && minutes > 0 ? `; about ${Math.ceil(minutes / HALF_HOUR) / 2} h of tests` : "";
  return `${need.text}${ofSet ? ` (${listAnd(sets)})` : ""}${hours}`;
};

const onlyIf = (condition: Condition): Pick<PlanRequest, "onlyIf"> => (condition === true ? {} : { onlyIf: condition });

const planWanted = (wanted: Wanted, context: RequestContext): PlanRequest => {
  const { need, at, neededBy, laterFor, prices } = wanted;
  const { dates, refOf } = context;
  const confirmBy = dates.settleBy(need.lead);
  const later = neededBy.length === 0;
  const waits = need.lead !== "reply" && dates.inTime(need.lead) && compareDates(confirmBy, dates.replyBy) <= 0;
  const late = need.lead !== "reply" && !dates.inTime(need.lead) && (at === null || context.isOpen(at));
  const first = notBefore(wanted, context);
  const minutes = minutesOf(wanted, context);
  const sets = setsOf(later ? laterFor : neededBy).length;
  return {
    ref: context.requestRef(wantedKey(wanted)),
    ...(at === null ? {} : { at }),
    kind: need.kind,
    need: need.id,
    text: textOf(wanted, minutes, context),
    actor: need.actor,
    ...(need.perSet === true ? { count: sets } : {}),
    ...(need.kind === "technician" && need.at !== undefined && minutes > 0 ? { hours: Math.ceil(minutes / HALF_HOUR) / 2 } : {}),
    neededBy: neededBy.map(refOf),
    ...(laterFor.length === 0 ? {} : { laterFor: laterFor.map(refOf) }),
    confirmBy,
    ...(late ? { late: true as const } : {}),
    ...(later && waits ? { hold: true } : {}),
    ...(first.length === 0 ? {} : { notBefore: [...first] }),
    ...onlyIf(wanted.onlyIf),
    ...(at === null || need.refusedIs === undefined ? {} : { refusedIs: need.refusedIs }),
    ifRefused: prices.map(({ protection, to }) => ({ protection: refOf(protection), to: to.methods, unproven: to.unproven })),
  };
};

/** A photograph is asked for where it answers at least this many questions. */
const WORTH_A_PHOTOGRAPH = 2;

export const photographsWanted = (drafts: readonly Draft[]): ReadonlyMap<PhotographId, readonly Draft[]> => {
  const answered = new Map<PhotographId, Draft[]>();
  for (const draft of drafts) {
    const { photograph } = draft.fact.spec;
    if (photograph === undefined) continue;
    answered.set(photograph, [...(answered.get(photograph) ?? []), draft]);
  }
  return new Map([...answered].filter(([, questions]) => questions.length >= WORTH_A_PHOTOGRAPH));
};

const planPhotograph = (id: PhotographId, drafts: readonly Draft[], context: RequestContext): PlanRequest => {
  const sets = [...new Set(drafts.flatMap(({ fact }) => (fact.set === null ? [] : [fact.set])))];
  const channels = [
    ...new Set(drafts.flatMap(({ asked, detailFor }) => [...(asked?.decides ?? []), ...detailFor]).map(({ protection }) => protection)),
  ];
  return {
    ref: context.requestRef(photographKey(id)),
    kind: "photograph",
    need: id,
    text: `photographs of ${photographs[id]} (${listAnd(sets.map((set) => context.setNames[set] ?? ""))})`,
    actor: "chief engineer",
    neededBy: channels.map(context.refOf),
    confirmBy: context.dates.replyBy,
    answers: drafts.map(({ fact }) => context.questionRef(fact.at)),
    ifRefused: [],
  };
};

export const planRequests = (context: RequestContext): readonly PlanRequest[] => [
  ...context.decided.wanted.map((wanted) => planWanted(wanted, context)),
  ...[...photographsWanted(context.drafts)].map(([id, drafts]) => planPhotograph(id, drafts, context)),
];
