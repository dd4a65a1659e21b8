import { LOOK_AGAIN } from "../results/resultIds.ts";

/**
 * Keeps what is typed of results aboard on the device at once, by visit, person and test, and sends it by itself while the office can be reached: when
 * Keep is pressed, when another test is turned to, when the line is back, when the page is opened again. Without it the form works as well.
 */
const TRY_AGAIN = 15_000;

/** What is kept on the device of one test, until the office has it. */
interface Draft {
  /** The fields as they stand, with the version that the page showed. */
  values: Record<string, string>;
  /** Why the office did not take it as it stands; it is not sent again before it is changed or Keep is pressed. */
  refused?: string;
  /** The version that somebody else entered meanwhile: Keep puts this one in its place, and nothing else does. */
  met?: number;
  /** What that one says, to be taken in place of this. */
  theirs?: Theirs;
  /** What the office asks once more before it keeps it. */
  doubts?: readonly string[];
}

interface Theirs {
  readonly values: Readonly<Record<string, string>>;
  readonly words: string;
  readonly by: string;
}

interface Told {
  readonly seen: number;
  readonly words: string;
  readonly by: string;
  readonly faults: readonly string[];
  readonly doubts: readonly string[];
  readonly asked: string;
  /** The fields of what somebody else entered meanwhile. */
  readonly theirs?: Readonly<Record<string, string>>;
}

const DEVICE = matchMedia("(pointer: coarse)").matches ? "telephone" : "computer";
const HERE = `Kept on this ${DEVICE}, not yet sent`;
const form = document.querySelector<HTMLFormElement>("form[data-drafts]");
const prefix = form?.dataset["drafts"] ?? "";

const keyOf = (at: string): string => `${prefix} ${at}`;

const draftOf = (at: string): Draft | null => {
  try {
    return JSON.parse(localStorage.getItem(keyOf(at)) ?? "null") as Draft | null;
  } catch {
    return null;
  }
};

/** Whether the device kept it; a browser may refuse to. */
const keepDraft = (at: string, draft: Draft | null): boolean => {
  try {
    if (draft === null) localStorage.removeItem(keyOf(at));
    else localStorage.setItem(keyOf(at), JSON.stringify(draft));
    return true;
  } catch {
    return false;
  }
};

/** The tests of which something is kept on the device, those too that stand on the page no more. */
const waiting = (): readonly string[] => {
  try {
    return Object.keys(localStorage).flatMap((key) => (key.startsWith(`${prefix} `) ? [key.slice(prefix.length + 1)] : []));
  } catch {
    return [];
  }
};

const sections = new Map(
  [...(form?.querySelectorAll<HTMLElement>("[data-result]") ?? [])].map((section) => [section.dataset["result"] ?? "", section] as const),
);

const told = (at: string, words: string): void => {
  const place = sections.get(at)?.querySelector(".saved");
  if (place != null && place.textContent !== words) place.textContent = words;
};

/** How many records the office has not, told once above all tests. */
const tellWaiting = (): void => {
  const place = form?.querySelector("[data-waiting]");
  const count = waiting().length;
  if (place != null)
    place.textContent =
      count === 0
        ? `What you type is kept on this ${DEVICE} at once, and sent when there is a connection.`
        : `${count === 1 ? "One record is" : `${count} records are`} kept on this ${DEVICE} and not yet in the office.`;
};

type Field = HTMLInputElement | HTMLSelectElement;

const fieldsOf = (at: string): readonly Field[] => [...(sections.get(at)?.querySelectorAll<Field>("input, select") ?? [])];

const partOf = (at: string, { name }: Field): string => name.slice(at.length + 1);

const isTicked = (field: HTMLInputElement): boolean => field.type === "radio" || field.type === "checkbox";

const isUnticked = (field: Field): boolean => field instanceof HTMLInputElement && isTicked(field) && !field.checked;

const valuesOf = (at: string): Record<string, string> =>
  Object.fromEntries(fieldsOf(at).flatMap((field) => (isUnticked(field) ? [] : [[partOf(at, field), field.value]])));

