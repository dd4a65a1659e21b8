import type { Planner } from "../../plan/plan.ts";
import { namesIn } from "../../plan/readable.ts";
import { nameOf } from "../../plan/say.ts";
import type { Plan, PlanProtection } from "../../plan/schema.ts";
import { isLost, takenIn, type Weighed } from "../../reply/weigh.ts";
import { PARTS, type Part, type PartState, type Rulebook } from "../../rulebook/types.ts";
import type { StoredVisit } from "../../store/store.ts";
import { type ShownChanges, shownChanges } from "./changeView.ts";
import { type Choice, decidedBy, undecidedIn } from "./choice.ts";
import { type AskedWords, askedInWords, methodName, repliedInWords, type Telling, weighedName, weighedWords } from "./replyWords.ts";
import { previewTaken, type TakingFault, type ToTakeIn, takingIn } from "./takeIn.ts";

type Verdict = PlanProtection["verdicts"][number];

/** A way that the vessel proposes, with what the engine says of it once the rest is taken. */
export interface ShownWay {
  readonly name: string;
  readonly verdict: Verdict["verdict"];
  readonly bar?: Verdict["bar"];
  readonly reason: string;
  readonly proves: Readonly<Record<Part, PartState>>;
  readonly needs: readonly string[];
}

/** One thing that a reply says, as the inspector meets it. */
export interface ShownItem extends AskedWords {
  readonly says: string;
  /** What it is weighed as. */
  readonly name: string;
  readonly means: readonly string[];
  readonly plain: boolean;
  readonly way?: ShownWay;
  /** Why it cannot be taken; left out where it can. */
  readonly barred?: string;
}

/** A reply to take in, as its page shows it. */
export interface TakeInView {
  readonly items: readonly ShownItem[];
  /** What the reply does not answer. */
  readonly unanswered: readonly AskedWords[];
  readonly undecided: readonly string[];
  /** What taking the chosen changes, or what stands against it. */
  readonly effect: { readonly changes: ShownChanges; readonly confirmed: readonly string[] } | { readonly against: readonly TakingFault[] };
}

const wayOf = ({ ref, proposal }: Weighed, plan: Plan, rulebook: Rulebook): ShownWay | undefined => {
  if (proposal === undefined) return undefined;
  const protection = plan.sets.flatMap(({ protections }) => protections).find((one) => one.ref === ref);
  const verdict = protection?.verdicts.find(({ method }) => method === proposal.method);
  const method = rulebook.protections.find(({ kind }) => kind === protection?.kind)?.methods.find(({ id }) => id === proposal.method);
  const names = namesIn(plan, rulebook);
  const open = verdict?.open ?? [];
  return {
    name: methodName(rulebook, protection?.kind ?? "", proposal.method),
    verdict: verdict?.verdict ?? "barred",
    ...(verdict?.bar === undefined ? {} : { bar: verdict.bar }),
    reason:
      verdict?.verdict === "depends" && open.length > 0
        ? `hangs on ${open.map((at) => nameOf(at, names)).join(", ")}`
        : (verdict?.reason ?? "it is none of this test’s methods"),
    proves: Object.fromEntries(PARTS.map((part) => [part, method?.proves[part] ?? "open"])) as Record<Part, PartState>,
    needs: rulebook.needs.filter(({ id }) => method?.needs.includes(id) === true).map(({ text }) => text),
  };
};

/** Why a thing cannot be taken; undefined where it can. */
const barOf = ({ kind, proposal }: Weighed, way: ShownWay | undefined): string | undefined => {
  if (kind !== "another way") return undefined;
  if (proposal === undefined)
    return "A way told in words only cannot be taken from here. Leave it; where one of the methods is meant, choose it on the page of the test.";
  return way?.verdict === "fit" ? undefined : `This way cannot be taken: it is ${way?.verdict ?? "barred"}; ${way?.reason ?? ""}.`;
};

const itemOf = (
  weighed: Weighed,
  { asked, says }: { readonly asked: AskedWords; readonly says: string },
  { telling, now }: { readonly telling: Telling; readonly now: Plan },
): ShownItem => {
  const way = wayOf(weighed, now, telling.rulebook);
  const barred = barOf(weighed, way);
  return {
    ...asked,
    says,
    name: weighedName(weighed),
    means: weighedWords(weighed, telling),
    plain: weighed.plain,
    ...(way === undefined ? {} : { way }),
    ...(barred === undefined ? {} : { barred }),
  };
};

/** Requests that count as not to be had once these are taken. */
const lostIn = (weighed: readonly Weighed[], taken: ReadonlySet<string>): ReadonlySet<string> =>
  new Set(weighed.filter((one) => isLost(one) && taken.has(one.ref)).map(({ ref }) => ref));

/** A confirmed reply with what is chosen of it so far: each thing in words, and what taking the chosen changes. Pure. */
export const takeInView = (
  stored: StoredVisit,
  { reply, asked, weighed, before }: ToTakeIn,
  { planner, choice }: { readonly planner: Planner; readonly choice: Choice },
): TakeInView => {
  const { rulebook } = planner;
  const decided = decidedBy(weighed, choice);
  // What the engine says of a proposed way is said for the answers that are taken beside it.
  const beside = previewTaken(stored, { ...takenIn(weighed, decided.taken), deviations: [] }, { planner, asked });
  const now = "plan" in beside ? beside.plan : before.plan;
  const telling: Telling = { plan: before.plan, rulebook, specAt: namesIn(before.plan, rulebook).specAt };
  const says = repliedInWords(reply, asked, rulebook);
  const words = askedInWords(asked, reply);
  const byRef = new Map(words.map((one) => [one.ref, one] as const));
  const taking = takingIn(stored, { asked, weighed, planner }, decided);
  return {
    items: weighed.flatMap((one) => {
      const own = byRef.get(one.ref);
      return own === undefined ? [] : [itemOf(one, { asked: own, says: says.get(one.ref) ?? "" }, { telling, now })];
    }),
    unanswered: words.filter(({ ref, kind }) => kind !== "fact" && !weighed.some((one) => one.ref === ref)),
    undecided: undecidedIn(weighed, choice),
    effect: taking.ok
      ? {
          changes: shownChanges(before, taking.value.after, { rulebook, lost: lostIn(weighed, decided.taken) }),
          confirmed: taking.value.outcome.confirmed.map(({ request }) => request),
        }
      : { against: taking.faults },
  };
};
