import type { Worker } from "node:worker_threads";
import { failure, type Result, success } from "../kernel/result.ts";
import type { Letter } from "./blocks.ts";
import { newThread } from "./thread.ts";
import type { Answer, Job } from "./worker.ts";

/** Is told how many letters are laid out before a letter, each time that changes; 0 once it is its turn. */
export type Tell = (before: number) => void;

/** Renders letters in a worker of its own, one after the other, so that a layout that never ends takes nothing with it. */
export interface Renderer {
  /** Starts the worker ahead of the first letter. */
  readonly warm: () => void;
  readonly render: (letter: Letter, tell?: Tell) => Promise<Result<Uint8Array>>;
  /** The letter as a page that stands alone. */
  readonly page: (letter: Letter, tell?: Tell) => Promise<Result<string>>;
  readonly close: () => Promise<void>;
  /** How many letters are being rendered or wait. */
  readonly waiting: () => number;
  readonly figures: () => LetterFigures;
  /** Starts workers that ended by themselves anew; whether there was none such since it was last asked. */
  readonly revive: () => boolean;
}

/** What became of letters since the start. */
export interface LetterFigures {
  readonly waiting: number;
  readonly atWork: number;
  readonly done: number;
  readonly failed: number;
}

export interface Limits {
  /** After this long, in milliseconds, a letter is given up; a long paper is given longer. */
  readonly timeout: number;
  /** Heap of the worker, in MiB. */
  readonly memory: number;
  /** So many letters may wait; more are turned away, so that nobody waits without end. */
  readonly waiting?: number;
}

const LIMITS: Limits = { timeout: 20_000, memory: 512, waiting: 100 };

const startWorker = (address: URL | undefined, memory: number): Worker => {
  const made = newThread(import.meta.url, "worker", address, { resourceLimits: { maxOldGenerationSizeMb: memory } });
  // Between two letters nobody listens; an error then must not end the program.
  made.on("error", () => undefined);
  return made;
};

type Rendered = Exclude<Answer, { readonly why: string }>;

/** One letter through a worker that does nothing else meanwhile. */
const throughWorker = (worker: Worker, job: Job, timeout: number): Promise<Result<Rendered>> =>
  new Promise((done) => {
    const finish = (result: Result<Rendered>): void => {
      clearTimeout(timer);
      worker.off("message", onMessage).off("error", onError).off("exit", onExit);
      done(result);
    };
    const onMessage = (answer: Answer): void => {
      if (answer.number === job.number) finish("why" in answer ? failure(answer.why) : success(answer));
    };
    const onError = (error: unknown): void =>
      finish(failure(`the letter could not be rendered: ${error instanceof Error ? error.message : "unknown reason"}`));
    const onExit = (): void => finish(failure("the renderer ended before the letter was done"));
    const timer = setTimeout(() => finish(failure(`the letter was not laid out within ${timeout / 1000} s`)), timeout);
    worker.on("message", onMessage).on("error", onError).on("exit", onExit);
    worker.postMessage(job);
  });

/** Where nobody wants to know. */
const nobody: Tell = () => undefined;

/** So many pages begun by themselves are laid out in the time of one letter; a paper of more is given as many times that. */
const PAGES_IN_TIME = 20;

const timeFor = ({ blocks }: Letter, timeout: number): number =>
  timeout * Math.max(1, Math.ceil(blocks.filter(({ kind }) => kind === "newPage" || kind === "sheetTogether").length / PAGES_IN_TIME));

