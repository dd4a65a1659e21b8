"use client";

import { type FormEvent, useCallback, useEffect, useInsertionEffect, useRef, useState } from "react";
import { type FieldErrors, type Resolver, useForm } from "react-hook-form";
import type { FieldFault, Typed } from "../../lib/flow/fields.ts";
import { changeWords, type Glance } from "../../lib/flow/glance.ts";
import type { Aside, Question } from "../../lib/flow/questions.ts";
import type { StepView } from "../../lib/usecases/visits/stepView.ts";
import { ErrorSummary, Hidden } from "../form/Fields.tsx";
import { fieldId, QuestionField } from "../form/QuestionField.tsx";
import { type PanelPreview, PlanPanel } from "../plan/PlanPanel.tsx";
import { type AutosaveOutcome, autosave, formOf } from "./autosave.ts";
import type { TypedPage } from "./messages.ts";
import { typedInPage } from "./typedInPage.ts";
import { type CoreAt, useCore } from "./useCore.ts";

interface Props {
  readonly visit: string;
  readonly view: StepView;
  readonly token: string;
  /** The script that waits for the first sign of life, and fetches this. */
  readonly wake: string;
  readonly core: CoreAt;
  readonly set: number | null;
  readonly kind: string;
  readonly savedWords: string;
}

type Values = Record<string, { text?: string | null; unit?: string; notKnown?: boolean; sure?: boolean }>;

/** On the page of support most things are for machinery that few ships have: what changes nothing and is not answered stands last. */
const standingLast = ({ path, questions, values }: StepView): ReadonlySet<string> =>
  new Set(path === "support" ? questions.filter(({ at, idle }) => idle && (values[at]?.text ?? "") === "").map(({ at }) => at) : []);

const NOTHING_TYPED: Typed = { text: "" };
const TYPING_PAUSE = 1200;
const CHOICE_PAUSE = 250;

/** What a form library holds, as everything else reads it: a radio group nobody touched holds null. */
const typedFrom = (values: Values): TypedPage =>
  Object.fromEntries(Object.entries(values).map(([at, { text, ...more }]) => [at, { text: text ?? "", ...more }]));

/** Whether two states of a question say the same; the unit beside an empty field says nothing. */
const sameTyped = (one: Typed, other: Typed): boolean =>
  one.text === other.text &&
  (one.notKnown ?? false) === (other.notKnown ?? false) &&
  (one.sure ?? false) === (other.sure ?? false) &&
  (one.text === "" || other.unit === undefined || one.unit === other.unit);

const faultsIn = (errors: FieldErrors): readonly FieldFault[] =>
  Object.entries(errors).flatMap(([at, error]): readonly FieldFault[] => {
    const text = (error as { text?: { message?: string; types?: unknown } } | undefined)?.text;
    if (text?.message === undefined) return [];
    return [{ at, kind: text.message.includes("is unusual") ? "unlikely" : "wrong", says: text.message }];
  });

/** Questions that read as before stay the same objects, so that only what changed is drawn anew. */
const unchangedKept = (before: readonly Question[], now: readonly Question[]): readonly Question[] => {
  const known = new Map(before.map((question) => [question.at, question]));
  return now.map((question) => {
    const old = known.get(question.at);
    return old !== undefined && JSON.stringify(old) === JSON.stringify(question) ? old : question;
  });
};

const SAVED: Readonly<Record<"signed out" | "not reached", string>> = {
  "signed out": "Not saved: you are signed out. Press “Save and continue”, sign in, and what you typed is here again.",
  "not reached": "Not saved yet: the office cannot be reached. It is tried again with your next change.",
};

const timeOf = (when: string): string => `Saved at ${when.slice(11, 19)} UTC`;

