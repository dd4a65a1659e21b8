import { createServer } from "node:http";
import { cookiesIn, type Guarded, guardedOffice, openLink, shown, signIn, tokenFor } from "../../browser/guarded.ts";
import { startNginx } from "../../service/nginx.ts";
import { type Forward, startForward } from "./forward.ts";

/** The program as scanners meet it. */
export interface Target {
  readonly guarded: Guarded;
  /** Where the program itself listens. */
  readonly port: number;
  /** nginx with the recipe of `fixtures/service` in front of it, on TLS. */
  readonly tls: number;
  readonly by: Readonly<Record<"nobody" | "inspector" | "supervisor" | "vessel", Forward>>;
  /** Tokens that pages of these people bear. */
  readonly tokens: Readonly<Record<"nobody" | "vessel", string>>;
  /** Where nobody should come: what the program asks of addresses that a scanner slips it. */
  readonly lure: { readonly url: string; readonly caught: () => readonly string[] };
  readonly stop: () => Promise<void>;
}

const startLure = async (): Promise<Target["lure"] & { readonly stop: () => void }> => {
  const caught: string[] = [];
  const server = createServer((asked, answer) => {
    // The scanner itself asks here what came; anything else is the program.
    if (!/get_(?:ssrf|xxe)\.php/.test(asked.url ?? "")) caught.push(`${asked.method} ${asked.url}`);
    answer.writeHead(200, { "content-type": "application/json" }).end("{}");
  });
  await new Promise<void>((up) => server.listen(0, "127.0.0.1", up));
  const address = server.address();
  const port = typeof address === "object" && address !== null ? address.port : 0;
  return { url: `http://127.0.0.1:${port}/`, caught: () => caught, stop: () => server.close() };
};

/** Starts the program with demo people, two visits and their letters, nginx in front, and a way in for each kind of person. */
export const startTarget = async (): Promise<Target> => {
  const guarded = await guardedOffice();
  const { served } = guarded;
  const port = Number(new URL(served.url).port);
  const [front, lure] = [await startNginx([port, port]), await startLure()];
  const cookieOf = async (name: "mara" | "odo"): Promise<string> => shown(cookiesIn(await signIn(served, name)));
  const vessel = await openLink(served, guarded.sent);
  const by = {
    nobody: await startForward(port, ""),
    inspector: await startForward(port, await cookieOf("mara")),
    supervisor: await startForward(port, await cookieOf("odo")),
    vessel: await startForward(port, vessel.cookie),
  };
  const stop = async (): Promise<void> => {
    for (const one of Object.values(by)) await one.stop();
    lure.stop();
    await front.stop();
    await served.stop();
  };
  return { guarded, port, tls: front.port, by, tokens: { nobody: tokenFor(served, ""), vessel: vessel.token }, lure, stop };
};
