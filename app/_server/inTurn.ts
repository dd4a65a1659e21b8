import { setTimeout as pause } from "node:timers/promises";
import { OWN_STYLE } from "../../lib/access/ownPage.ts";
import type { Tell } from "../../lib/letter/render.ts";
import { logError } from "../../lib/outside/logLine.ts";
import { REQUEST_HEADER } from "../../lib/outside/underWay.ts";
import { awayBecause } from "../../lib/store/dialects/away.ts";
import type { Office } from "../../lib/usecases/office.ts";
import { putOnce, takeOnce } from "../../lib/usecases/toldOnce.ts";
import { waitingPieces } from "./waitingPage.ts";

/** What is done by then is answered as if nobody had waited, in milliseconds. */
const AT_ONCE = 1_500;
/** So often a page that waits says that it is still there, which keeps the connection open through proxies. */
const SAYS = 5_000;

const HEADERS = {
  "content-type": "text/html; charset=utf-8",
  "cache-control": "no-store",
  "content-security-policy": `default-src 'none'; style-src ${OWN_STYLE}; img-src 'self'; object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'`,
  // Our own server and nginx send on what bears this as it comes, instead of holding it back until it is whole.
  "x-forehail-streamed": "1",
  "x-accel-buffering": "no",
} as const;

/** Where a page that waited goes on to, once it is known. */
type GoesOn = (response: Response) => Promise<string>;

interface Asked {
  readonly request: Request;
  /** Where it was asked for. */
  readonly back: string;
}

const pageOf = (done: Promise<Response>, place: () => number, goesOn: GoesOn, { request, back }: Asked): Response => {
  const { head, before, still, on, failed } = waitingPieces(back);
  const encoder = new TextEncoder();
  const stream = new ReadableStream<Uint8Array>({
    start: async (controller) => {
      const write = (text: string): void => {
        // Whoever went away is written to no longer; what he asked for is done all the same.
        try {
          controller.enqueue(encoder.encode(text));
        } catch {}
      };
      write(head);
      const over = done.then(goesOn).then(on, (error: unknown) => {
        // The answer has begun: nobody else would hear of it.
        logError("page that waited failed", error, { request: request.headers.get(REQUEST_HEADER) ?? undefined });
        return failed(awayBecause(error));
      });
      let [told, end]: [number, string | null] = [-1, null];
      while (end === null) {
        const now = place();
        write(now === told ? still : before(now));
        told = now;
        end = await Promise.race([over, changed(place, now)]);
      }
      write(end);
      try {
        controller.close();
      } catch {}
    },
  });
  return new Response(stream, { headers: HEADERS });
};

const LOOKS = 250;

/** Comes to an end with null when the place is another, or after a while. */
const changed = async (place: () => number, now: number): Promise<null> => {
  for (let waited = 0; waited < SAYS && place() === now; waited += LOOKS) await pause(LOOKS);
  return null;
};

type Act = (tell: Tell) => Promise<Response>;

const inTurn = async (act: Act, goesOn: GoesOn, asked: Asked): Promise<Response> => {
  let place = 0;
  const done = act((before) => {
    place = before;
  });
  // Told to nobody until it is looked at, a failure would end the program.
  done.catch(() => undefined);
  const early = await Promise.race([done, pause(AT_ONCE, null)]);
  return early ?? pageOf(done, () => place, goesOn, asked);
};

/**
 * Answers a form whose act lays out a paper and then goes on elsewhere. What takes long is answered by a page that tells how many papers come before,
 * and goes on by itself; it needs no script, and no copy of the program but the one that answers.
 */
export const goesOnInTurn = (request: Request, back: string, act: Act): Promise<Response> =>
  inTurn(act, (response) => Promise.resolve(response.headers.get("location") ?? back), { request, back });

interface Kept {
  readonly status: number;
  readonly headers: readonly (readonly [string, string])[];
  readonly body: string;
}

const READY = "ready";

/** What a page that waited has kept for a person; null where it has nothing for him. */
const readyFor = async (office: Office, request: Request, person: string): Promise<Response | null> => {
  const id = new URL(request.url).searchParams.get(READY);
  const kept = id === null ? null : ((await takeOnce(office, id, person)) as unknown as Kept | null);
  return kept === null
    ? null
    : new Response(Buffer.from(kept.body, "base64"), { status: kept.status, headers: kept.headers.map(([name, value]) => [name, value]) });
};

/** Answers with a paper that is laid out for it, or with a page that tells how many come before it and is followed by the paper. */
export const paperInTurn = async (office: Office, request: Request, person: string, act: Act): Promise<Response> => {
  const ready = await readyFor(office, request, person);
  if (ready !== null) return ready;
  const { pathname, searchParams } = new URL(request.url);
  searchParams.delete(READY);
  const again = (id: string): string => `${pathname}?${new URLSearchParams([...searchParams, [READY, id]])}`;
  const goesOn: GoesOn = async (response) => {
    const body = Buffer.from(await response.arrayBuffer()).toString("base64");
    const kept: Kept = { status: response.status, headers: [...response.headers], body };
    return again(await putOnce(office, person, kept));
  };
  return inTurn(act, goesOn, { request, back: `${pathname}?${searchParams}` });
};