/** A page of questions with the plan beside it. Without JavaScript it is a plain form; with it the plan follows what is typed. */
export const StepForm = ({ visit, view, token, wake, core, set, kind, savedWords }: Props) => {
  const address = `/visits/${visit}/save/${view.path}`;
  const ask = useCore(core);
  const [questions, setQuestions] = useState<readonly Question[]>(view.questions);
  const [aside, setAside] = useState<readonly Aside[]>(view.aside);
  const [preview, setPreview] = useState<PanelPreview>(view.preview);
  const [announced, setAnnounced] = useState("");
  const [saved, setSaved] = useState(savedWords);
  const [seen, setSeen] = useState(view.seen);
  const [faults, setFaults] = useState(view.problems);
  const [meanwhile, setMeanwhile] = useState(view.meanwhile);
  // Fixed for the life of the page: a question that jumped while somebody answers it would be lost to him.
  const [last] = useState(() => standingLast(view));
  const form = useRef<HTMLFormElement>(null);
  const glance = useRef<Glance | null>("glance" in view.preview ? view.preview.glance : null);
  const dirty = useRef(new Set<string>());
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const first = useRef(view.values);
  const latest = useRef(seen);
  latest.current = seen;

  const resolver: Resolver<Values> = useCallback(
    async (values) => {
      const told = await ask({ kind: "check", typed: typedFrom(values) });
      const resolved = told?.resolved;
      return resolved === undefined || Object.keys(resolved.errors).length === 0
        ? { values, errors: {} }
        : { values: {}, errors: resolved.errors as FieldErrors<Values> };
    },
    [ask],
  );
  const { register, handleSubmit, watch, getValues, setValue } = useForm<Values>({
    resolver,
    shouldFocusError: false,
    reValidateMode: "onSubmit",
  });

  const take = useCallback((outcome: AutosaveOutcome): void => {
    if (outcome === "signed out" || outcome === "not reached") {
      setSaved(SAVED[outcome]);
      return;
    }
    if ("problem" in outcome) {
      setSaved(`Not saved: ${outcome.problem}.`);
      return;
    }
    const left = outcome.faults.length + outcome.conflicts.length;
    setSaved(
      `${timeOf(outcome.savedAt)}${left === 0 ? "" : `; ${left} ${left === 1 ? "field is" : "fields are"} kept as typed, not as an answer`}`,
    );
    setSeen((before) => ({ ...before, ...outcome.seen }));
    setMeanwhile((before) => ({
      ...Object.fromEntries(Object.entries(before).filter(([at]) => outcome.seen[at] === undefined)),
      ...Object.fromEntries(outcome.conflicts.map(({ at, ...other }) => [at, other])),
    }));
    // What is wrong is told when the page is saved, not while somebody types; what was told stays until it is put right.
    const stillWrong = new Set(outcome.faults.map(({ at }) => at));
    setFaults((before) => ({
      ...Object.fromEntries(Object.entries(before).filter(([at]) => outcome.seen[at] === undefined || stillWrong.has(at))),
      ...Object.fromEntries(outcome.faults.filter(({ kind: what }) => what === "unlikely").map((fault) => [fault.at, fault])),
    }));
  }, []);

  const saveNow = useCallback(
    (leaving: boolean): void => {
      clearTimeout(timer.current);
      const names = [...dirty.current];
      if (names.length === 0) return;
      dirty.current = new Set();
      const values = typedFrom(getValues());
      const changed = Object.fromEntries(names.flatMap((at) => (values[at] === undefined ? [] : [[at, values[at]]])));
      void autosave(address, formOf({ token, sets: view.sets.join(",") }, changed, latest.current), leaving).then((outcome) => {
        if (typeof outcome === "string" || "problem" in outcome) for (const name of names) dirty.current.add(name);
        take(outcome);
      });
    },
    [address, token, view.sets, getValues, take],
  );

  /** Has the plan and the questions follow what stands typed. */
  const follow = useCallback(async (): Promise<void> => {
    const told = await ask({ kind: "live", typed: typedFrom(getValues()) });
    if (told?.live === undefined) return;
    const { live } = told;
    setQuestions((before) => unchangedKept(before, live.questions));
    setAside(live.aside);
    setPreview(live.preview);
    if (!("glance" in live.preview)) {
      setAnnounced("The plan waits: some answers contradict each other.");
      return;
    }
    const words = glance.current === null ? "" : changeWords(glance.current, live.preview.glance);
    glance.current = live.preview.glance;
    if (words !== "") setAnnounced(words);
  }, [ask, getValues]);

  const changed = useCallback(
    (ats: readonly string[], pause: number): void => {
      for (const at of ats) dirty.current.add(at);
      clearTimeout(timer.current);
      timer.current = setTimeout(() => saveNow(false), pause);
      void follow();
    },
    [follow, saveNow],
  );

  // Somebody may have given answers before the script came. They are read before the form library takes the fields over, which knows nothing
  // of them, and given to it after.
  const early = useRef<ReturnType<typeof typedInPage>>({});
  useInsertionEffect(() => {
    early.current = typedInPage(document.querySelector("form.questions"));
  }, []);
  useEffect(() => {
    const given = Object.entries(early.current).filter(([at, typed]) => !sameTyped(typed, first.current[at] ?? NOTHING_TYPED));
    early.current = {};
    for (const [at, { text, unit, notKnown, sure }] of given) {
      const before = first.current[at] ?? NOTHING_TYPED;
      // A number and "not known" exclude each other here too: what was changed counts, and the number where both were.
      const number = text !== "" && text !== before.text;
      setValue(`${at}.text`, notKnown === true && !number ? "" : text);
      if (unit !== undefined) setValue(`${at}.unit`, unit);
      if (notKnown !== undefined) setValue(`${at}.notKnown`, notKnown && !number);
      if (sure !== undefined) setValue(`${at}.sure`, sure);
    }
    if (given.length > 0)
      changed(
        given.map(([at]) => at),
        CHOICE_PAUSE,
      );
  }, [changed, setValue]);

  useEffect(() => {
    const { unsubscribe } = watch((_, { name }) => {
      const at = name?.slice(0, name.lastIndexOf("."));
      if (at === undefined || name === undefined) return;
      // A number and "not known" exclude each other: the later of the two counts.
      const here = getValues()[at];
      if (name.endsWith(".text") && here?.notKnown === true && (here.text ?? "") !== "") setValue(`${at}.notKnown`, false);
      if (name.endsWith(".notKnown") && here?.notKnown === true && (here.text ?? "") !== "") setValue(`${at}.text`, "");
      const written = form.current?.elements.namedItem(name);
      changed([at], written instanceof HTMLInputElement && written.type === "text" ? TYPING_PAUSE : CHOICE_PAUSE);
    });
    const leave = (): void => saveNow(true);
    window.addEventListener("pagehide", leave);
    return () => {
      unsubscribe();
      window.removeEventListener("pagehide", leave);
    };
  }, [watch, getValues, setValue, saveNow, changed]);

  const sending = useRef(false);
  const again = useRef(false);
  const next = useRef<HTMLInputElement>(null);
  const submit = (event: FormEvent<HTMLFormElement>): void => {
    // A second press while the first is on its way changes nothing.
    if (sending.current) {
      event.preventDefault();
      again.current = true;
      return;
    }
    const submitter = (event.nativeEvent as SubmitEvent).submitter;
    const then = submitter instanceof HTMLButtonElement ? submitter.value : "continue";
    sending.current = true;
    void handleSubmit(
      () => {
        dirty.current = new Set();
        clearTimeout(timer.current);
        if (next.current !== null) next.current.value = then;
        form.current?.submit();
      },
      (errors) => {
        sending.current = false;
        // Pressed once more while it was still looked at, with something put right meanwhile: looked at once more.
        if (again.current) {
          again.current = false;
          form.current?.requestSubmit();
          return;
        }
        const found = faultsIn(errors);
        setFaults(Object.fromEntries(found.map((fault) => [fault.at, fault])));
        document.title = document.title.startsWith("Error: ") ? document.title : `Error: ${document.title}`;
        requestAnimationFrame(() => document.getElementById("problems")?.focus());
      },
    )(event);
  };

  const wire = useCallback((name: string) => register(name as `${string}.text`) as ReturnType<typeof register>, [register]);
  const listed = questions.flatMap(({ at }) => {
    const fault = faults[at];
    const other = meanwhile[at];
    return [
      ...(fault === undefined ? [] : [{ id: fieldId(at), says: fault.says }]),
      ...(other === undefined ? [] : [{ id: fieldId(at), says: `Two answers: ${questions.find((one) => one.at === at)?.name ?? ""}` }]),
    ];
  });

  return (
    <div className="beside" data-live={wake}>
      <form ref={form} method="post" action={address} onSubmit={submit} noValidate autoComplete="off" className="questions">
        <ErrorSummary faults={listed} />
        <Hidden values={{ token, sets: view.sets.join(",") }} />
        <input ref={next} type="hidden" name="then" defaultValue="" />
        {questions.length === 0 ? <p>Nothing is asked here as things stand.</p> : null}
        {[...questions.filter(({ at }) => !last.has(at)), ...questions.filter(({ at }) => last.has(at))].map((question, place, all) => (
          <div key={question.at}>
            {last.has(question.at) && !last.has(all[place - 1]?.at ?? "") ? (
              <h2>{`${last.size} more, which change nothing as things stand`}</h2>
            ) : null}
            <input type="hidden" name={`${question.at}.seen`} value={seen[question.at] ?? 0} />
            <QuestionField
              question={question}
              value={view.values[question.at] ?? NOTHING_TYPED}
              fault={faults[question.at]}
              meanwhile={meanwhile[question.at]}
              wire={wire}
            />
          </div>
        ))}
        {aside.length === 0 ? null : (
          <details className="aside">
            <summary>{`${aside.length} ${aside.length === 1 ? "answer is" : "answers are"} set aside`}</summary>
            <p>They do not apply as things stand, and count again as soon as they do.</p>
            <ul>
              {aside.map(({ at, name, answer }) => (
                <li key={at}>{`${name}: ${answer}`}</li>
              ))}
            </ul>
          </details>
        )}
        <div className="acts">
          <button type="submit" name="then" value="continue">
            Save and continue
          </button>
          <button type="submit" name="then" value="later" className="second">
            Save and come back later
          </button>
          <p className="saved">{saved}</p>
        </div>
      </form>
      <aside aria-label="The plan so far">
        <p className="unseen" role="status">
          {announced}
        </p>
        <details className="fold" open>
          <summary>The plan so far</summary>
          <PlanPanel preview={preview} visit={visit} set={set} kind={kind} />
        </details>
      </aside>
    </div>
  );
};
