import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import { type AddressInfo, connect } from "node:net";
import { setTimeout as pause } from "node:timers/promises";
import { expect, onTestFinished, test } from "vitest";
import { turnAwayNoRequests, upgradeNobody } from "../../lib/cli/front/notRequests.ts";

const HEAD = "POST / HTTP/1.1\r\nHost: localhost\r\n";
const WHOLE = `${HEAD}Content-Length: 3\r\n\r\na=b`;

const served = async (answer: (request: IncomingMessage, response: ServerResponse) => void): Promise<number> => {
  const server = createServer(answer);
  turnAwayNoRequests(server);
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  onTestFinished(() => {
    server.closeAllConnections();
    server.close();
  });
  return (server.address() as AddressInfo).port;
};

/** What comes back until the connection ends, where each piece is sent a while after the one before. */
const told = (port: number, ...pieces: readonly string[]): Promise<string> =>
  new Promise((done) => {
    let got = "";
    const socket = connect({ port, host: "127.0.0.1" });
    socket.setEncoding("latin1");
    socket.on("data", (piece: string) => {
      got += piece;
    });
    socket.on("error", () => undefined);
    socket.on("close", () => done(got));
    socket.on("connect", async () => {
      for (const piece of pieces) {
        socket.write(piece, "latin1");
        await pause(30);
      }
    });
  });

const statuses = (got: string): readonly string[] => [...got.matchAll(/HTTP\/1\.1 (\d{3})/g)].map(([, status = ""]) => status);

/** Reads the whole request, and is done with it after a while. */
const slowly =
  (done: string[]) =>
  (request: IncomingMessage, response: ServerResponse): void => {
    request.resume();
    request.on("end", async () => {
      await pause(200);
      done.push(request.url ?? "");
      response.end("done");
    });
  };

// RFC 9112, 9.3.2 and 9.6: answers go in the order of their requests, and a connection is closed after the last that was taken.
test.each([
  ["at once", [`${WHOLE}rest`]],
  ["while it is worked on", [WHOLE, "rest\r\n\r\n"]],
  ["more than once", [WHOLE, "rest\r\n\r\n", "and rest\r\n\r\n", WHOLE]],
])("a request that came whole is answered though what follows is none, %s", async (_, pieces) => {
  const done: string[] = [];
  const got = await told(await served(slowly(done)), ...pieces);
  expect(statuses(got)).toEqual(["200"]);
  expect(got).toMatch(/connection: close/i);
  expect(got).toMatch(/done$/);
  expect(done).toEqual(["/"]);
});

test("two that came whole are both answered, in their order", async () => {
  const done: string[] = [];
  const second = WHOLE.replace("POST / ", "POST /second ");
  const got = await told(await served(slowly(done)), WHOLE + second, "rest\r\n\r\n");
  expect(statuses(got)).toEqual(["200", "200"]);
  expect(done).toEqual(["/", "/second"]);
});

test("a request that is broken off by what is no part of it is turned away, and not taken", async () => {
  const done: string[] = [];
  const broken = `${HEAD}Transfer-Encoding: chunked\r\n\r\n3\r\na=b\r\nzz\r\n`;
  expect(statuses(await told(await served(slowly(done)), broken))).toEqual(["400"]);
  await pause(300);
  expect(done).toEqual([]);
});

test.each([
  ["what is no request", "rest\r\n\r\n", "400"],
  ["a head that is too large", `${HEAD}X: ${"x".repeat(20_000)}\r\n\r\n`, "431"],
])("%s is turned away", async (_, sent, status) => {
  const done: string[] = [];
  expect(statuses(await told(await served(slowly(done)), sent))).toEqual([status]);
});

test("what is no request after an answer that is there is turned away", async () => {
  const port = await served((request, response) => {
    request.resume();
    response.end("done");
  });
  expect(statuses(await told(port, WHOLE, "rest\r\n\r\n"))).toEqual(["200", "400"]);
});

// RFC 9110, 7.8: a server may ignore what a request would have its connection become.
test("who would have the connection become another is answered as if he had not asked, whoever listens for such", async () => {
  const server = createServer((_, response) => response.end("done"));
  upgradeNobody(server);
  server.on("request", () => {
    if (server.listenerCount("upgrade") === 0) server.on("upgrade", () => undefined);
  });
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  onTestFinished(() => {
    server.closeAllConnections();
    server.close();
  });
  const asked = "GET / HTTP/1.1\r\nHost: localhost\r\nConnection: Upgrade\r\nUpgrade: h2c\r\n\r\n";
  const last = asked.replace("Connection: Upgrade", "Connection: Upgrade, close");
  expect(statuses(await told((server.address() as AddressInfo).port, asked, last))).toEqual(["200", "200"]);
});
