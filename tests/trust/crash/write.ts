import { setTimeout as pause } from "node:timers/promises";
import type { Kysely } from "kysely";
import type { Tables } from "../../../lib/store/schema.ts";

/** What of a write is found in the database: all of it, nothing of it, or a part, in words. */
export type Found = "whole" | "absent" | { readonly torn: string };

/** One write as its sender's journal has it. */
export interface Write {
  readonly kind: string;
  /** What it was, for whoever looks into a failure. */
  readonly what: string;
  /** Sends it; true where the answer says that it was taken, else what it said, where that is known. Throws where no answer comes. */
  readonly send: () => Promise<boolean | string>;
  readonly found: (db: Kysely<Tables>) => Promise<Found>;
  /** How often it is there; one that was sent again must be there once. */
  readonly times: (db: Kysely<Tables>) => Promise<number>;
}

export interface Entry {
  readonly write: Write;
  /** "kept" where the office said so, "cut off" where no answer came. */
  readonly outcome: "kept" | "refused" | "cut off";
  /** What was answered to what was refused, where that is known. */
  readonly answered?: string;
}

export const torn = (words: string): Found => ({ torn: words });

/** What of several rows that belong together is there. */
export const togetherOf = (there: number, wanted: number, what: string): Found =>
  there === wanted ? "whole" : there === 0 ? "absent" : torn(`${what}: ${there} of ${wanted} rows`);

/** A form as a browser sends it from a page of ours, and its answer whatever it is; where that was too hasty it is sent again when it may be, as people do. */
export const answerTo = async (...sent: Parameters<typeof postedOnce>): Promise<Response> => {
  for (;;) {
    const answer = await postedOnce(...sent);
    if (answer.status !== 429) return answer;
    await answer.arrayBuffer();
    await pause(Number(answer.headers.get("retry-after") ?? 1) * 1000);
  }
};

const postedOnce = (
  url: string,
  body: URLSearchParams | FormData,
  { cookie, from, json = false }: { readonly cookie?: string; readonly from?: string; readonly json?: boolean } = {},
): Promise<Response> =>
  fetch(url, {
    method: "POST",
    body,
    redirect: "manual",
    headers: {
      origin: new URL(url).origin,
      ...(cookie === undefined ? {} : { cookie }),
      ...(from === undefined ? {} : { "x-forwarded-for": from }),
      ...(json ? { accept: "application/json" } : {}),
    },
  });

/** The same, of an office that can keep something: one whose database is away has said so, which acknowledges nothing. */
export const posted = async (...form: Parameters<typeof answerTo>): Promise<Response> => {
  const answer = await answerTo(...form);
  if (answer.status === 503) throw new Error("the database is away");
  return answer;
};

/**
 * Where an answer leads: at once, or by the page that tells its place while a paper is laid out, once that is done; empty where nowhere. Throws where that
 * page ends by saying that the database went away meanwhile, which acknowledges nothing.
 */
export const ledTo = async (answer: Response): Promise<string> => {
  const text = await answer.text();
  if (answer.status === 200 && text.includes("<p>For now the ")) throw new Error("the database went away");
  return answer.headers.get("location") ?? /http-equiv="refresh" content="0;url=([^"]*)"/.exec(text)?.[1]?.replaceAll("&#38;", "&") ?? "";
};
