"use client";

import { useCallback, useEffect, useRef } from "react";
import type { Asking, Told } from "./messages.ts";

/** Where the core, its rulebook and the visit are to be had. */
export interface CoreAt {
  readonly script: string;
  readonly rulebook: string;
  readonly file: string;
  readonly path: string;
}

type Ask = Extract<Asking, { readonly number: number }>;
type AskFor = (
  asked: Omit<Extract<Ask, { kind: "live" }>, "number"> | Omit<Extract<Ask, { kind: "check" }>, "number">,
) => Promise<Told | null>;

/** A core that does not answer in this time is not waited for; the server checks everything anyway. */
const PATIENCE = 8_000;

interface Running {
  readonly worker: Worker;
  readonly waiting: Map<number, (told: Told | null) => void>;
}

const started = ({ script, rulebook, file, path }: CoreAt): Running => {
  const waiting: Running["waiting"] = new Map();
  const worker = new Worker(script);
  const give = (number: number, told: Told | null): void => {
    waiting.get(number)?.(told);
    waiting.delete(number);
  };
  worker.onmessage = ({ data }: MessageEvent<Told>) => give(data.number, data);
  worker.onerror = () => {
    for (const number of [...waiting.keys()]) give(number, null);
  };
  worker.postMessage({ kind: "start", rulebook, file, path } satisfies Asking);
  return { worker, waiting };
};

/**
 * The decision core beside a page, fetched and started once the page is alive. Its answer is null where it cannot be had; the page then works
 * as it does without JavaScript.
 */
export const useCore = (at: CoreAt): AskFor => {
  const running = useRef<Running | null>(null);
  const number = useRef(0);
  const place = useRef(at);
  const run = useCallback((): Running => {
    running.current ??= started(place.current);
    return running.current;
  }, []);
  useEffect(() => {
    run();
    return () => {
      running.current?.worker.terminate();
      running.current = null;
    };
  }, [run]);
  return useCallback(
    (asked) => {
      const { worker, waiting } = run();
      number.current += 1;
      const own = number.current;
      return new Promise((done) => {
        const late = setTimeout(() => {
          waiting.delete(own);
          done(null);
        }, PATIENCE);
        waiting.set(own, (told) => {
          clearTimeout(late);
          done(told);
        });
        worker.postMessage({ ...asked, number: own });
      });
    },
    [run],
  );
};