/** Shows what the office asks once more, with its tick; and what it has, where that can be taken in place of one's own. */
const ask = (at: string, { doubts = [], met }: Draft): void => {
  const [asks, drop] = [".asks", "[name=drop]"].map((part) => sections.get(at)?.querySelector<HTMLElement>(part));
  const words = asks?.querySelector("p");
  if (asks != null && words != null) {
    asks.hidden = doubts.length === 0;
    words.textContent = doubts.length === 0 ? "" : `${doubts.join(". ")}. ${LOOK_AGAIN}`;
  }
  if (drop != null) drop.hidden = met === undefined;
};

/** Tells in a test's summary what the office has of it. */
const tellState = (at: string, words: string): void => {
  const state = sections.get(at)?.querySelector("summary .state");
  if (state != null) state.textContent = words;
};

/** Puts what the device kept into the fields again: all of them, or only some, so that a day half typed in another is not wiped out. */
const show = (at: string, draft: Draft, parts?: readonly string[]): void => {
  const { values } = draft;
  ask(at, draft);
  for (const field of fieldsOf(at)) {
    if (parts?.includes(partOf(at, field)) === false) continue;
    const value = values[partOf(at, field)] ?? "";
    if (field instanceof HTMLInputElement && isTicked(field)) field.checked = field.value === value;
    else field.value = value;
  }
};

const seenField = (at: string): Field | undefined => fieldsOf(at).find((field) => partOf(at, field) === "seen");

/** Fields of what is asked once more, which the office fills and a tick answers. */
const ASKED: readonly string[] = ["asked", "sure"];
/** Fields that answer it. */
const ANSWERS: readonly string[] = ["sure", "words"];

const underway = new Set<string>();
let timer: ReturnType<typeof setTimeout> | undefined;

const later = (): void => {
  clearTimeout(timer);
  timer = setTimeout(sendAll, TRY_AGAIN);
};

/** What becomes of a draft by the office's answer; what was typed meanwhile stays and counts from what is kept now. */
const settle = (at: string, sent: Draft, { seen, words, by, faults, doubts, asked, theirs }: Told): void => {
  const typedMeanwhile = JSON.stringify(draftOf(at)?.values) !== JSON.stringify(sent.values);
  const now = draftOf(at) ?? sent;
  if (theirs !== undefined) {
    const refused = `Entered meanwhile by ${by}: ${words} Yours is kept on this ${DEVICE} only. Press Keep to put it in place of the other, which stays in the record, or take what the office has.`;
    const draft: Draft = { ...now, refused, met: seen, theirs: { values: theirs, words, by } };
    keepDraft(at, draft);
    told(at, refused);
    tellState(at, words);
    ask(at, draft);
    return;
  }
  if (faults.length > 0) {
    const refused = `${HERE}. ${faults.join(". ")}.`;
    if (!typedMeanwhile) keepDraft(at, { ...now, refused });
    told(at, refused);
    return;
  }
  if (doubts.length > 0) {
    const draft: Draft = {
      ...now,
      values: { ...now.values, asked, sure: "" },
      refused: `${HERE}: look once more at what is asked here.`,
      doubts,
    };
    if (!typedMeanwhile) {
      keepDraft(at, draft);
      show(at, draft, ASKED);
    }
    told(at, typedMeanwhile ? `${HERE}.` : (draft.refused ?? ""));
    return;
  }
  const field = seenField(at);
  if (field !== undefined) field.value = String(seen);
  if (typedMeanwhile) {
    keepDraft(at, { values: { ...now.values, seen: String(seen) } });
    told(at, `${HERE}.`);
    return;
  }
  keepDraft(at, null);
  show(at, { values: {} }, ASKED);
  told(at, "Kept in the office.");
  tellState(at, words);
};

/** Fields that a record taken back leaves as a page fills them in. */
const FILLED_IN: readonly string[] = ["on", "unit", "planned"];

/** Puts what the office has in place of one's own, which is dropped. */
const take = (at: string, { values, met }: Draft, theirs: Theirs): void => {
  const filledIn = Object.fromEntries(FILLED_IN.map((part) => [part, values[part] ?? ""]));
  const theirsOnly = Object.fromEntries(Object.entries(theirs.values).filter(([, value]) => value !== ""));
  keepDraft(at, null);
  show(at, { values: { ...filledIn, ...theirsOnly, seen: String(met ?? 0) } });
  tellState(at, theirs.words);
  told(at, `Yours was dropped; what the office has stands, by ${theirs.by}: ${theirs.words}`);
  tellWaiting();
};

