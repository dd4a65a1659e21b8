import { zodResolver } from "@hookform/resolvers/zod";
import { type Draft, draftOf } from "../../lib/flow/draft.ts";
import type { Typed } from "../../lib/flow/fields.ts";
import { pageSchema } from "../../lib/flow/fields.ts";
import { askedWith, liveAnswer } from "../../lib/flow/live.ts";
import { type Planner, plannerWith } from "../../lib/plan/build.ts";
import type { Asking, Told } from "./messages.ts";

/** The decision core beside a page, in a worker, so that typing never waits for a plan. */
interface Started {
  readonly planner: Planner;
  readonly draft: Draft;
  readonly path: string;
}

let started: Promise<Started> | undefined;

const start = async (rulebook: string, file: string, path: string): Promise<Started> => {
  const [rules, visit] = await Promise.all([fetch(rulebook), fetch(file)]);
  const planner = plannerWith(await rules.json(), null);
  const draft = draftOf(await visit.json(), planner.rulebook.facts);
  return { planner, draft, path };
};

/** Nobody is asked for this long before something is worked out ahead. */
const QUIET = 150;
const MOST_AHEAD = 80;

let asked = 0;

const pause = (milliseconds: number): Promise<void> => new Promise((done) => setTimeout(done, milliseconds));

/**
 * Works out ahead, while nobody asks, what each single answer of the page would make of the plan: tables are then ready, and what was decided
 * once is remembered, so that the plan follows at once.
 */
const ahead = async ({ planner, draft, path }: Started): Promise<void> => {
  const { questions } = liveAnswer(planner, draft, path, {});
  const guesses = questions.flatMap(({ at, choices }) => choices.map(({ value }) => ({ [at]: { text: value } })));
  for (const guess of guesses.slice(0, MOST_AHEAD)) {
    do await pause(asked === 0 ? 0 : QUIET);
    while (performance.now() - asked < QUIET);
    liveAnswer(planner, draft, path, guess);
  }
};

const withTyped = (values: Readonly<Record<string, Typed>>, asked: readonly { readonly at: string }[]): Record<string, Typed> =>
  Object.fromEntries(asked.flatMap(({ at }) => (values[at] === undefined ? [] : [[at, values[at]]])));

const told = async (asking: Asking): Promise<Told | null> => {
  if (asking.kind === "start") {
    started = start(asking.rulebook, asking.file, asking.path);
    void started.then(ahead);
    return null;
  }
  if (started === undefined) return null;
  const { planner, draft, path } = await started;
  if (asking.kind === "live") return { number: asking.number, live: liveAnswer(planner, draft, path, asking.typed) };
  const asked = askedWith(planner, draft, path, asking.typed);
  const resolve = zodResolver(pageSchema(asked));
  const resolved = await resolve(withTyped(asking.typed, asked), undefined, { fields: {}, shouldUseNativeValidation: false });
  return { number: asking.number, resolved };
};

self.onmessage = ({ data }: MessageEvent<Asking>) => {
  asked = data.kind === "start" ? 0 : performance.now();
  void told(data).then((answer) => {
    if (answer !== null) self.postMessage(answer);
  });
};
