import { testId } from "../../../../../components/results/resultIds.ts";
import { askedMark } from "../../../../../lib/usecases/visits/resultDoubts.ts";
import { typedOfResult } from "../../../../../lib/usecases/visits/resultFields.ts";
import {
  changedIn,
  type EnteredResult,
  type KeptResults,
  keepResults,
  keepTypedResults,
  resultKept,
} from "../../../../../lib/usecases/visits/results.ts";
import { resultLines } from "../../../../../lib/usecases/visits/resultsView.ts";
import { said, see, textIn, turnedAway, type WritingVisit, wantsJson, writeOfVisit } from "../../../../_server/gate.ts";
import { resultsIn, strangeResults } from "../../../../_server/resultForm.ts";
import { instant, namesIn } from "../../../../_server/words.ts";

/** What a script is told of each test that it sent: kept under which version, what is wrong or asked once more, or who entered what meanwhile. */
const told = async ({ office, stored }: WritingVisit, entered: readonly EnteredResult[], outcome: KeptResults): Promise<Response> => {
  const nameOf = await namesIn(office);
  const { rulebook } = office.planner;
  const entries = await office.store.resultsOf(stored.id);
  const lines = new Map(resultLines(stored, entries, { rulebook, plan: null }).map(({ at, entries }) => [at, entries[0]] as const));
  const conflicts = new Map(outcome.conflicts.map(({ at, theirs }) => [at, resultKept(theirs)] as const));
  const tests = entered.map(({ at, typed }) => {
    const latest = lines.get(at);
    const words = latest === undefined ? "" : latest.words;
    const by = latest === undefined ? "" : `${nameOf(latest.who)}, ${instant(latest.when)}`;
    const faults = (outcome.faults.get(at) ?? []).map(({ says }) => says);
    const doubts = outcome.doubts.get(at) ?? [];
    const theirs = conflicts.get(at);
    return [
      at,
      {
        seen: latest?.version ?? 0,
        words,
        by,
        faults,
        doubts: doubts.map(({ says }) => says),
        asked: askedMark(doubts, typed.words),
        ...(theirs === undefined ? {} : { theirs: theirs === null ? {} : typedOfResult(theirs) }),
      },
    ] as const;
  });
  return Response.json({ tests: Object.fromEntries(tests) });
};

const counted = (records: number): string => (records === 1 ? "One record" : `${records} records`);

export const POST = writeOfVisit(
  "POST /visits/[visit]/results/keep",
  async (writing) => {
    const { office, form, stored, by, log, request } = writing;
    const { store, planner } = office;
    // Who takes what the office has drops his own of that test.
    const drop = textIn(form, "drop");
    const entered = resultsIn(form).filter(({ at }) => at !== drop);
    const before = new Map((await store.resultsOf(stored.id)).map(({ at, version }) => [`${at} ${version}`, at] as const));
    const strange = strangeResults(form);
    const outcome =
      strange.length > 0 ? null : await keepResults({ store, rulebook: planner.rulebook, preview: office.preview }, stored, entered, by);
    if (outcome === null || !outcome.ok) {
      const words = `This was not taken: ${(outcome === null ? strange.map((name) => `no such field: ${name.slice(0, 80)}`) : outcome.faults).slice(0, 5).join("; ")}`;
      await log("refused", "POST results", words.slice(0, 500));
      return turnedAway(request, 400, words);
    }
    const { kept, faults, doubts, conflicts } = outcome.value;
    const fresh = (await store.resultsOf(stored.id)).filter(({ at, version }) => !before.has(`${at} ${version}`) && kept.includes(at));
    if (fresh.length > 0)
      await log(
        "results kept",
        stored.id,
        fresh
          .map(({ at, version }) => `${at} version ${version}`)
          .join(", ")
          .slice(0, 500),
      );
    if (wantsJson(request)) {
      await keepTypedResults(store, stored.id, { gone: kept, typed: {} }, by);
      return told(writing, entered, outcome.value);
    }
    const left = entered.filter(({ at }) => faults.has(at) || doubts.has(at) || conflicts.some((conflict) => conflict.at === at));
    const typed = Object.fromEntries(left.map((one) => [one.at, one.typed] as const));
    await keepTypedResults(store, stored.id, { gone: [...entered.map(({ at }) => at), drop], typed }, by);
    const page = `/visits/${stored.id}/results`;
    if (left.length > 0) return see(`${page}#problems`);
    const then = drop === "" ? textIn(form, "then") : drop;
    const dropped = drop === "" ? "" : "Yours was dropped; what the office has stands. ";
    const done =
      fresh.length === 0 && drop !== ""
        ? dropped.trim()
        : fresh.length === 0
          ? "Nothing new was typed; all is kept as it was."
          : `${dropped}${counted(fresh.length)} kept.`;
    return see(`${page}?${said(office, { done })}${resultsIn(form).some(({ at }) => at === then) ? `#${testId(then)}` : ""}`);
  },
  async ({ office, form, params }, person) => {
    const visit = String(params["visit"]);
    const changed = changedIn(
      resultsIn(form).filter(({ at }) => at !== textIn(form, "drop")),
      await office.store.resultsOf(visit),
    );
    const typed = Object.fromEntries(changed.map((one) => [one.at, one.typed] as const));
    await keepTypedResults(office.store, visit, { gone: [], typed }, { who: person, when: office.world.now() });
  },
);
