import { request as ask, createServer, type IncomingHttpHeaders } from "node:http";
import type { AddressInfo } from "node:net";

/** Stands in front of copies of the program and gives them requests in turn, as a proxy in front of an office does. */
export interface Balancer {
  readonly url: string;
  /** Ports of the copies. */
  readonly divide: (ports: readonly number[]) => void;
  readonly stop: () => Promise<void>;
}

/** Heads of an answer as they are handed on: those that say how the copy's own connection ends are not. */
const ofAnswer = ({ connection: _ends, "keep-alive": _stays, ...headers }: IncomingHttpHeaders): IncomingHttpHeaders => headers;

export const startBalancer = async (): Promise<Balancer> => {
  let ports: readonly number[] = [];
  let turn = 0;
  const server = createServer((request, response) => {
    turn += 1;
    const headers = { ...request.headers, "x-forwarded-for": request.socket.remoteAddress ?? "", "x-forwarded-proto": "http" };
    const passed = ask(
      { host: "localhost", port: ports[turn % ports.length], path: request.url, method: request.method, headers },
      (answer) => {
        response.writeHead(answer.statusCode ?? 502, ofAnswer(answer.headers));
        answer.on("error", () => response.destroy()).pipe(response);
      },
    );
    passed.on("error", () => response.headersSent || response.writeHead(502).end());
    // A copy that answers what is far too large before all of it is here closes its end; the answer still counts, and the rest is let go.
    passed.on("close", () => request.unpipe(passed).resume());
    // Who sends has said what is to come, and may wait for an answer before any of it.
    passed.flushHeaders();
    request.on("error", () => passed.destroy()).pipe(passed);
    response.on("close", () => passed.destroy());
  });
  await new Promise<void>((done) => server.listen(0, "localhost", done));
  return {
    url: `http://localhost:${(server.address() as AddressInfo).port}`,
    divide: (given) => {
      ports = given;
    },
    stop: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
};