/** A renderer that keeps its worker for the next letter, and starts a new one after a failure. */
export const openRenderer = (limits: Limits = LIMITS, address?: URL): Renderer => {
  let worker: Worker | undefined;
  let fell = false;
  let number = 0;
  let [atWork, done, failed] = [0, 0, 0];
  let queue: Promise<unknown> = Promise.resolve();
  const running = (): Worker => {
    if (worker !== undefined) return worker;
    const made = startWorker(address, limits.memory);
    made.on("exit", () => {
      if (worker !== made) return;
      worker = undefined;
      fell = true;
    });
    worker = made;
    return made;
  };
  const close = async (): Promise<void> => {
    const stopped = worker;
    worker = undefined;
    await stopped?.terminate();
  };
  /** Where no worker can be started either, a letter fails and those behind it are tried all the same. */
  const through = async (job: Job): Promise<Result<Rendered>> => {
    try {
      return await throughWorker(running(), job, timeFor(job.letter, limits.timeout));
    } catch (error) {
      return failure(`the renderer could not be started: ${error instanceof Error ? error.message : "unknown reason"}`);
    }
  };
  const renderNext = async (letter: Letter, as: Job["as"]): Promise<Result<Rendered>> => {
    number += 1;
    atWork = 1;
    const result = await through({ number, letter, as });
    atWork = 0;
    if (result.ok) done += 1;
    else failed += 1;
    if (!result.ok) await close();
    return result;
  };
  const inTurn: Tell[] = [];
  const tellPlaces = (): void => {
    for (const [place, tell] of inTurn.entries()) tell(place);
  };
  const rendered = (letter: Letter, as: Job["as"], tell: Tell): Promise<Result<Rendered>> => {
    if (inTurn.length > (limits.waiting ?? Number.POSITIVE_INFINITY))
      return Promise.resolve(failure(`${inTurn.length} letters are waiting already; try again in a few minutes`));
    // A function of its own for each letter, so that it is found again.
    const own: Tell = (before) => tell(before);
    own(inTurn.push(own) - 1);
    const result = queue
      .then(() => renderNext(letter, as))
      .finally(() => {
        inTurn.splice(inTurn.indexOf(own), 1);
        tellPlaces();
      });
    queue = result;
    return result;
  };
  const warm = (): void => {
    running();
  };
  const render = async (letter: Letter, tell: Tell = nobody): Promise<Result<Uint8Array>> => {
    const result = await rendered(letter, "pdf", tell);
    return result.ok ? ("pdf" in result.value ? success(result.value.pdf) : failure("the renderer answered something else")) : result;
  };
  const page = async (letter: Letter, tell: Tell = nobody): Promise<Result<string>> => {
    const result = await rendered(letter, "page", tell);
    return result.ok ? ("page" in result.value ? success(result.value.page) : failure("the renderer answered something else")) : result;
  };
  const revive = (): boolean => {
    if (!fell) return true;
    fell = false;
    warm();
    return false;
  };
  return {
    warm,
    render,
    page,
    close,
    revive,
    waiting: () => inTurn.length,
    figures: () => ({ waiting: inTurn.length - atWork, atWork, done, failed }),
  };
};

const together = (one: LetterFigures, other: LetterFigures): LetterFigures => ({
  waiting: one.waiting + other.waiting,
  atWork: one.atWork + other.atWork,
  done: one.done + other.done,
  failed: one.failed + other.failed,
});

/** Several renderers side by side: each letter goes to the one with the fewest waiting. */
export const openPool = (workers: number, limits: Limits = LIMITS, address?: URL): Renderer => {
  const renderers = Array.from({ length: Math.max(1, workers) }, () => openRenderer(limits, address));
  const [first, ...others] = renderers;
  if (first === undefined) throw new Error("a pool has at least one renderer");
  const leastBusy = (): Renderer => others.reduce((least, other) => (other.waiting() < least.waiting() ? other : least), first);
  return {
    warm: () => {
      for (const renderer of renderers) renderer.warm();
    },
    render: (letter, tell) => leastBusy().render(letter, tell),
    page: (letter, tell) => leastBusy().page(letter, tell),
    close: async () => {
      await Promise.all(renderers.map((renderer) => renderer.close()));
    },
    waiting: () => renderers.reduce((sum, renderer) => sum + renderer.waiting(), 0),
    figures: () => renderers.map((renderer) => renderer.figures()).reduce(together),
    revive: () => renderers.map((renderer) => renderer.revive()).every((stood) => stood),
  };
};

/** One letter in a worker that ends with it. Several letters are quicker through `openRenderer`. */
export const renderLetter = async (
  letter: Letter,
  { timeoutMs = LIMITS.timeout }: { readonly timeoutMs?: number } = {},
): Promise<Result<Uint8Array>> => {
  const renderer = openRenderer({ ...LIMITS, timeout: timeoutMs });
  const result = await renderer.render(letter);
  await renderer.close();
  return result;
};
