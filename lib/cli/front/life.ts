import type { ServerResponse } from "node:http";
import { type LogFields, logLine } from "../../outside/logLine.ts";
import { underWay } from "../../outside/underWay.ts";
import type { Coming } from "./coming.ts";
import type { Metrics } from "./metrics.ts";

const MS = 1000;

/** What was counted of an answer when it was over. */
const told = (coming: Coming, response: ServerResponse, ms: number, bytes: number): LogFields => ({
  request: coming.number,
  method: coming.method,
  route: coming.route,
  visit: coming.visit,
  status: response.statusCode,
  ms,
  bytes,
  person: underWay.get(coming.number)?.person,
  // Whoever asked was gone before the answer was out.
  cut: response.writableFinished ? undefined : true,
});

/** Watches a request from its beginning to the end of its answer: gives the answer its number, then counts and logs it. */
export const watch = (coming: Coming, response: ServerResponse, metrics: Metrics): void => {
  const [began, before] = [performance.now(), response.socket?.bytesWritten ?? 0];
  const { socket } = response;
  underWay.set(coming.number, {});
  response.setHeader("x-request-id", coming.number);
  response.once("close", () => {
    const ms = Math.round(performance.now() - began);
    metrics.count({ method: coming.method, route: coming.route, status: response.statusCode, seconds: ms / MS });
    logLine("info", "request", told(coming, response, ms, (socket?.bytesWritten ?? before) - before));
    underWay.delete(coming.number);
  });
};
