import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import compression from "compression";
import { isEncrypted } from "../../access/encrypted.ts";
import { logError } from "../../outside/logLine.ts";
import { proxiesOf, type Settings } from "../../usecases/settings.ts";
import { type Coming, comingOf, tellPages } from "./coming.ts";
import { watch } from "./life.ts";
import { lighten } from "./lighten.ts";
import { newMetrics } from "./metrics.ts";
import { turnAwayUnasked, turnAwayUnreadable } from "./noAddress.ts";
import { turnAwayNoRequests, upgradeNobody } from "./notRequests.ts";
import { turnAwayOtherHosts } from "./otherHost.ts";
import { turnAwayOtherMethods } from "./otherMethods.ts";
import { answerOwn } from "./ownAddresses.ts";
import { turnAwayHasty } from "./pace.ts";
import { safeHeaders } from "./safeHeaders.ts";
import { newFlights, stopOnSignal } from "./stopping.ts";
import { turnAwayLarge } from "./tooLarge.ts";

/** Looks at a request before the pages do; whether it answered it. */
export type Station = (coming: Coming, request: IncomingMessage, response: ServerResponse) => boolean | Promise<boolean>;

/** What answers with a page. */
export type Handle = (request: IncomingMessage, response: ServerResponse) => Promise<unknown>;

const HSTS = "max-age=31536000; includeSubDomains";

/** The server in front of the pages: `stations` in their order, then the pages, compressed and lightened. */
export const frontServer = (settings: Settings, handle: Handle): Server => {
  const [proxies, metrics, flights] = [proxiesOf(settings.FOREHAIL_PROXIES), newMetrics(), newFlights()];
  const compress = compression();
  const url = settings.FOREHAIL_URL;
  const watched = { metrics, inFlight: flights.count, isStopping: () => isStopping(), key: settings.FOREHAIL_METRICS };
  const stations: readonly Station[] = [
    (coming, request, response) => answerOwn(coming, request, response, watched),
    turnAwayOtherMethods,
    turnAwayOtherHosts(url),
    turnAwayUnreadable,
    turnAwayHasty,
    turnAwayLarge,
    turnAwayUnasked,
  ];
  const answer = async (coming: Coming, request: IncomingMessage, response: ServerResponse): Promise<void> => {
    for (const station of stations) if (await station(coming, request, response)) return;
    await new Promise<void>((go) =>
      compress(request as Parameters<typeof compress>[0], response as Parameters<typeof compress>[1], () => go()),
    );
    lighten(response, coming.number);
    await handle(request, response);
  };
  const server = createServer((request, response) => {
    safeHeaders(response);
    const coming = comingOf(request, proxies);
    watch(coming, response, metrics);
    tellPages(request.headers, coming);
    if (isStopping()) response.setHeader("connection", "close");
    if (url !== undefined && isEncrypted(url)) response.setHeader("strict-transport-security", HSTS);
    flights.begin(response);
    const answered = answer(coming, request, response).catch((error: unknown) => {
      logError("request failed", error, { request: coming.number, route: coming.route });
      response.destroy();
    });
    flights.work(answered, request, response);
  });
  turnAwayNoRequests(server);
  upgradeNobody(server);
  const isStopping = stopOnSignal(server, flights);
  return server;
};
