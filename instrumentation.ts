import type { Instrumentation } from "next";

/** Opens the office when the server starts, so that a database that cannot be opened is told at once, and not by the first page. */
export const register = async (): Promise<void> => {
  if (process.env["NEXT_RUNTIME"] !== "nodejs") return;
  const { startOffice } = await import("./app/_server/office.ts");
  await startOffice();
};

const NUMBER = "x-forehail-request";

/** Logs what a page or handler failed with, under the number that its answer bears; nothing of what the request held. */
export const onRequestError: Instrumentation.onRequestError = async (error, request, { routePath, routeType }) => {
  if (process.env["NEXT_RUNTIME"] !== "nodejs") return;
  const { logError } = await import("./lib/outside/logLine.ts");
  const number = request.headers[NUMBER];
  logError("page failed", error, { request: Array.isArray(number) ? number[0] : number, route: routePath, kind: routeType });
};
