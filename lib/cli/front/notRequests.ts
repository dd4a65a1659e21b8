import type { IncomingMessage, Server, ServerResponse } from "node:http";
import type { Duplex } from "node:stream";

/** What the connection is told, by Node's name of what is wrong with what came. */
const STATUSES: Readonly<Record<string, string>> = {
  HPE_HEADER_OVERFLOW: "431 Request Header Fields Too Large",
  HPE_CHUNK_EXTENSIONS_OVERFLOW: "413 Content Too Large",
  ERR_HTTP_REQUEST_TIMEOUT: "408 Request Timeout",
};

const turnAway = (socket: Duplex, code: string): void => {
  if (code !== "ECONNRESET" && socket.writable)
    socket.write(`HTTP/1.1 ${STATUSES[code] ?? "400 Bad Request"}\r\nConnection: close\r\n\r\n`);
  socket.destroy();
};

/**
 * Nobody is handed a connection of his own: who asks for one (`Upgrade`) is answered as if he had not, as RFC 9110 (7.8) has it. The framework listens for
 * such requests from the first page on; what it does not want it leaves open for ever.
 */
export const upgradeNobody = (server: Server): void => {
  server.on("newListener", (event) => {
    if (event === "upgrade") queueMicrotask(() => server.removeAllListeners("upgrade"));
  });
};

/**
 * Turns away what comes over a connection and is no request, and ends the connection. A request that came whole before it is answered first: it is done,
 * and whoever sent it would be told that it was not.
 */
export const turnAwayNoRequests = (server: Server): void => {
  const open = new WeakMap<Duplex, Map<ServerResponse, IncomingMessage>>();
  const ending = new WeakSet<Duplex>();
  const wholeOf = (socket: Duplex): readonly ServerResponse[] =>
    [...(open.get(socket) ?? [])].flatMap(([response, request]) => (request.complete ? [response] : []));
  server.on("request", (request: IncomingMessage, response: ServerResponse) => {
    const { socket } = request;
    const here = open.get(socket) ?? new Map<ServerResponse, IncomingMessage>();
    open.set(socket, here.set(response, request));
    response.once("close", () => {
      here.delete(response);
      if (ending.has(socket) && wholeOf(socket).length === 0) socket.end(() => socket.destroy());
    });
  });
  server.on("clientError", (error: Error & { readonly code?: string }, socket: Duplex) => {
    const last = wholeOf(socket).at(-1);
    if (last === undefined || !socket.writable) return turnAway(socket, error.code ?? "");
    ending.add(socket);
    if (!last.headersSent) last.setHeader("connection", "close");
  });
};
