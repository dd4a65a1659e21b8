import { faultWords } from "../../lib/reply/faultWords.ts";
import { type ReplyStep, replySteps } from "../../lib/reply/steps.ts";
import { toldFilled } from "../../lib/reply/told.ts";
import { allAgreed, faultsAt, filledIn, otherWords, readingOf, refsOn, savedWords } from "../../lib/usecases/exchange/fillStep.ts";
import { fillIn } from "../../lib/usecases/exchange/reply.ts";
import { wantsJson } from "./gate.ts";
import type { ReplyWriting } from "./replyGate.ts";
import { finishedPage, type Shown, shutPage, todayOf } from "./replyPages.tsx";
import { instant } from "./words.ts";

/** A page that was saved: which it was, and what it shows where it is shown again. */
export interface SavedStep extends Shown {
  readonly from: ReplyStep;
  readonly faults: NonNullable<Shown["faults"]>;
}

const textOf = (form: FormData, name: string): string | null => {
  const given = form.get(name);
  return typeof given === "string" ? given : null;
};

/**
 * Saves what a page of the reply was filled in with, as it stands, right or wrong. Tells what is wrong, and what somebody else filled in
 * otherwise meanwhile, which is not overwritten. Answers by itself where the script asks, or where nothing can be filled in any more.
 */
export const saveStep = async ({ at, form, request, by }: ReplyWriting): Promise<SavedStep | Response> => {
  const { asked, sent, office } = at;
  const from = replySteps(asked).find(({ id }) => id === textOf(form, "from"));
  if (from === undefined) return shutPage();
  const posted = filledIn(asked, from, {
    field: (name) => textOf(form, name),
    seen: textOf(form, "seen") ?? "",
    post: textOf(form, "post") ?? "",
  });
  // Who takes what somebody else wrote at a place says nothing there himself.
  const own = posted.filter(({ ref }) => ref !== textOf(form, "theirs"));
  const filled = form.get("all") === "agreed" ? allAgreed(asked, own) : own;
  const typed = new Map(filled.flatMap(({ fields }) => Object.entries(fields)));
  const kept = at.later === undefined ? await fillIn(office.store, sent, filled, by) : { ok: false as const };
  if (!kept.ok) {
    if (wantsJson(request)) return Response.json({ problem: "not kept" }, { status: 409 });
    return (
      (await finishedPage(
        at,
        toldFilled(asked, typed).filter(({ says }) => says !== ""),
      )) ?? shutPage()
    );
  }
  const others = kept.value.map((entry) => ({ ref: entry.ref, says: otherWords(asked, entry), theirs: true as const }));
  const entries = await office.store.entriesOf(sent.id);
  const wrong = faultsAt(asked, refsOn(from), entries, readingOf(office.planner.rulebook, todayOf(at))).map((fault) => ({
    ref: fault.at,
    says: faultWords(fault),
  }));
  const faults = [...others, ...wrong];
  if (wantsJson(request)) return Response.json({ told: savedWords(by.when, wrong, others) }, { headers: { "cache-control": "no-store" } });
  return {
    from,
    faults,
    note: `Saved on ${instant(by.when)}. You can close this page and open the link again later.`,
    typed: new Map([...typed].filter(([name]) => others.some(({ ref }) => name.split(".")[1] === ref || name.startsWith(`${ref}.`)))),
  };
};
