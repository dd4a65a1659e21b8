import { request } from "node:http";
import { setTimeout as pause } from "node:timers/promises";
import { cutNote, run } from "./run.ts";
import type { Target } from "./target.ts";
import type { Scan } from "./types.ts";

/** Others wait for a page at most so long, in milliseconds, while connections are held. */
const MOST = 5_000;

/** Milliseconds until the sign-in page was there; null where it was not. */
const asked = (port: number): Promise<number | null> =>
  new Promise((done) => {
    const start = performance.now();
    const one = request(
      { port, host: "127.0.0.1", path: "/sign-in", headers: { host: "plans.example.org" }, agent: false, timeout: MOST },
      (answer) => {
        answer.resume();
        answer.on("end", () => done(answer.statusCode === 200 ? performance.now() - start : null));
      },
    );
    one.on("timeout", () => one.destroy());
    one.on("error", () => done(null));
    one.end();
  });

/** Whether slowhttptest says that the server was there to the end. Pure. */
export const slowFindings = (text: string): readonly string[] => {
  const said = [...text.matchAll(/service available:[^A-Z]*([A-Z]+)/g)].map(([, word]) => word);
  if (said.length === 0) return ["slowhttptest said nothing of the server"];
  return said.includes("NO")
    ? [`slowhttptest could not reach the server ${said.filter((word) => word === "NO").length} times of ${said.length}`]
    : [];
};

/** Holds connections in one way, while others ask for a page. */
const held = async (at: string, kind: readonly string[], url: string, port: number): Promise<Scan> => {
  const waits: (number | null)[] = [];
  let going = true;
  const others = (async (): Promise<void> => {
    while (going) {
      waits.push(await asked(port));
      await pause(400);
    }
  })();
  const ran = await run("slowhttptest", [...kind, "-c", "400", "-r", "200", "-i", "5", "-l", "20", "-p", "4", "-v", "2", "-u", url], 40);
  going = false;
  await others;
  const missed = waits.filter((wait) => wait === null).length;
  const longest = Math.max(...waits.map((wait) => wait ?? MOST));
  return {
    scanner: "slowhttptest",
    at,
    seconds: ran.seconds,
    requests: 400,
    findings: [
      ...slowFindings(ran.out),
      ...(missed === 0 ? [] : [`${missed} of ${waits.length} others were not answered within ${MOST} ms`]),
    ],
    notes: [`${waits.length} others asked meanwhile, the slowest waited ${Math.round(longest)} ms`, ...cutNote(ran)],
  };
};

/** Four hundred connections that send their headers, or what follows them, by drops: to nginx as it is run, and to the program itself. */
export const slow = async ({ tls, port, by }: Target): Promise<readonly Scan[]> => [
  await held("nginx: slow headers", ["-H"], `https://127.0.0.1:${tls}/sign-in`, port),
  await held("the program itself: slow headers", ["-H"], `http://127.0.0.1:${port}/sign-in`, port),
  await held("the program itself: slow body", ["-B", "-s", "8192"], `${by.vessel.url}/reply/at/start`, port),
];
