import { createServer, request } from "node:http";
import { OFFICE } from "../../browser/guarded.ts";

/** What passed on behalf of a scanner. */
export interface Passed {
  readonly requests: number;
  /** How often each status was answered. */
  readonly statuses: ReadonlyMap<number, number>;
  /** Where the program failed. */
  readonly failed: readonly string[];
  /** How often the scanner was led to the sign-in though it was signed in. */
  readonly signedOut: number;
}

export interface Forward {
  readonly url: string;
  /** What passed since this was last asked. */
  readonly passed: () => Passed;
  readonly stop: () => Promise<void>;
}

/** What would end the sign-in that the scanner goes by; answered here. */
const SPARED = /^POST \/(?:sign-out|account\/password)(?:\?|$)/;
/** So many requests come from one network address, and from one browser, before they come from the next. */
const OF_ONE = 20;

const pattern = (path: string): string => (path.split("?")[0] ?? "").replaceAll(/[A-Za-z0-9_-]{16,}/g, "…").slice(0, 120);

/**
 * Stands before the program for a scanner that is one person: it shows his cookie, and is the proxy that the program believes, so that every twenty requests come
 * from another network address and another browser. Else the scanner would soon see nothing but that it asks too fast.
 */
export const startForward = (port: number, cookie: string): Promise<Forward> => {
  let [requests, signedOut, all] = [0, 0, 0];
  const [statuses, failed] = [new Map<number, number>(), new Set<string>()];
  const server = createServer((asked, answer) => {
    const { method = "GET", url = "/" } = asked;
    if (SPARED.test(`${method} ${url}`)) {
      answer.writeHead(204).end();
      return;
    }
    requests += 1;
    all += 1;
    const turn = Math.floor(all / OF_ONE);
    const headers = {
      ...asked.headers,
      host: new URL(OFFICE).host,
      "x-forwarded-for": `198.18.${Math.floor(turn / 250) % 250}.${(turn % 250) + 1}`,
      "x-forwarded-proto": "https",
      // Some scanners cannot read what they say they can.
      "accept-encoding": "identity",
      cookie: [cookie, `forehail-turn=${turn}`].filter((one) => one !== "").join("; "),
      ...(method === "GET" || method === "HEAD" ? {} : { origin: OFFICE }),
    };
    const passedOn = request({ port, host: "127.0.0.1", method, path: url, headers }, (given) => {
      const { statusCode = 0 } = given;
      statuses.set(statusCode, (statuses.get(statusCode) ?? 0) + 1);
      if (statusCode >= 500) failed.add(`${statusCode} at ${method} ${pattern(url)}`);
      if (cookie !== "" && String(given.headers["location"]).startsWith("/sign-in?back=")) signedOut += 1;
      answer.writeHead(statusCode, given.headers);
      given.pipe(answer);
    });
    passedOn.on("error", () => answer.destroy());
    answer.on("close", () => passedOn.destroy());
    asked.pipe(passedOn);
  });
  const passed = (): Passed => {
    const now = { requests, statuses: new Map(statuses), failed: [...failed].sort(), signedOut };
    [requests, signedOut] = [0, 0];
    statuses.clear();
    failed.clear();
    return now;
  };
  return new Promise((done) => {
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      const own = typeof address === "object" && address !== null ? address.port : 0;
      const stop = (): Promise<void> =>
        new Promise((ended) => {
          server.close(() => ended());
          server.closeAllConnections();
        });
      done({ url: `http://127.0.0.1:${own}`, passed, stop });
    });
  });
};

/** Failures of the program as findings, the rest as a note: a scanner that was turned away saw no pages. */
export const passedWords = ({
  statuses,
  failed,
  signedOut,
}: Passed): { readonly findings: readonly string[]; readonly notes: readonly string[] } => ({
  findings: failed.map((one) => `the program failed: ${one}`),
  notes: [
    `answers ${[...statuses]
      .sort(([one], [other]) => one - other)
      .map(([status, many]) => `${status}: ${many}`)
      .join(", ")}`,
    ...(signedOut === 0 ? [] : [`${signedOut} led to the sign-in`]),
  ],
});