/** Why an answer that tells nothing of the record did not take it. */
const refusal = (status: number): string =>
  status === 401
    ? `${HERE}: you are signed out. Load this page again and sign in; it is sent then.`
    : `${HERE}: this page is too old, or the test is none of the visit any more. Load the page again.`;

const send = async (at: string, pressed: boolean, leaving = false): Promise<void> => {
  const draft = draftOf(at);
  if (form === null || draft === null || underway.has(at)) return;
  const holds = (draft.values["outcome"] ?? "") === "" ? `${HERE}: say what became of the test.` : pressed ? undefined : draft.refused;
  if (holds !== undefined) {
    told(at, holds);
    return;
  }
  const seen = draft.met === undefined ? draft.values["seen"] : String(draft.met);
  const body = new URLSearchParams({ token: String(new FormData(form).get("token") ?? "") });
  for (const [part, value] of Object.entries({ ...draft.values, seen: seen ?? "0" })) body.append(`${at}.${part}`, value);
  underway.add(at);
  if (pressed) told(at, `${HERE}. Sending …`);
  try {
    const answer = await fetch(form.action, { method: "POST", body, keepalive: leaving, headers: { accept: "application/json" } });
    if (answer.status >= 500) throw new Error("not reached");
    const read = answer.ok ? ((await answer.json()) as { readonly tests: Readonly<Record<string, Told>> }) : null;
    const own = read?.tests[at];
    if (own === undefined) told(at, refusal(answer.status));
    else settle(at, draft, own);
  } catch {
    told(at, `${HERE}: no connection. It is sent by itself when there is one.`);
    later();
  } finally {
    underway.delete(at);
    tellWaiting();
  }
};

function sendAll(): void {
  for (const at of waiting()) void send(at, false);
}

const testOf = (target: EventTarget | null): string | null =>
  target instanceof Element ? (target.closest<HTMLElement>("[data-result]")?.dataset["result"] ?? null) : null;

if (form !== null) {
  for (const at of waiting()) {
    const draft = draftOf(at);
    const section = sections.get(at);
    if (draft === null || section === undefined) continue;
    show(at, draft);
    section.setAttribute("open", "");
    told(at, draft.refused ?? `${HERE}.`);
  }
  tellWaiting();
  let here: string | null = null;
  form.addEventListener("input", ({ target }) => {
    const at = testOf(target);
    if (at === null) return;
    const { met, theirs, doubts } = draftOf(at) ?? {};
    // What was asked is asked of what stood there then; a tick or a remark answers it.
    const answers = ANSWERS.includes(target instanceof HTMLInputElement ? partOf(at, target) : "");
    const values = valuesOf(at);
    const draft: Draft = {
      values: answers ? values : { ...values, asked: "", sure: "" },
      ...(answers && doubts !== undefined ? { doubts } : {}),
      ...(theirs === undefined ? {} : { theirs }),
      ...(met === undefined ? {} : { met, refused: `${HERE}: press Keep to put it in place of the other, or take what the office has.` }),
    };
    const kept = keepDraft(at, draft);
    if (!answers) show(at, draft, ASKED);
    told(at, kept ? `${HERE}.` : "This browser keeps nothing by itself: press Keep while there is a connection.");
    tellWaiting();
  });
  form.addEventListener("focusin", ({ target }) => {
    const at = testOf(target);
    if (here !== null && here !== at) void send(here, false);
    here = at;
  });
  form.addEventListener("submit", (event) => {
    const pressed = event.submitter ?? document.activeElement;
    const at = testOf(pressed);
    if (at !== null && pressed instanceof HTMLButtonElement && pressed.name === "drop") {
      const draft = draftOf(at);
      keepDraft(at, null);
      if (draft?.theirs === undefined) return;
      event.preventDefault();
      take(at, draft, draft.theirs);
      return;
    }
    if (at !== null && draftOf(at) === null && (valuesOf(at)["outcome"] ?? "") === "") {
      event.preventDefault();
      told(at, "Say first what became of the test.");
      return;
    }
    // Where the device keeps nothing the form goes as it is.
    if (at === null || !keepDraft(at, { ...draftOf(at), values: valuesOf(at) })) return;
    event.preventDefault();
    void send(at, true);
  });
  window.addEventListener("online", sendAll);
  window.addEventListener("pagehide", () => {
    if (here !== null) void send(here, false, true);
  });
  sendAll();
}
