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
  // Once for nothing: the tables are then ready when the first answer comes.
  liveAnswer(planner, draft, path, {});
  return { planner, draft, path };
};

const withTyped = (values: Readonly<Record<string, Typed>>, asked: readonly { readonly at: string }[]): Record<string, Typed> =>
  Object.fromEntries(asked.flatMap(({ at }) => (values[at] === undefined ? [] : [[at, values[at]]])));

const told = async (asking: Asking): Promise<Told | null> => {
  if (asking.kind === "start") {
    started = start(asking.rulebook, asking.file, asking.path);
    await started;
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
  void told(data).then((answer) => {
    if (answer !== null) self.postMessage(answer);
  });
};
