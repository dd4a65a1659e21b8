import type { IncomingMessage, Server, ServerResponse } from "node:http";
import { setTimeout as pause } from "node:timers/promises";
import { wordsPage } from "../../access/ownPage.ts";
import { logError, logLine } from "../../outside/logLine.ts";
import { runningOffice } from "./health.ts";

/** So long new requests are still taken after the signal, so that who divides them learns of it, in milliseconds. */
const GRACE = 500;
/** So long requests under way may take then, in milliseconds. */
const LAST_ANSWERS = 30_000;
/** The terminal and npm both pass one press of Ctrl-C on: what comes so soon after is the same. */
const SAME = 1_000;
/** So long something may go on after whoever asked for it is gone, in milliseconds; letters are counted by themselves. */
const WITHOUT_ASKER = 10_000;
const STEP = 25;

const CUT = wordsPage(
  "The office is being restarted",
  "This took longer than it could wait. What you sent may have been kept or not: look before you send it again.",
);

/** Requests under way: their answers, until what answers them is done with it too. */
export const newFlights = () => {
  const answers = new Set<ServerResponse>();
  let works = 0;
  return {
    count: (): number => Math.max(works, answers.size),
    answers: (): readonly ServerResponse[] => [...answers],
    begin: (response: ServerResponse): void => {
      answers.add(response);
      response.once("close", () => answers.delete(response));
    },
    /**
     * Something at work for a request, which may take longer than whoever asked waits. The framework never ends what nobody waits for any more: that counts
     * as done after a while, and at once where the request never came whole, since nothing can have been begun for it.
     */
    work: (at: Promise<unknown>, request: IncomingMessage, response: ServerResponse): void => {
      works += 1;
      let isOver = false;
      const over = (): void => {
        if (!isOver) works -= 1;
        isOver = true;
      };
      at.then(over, over);
      response.once("close", () => {
        if (isOver) return;
        if (request.complete) setTimeout(over, WITHOUT_ASKER).unref();
        else over();
      });
    },
  };
};

export type Flights = ReturnType<typeof newFlights>;

const until = async (isSo: () => boolean, end: number): Promise<void> => {
  while (!isSo() && performance.now() < end) await pause(STEP);
};

/** Tells whoever still waits that he is answered no more. */
const cutOff = (response: ServerResponse): void => {
  if (response.headersSent) return;
  response.writeHead(503, { "content-type": "text/html; charset=utf-8", "retry-after": "10", connection: "close" });
  response.end(CUT);
};

const closeOnceDone = (response: ServerResponse): void => {
  if (!response.headersSent) response.setHeader("connection", "close");
};

const stopServer = async (server: Server, flights: Flights): Promise<number> => {
  for (const response of flights.answers()) closeOnceDone(response);
  await pause(GRACE);
  server.close();
  server.closeIdleConnections();
  const office = await runningOffice()?.catch(() => undefined);
  const isDone = (): boolean => flights.count() === 0 && (office === undefined || atWork(office.figures().letters) === 0);
  await until(isDone, performance.now() + LAST_ANSWERS);
  const left = flights.answers();
  for (const response of left) cutOff(response);
  if (left.length > 0) await pause(GRACE);
  server.closeAllConnections();
  await office?.close();
  return left.length;
};

const atWork = ({ waiting, atWork: one }: { readonly waiting: number; readonly atWork: number }): number => waiting + one;

/**
 * Ends the server cleanly at SIGTERM or SIGINT: answers what is under way, then shuts the office, exit code 0. A second signal ends it at once, exit
 * code 1. Tells whether it is stopping.
 */
export const stopOnSignal = (server: Server, flights: Flights): (() => boolean) => {
  let since: number | undefined;
  const stop = (): void => {
    if (since !== undefined && performance.now() - since > SAME) process.exit(1);
    if (since !== undefined) return;
    since = performance.now();
    logLine("info", "stopping", { underWay: flights.count() });
    stopServer(server, flights)
      .then((cut) => logLine("info", "stopped", { cut }))
      .catch((error: unknown) => logError("stopping failed", error))
      .finally(() => process.exit(0));
  };
  for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, stop);
  return () => since !== undefined;
};
