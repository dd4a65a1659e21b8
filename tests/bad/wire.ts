import { connect } from "node:net";
import type { Field } from "./htmlForms.ts";
import type { Post } from "./posts.ts";

/** What came back for a post: the status, where it leads and what it says; status 0 where the connection ended without an answer. */
export interface Answered {
  readonly status: number;
  readonly location: string;
  readonly body: string;
  /** Milliseconds until the end of the answer. */
  readonly took: number;
  /** No answer came within the limit. */
  readonly hung: boolean;
}

const headOf = (port: number, { path, headers }: Post, own: readonly Field[]): Buffer => {
  const told = new Set(headers.map(([name]) => name));
  const all = [["host", `localhost:${port}`], ["connection", "close"], ...own.filter(([name]) => !told.has(name)), ...headers];
  // Headers are bytes; what of them is no byte would be another sign.
  return Buffer.from(`POST ${path} HTTP/1.1\r\n${all.map(([name, value]) => `${name}: ${value}\r\n`).join("")}\r\n`, "latin1");
};

const read = (text: string): Pick<Answered, "status" | "location" | "body"> => {
  const [, status = "0"] = /^HTTP\/1\.[01] (\d{3})/.exec(text) ?? [];
  const end = text.indexOf("\r\n\r\n");
  const [, location = ""] = /\r\nlocation: ([^\r]*)/i.exec(text.slice(0, Math.max(0, end))) ?? [];
  return { status: Number(status), location, body: text.slice(end + 4) };
};

/** Sends a post as it stands, byte by byte, with the headers that say who sends it. Never fails; one without an answer in `limit` milliseconds has hung. */
export const sendRaw = (port: number, post: Post, own: readonly Field[], limit: number): Promise<Answered> =>
  new Promise((done) => {
    const start = performance.now();
    const chunks: Buffer[] = [];
    const socket = connect({ port, host: "localhost", allowHalfOpen: post.end !== "torn" });
    let over = false;
    const finish = (hung: boolean): void => {
      if (over) return;
      over = true;
      clearTimeout(timer);
      socket.destroy();
      done({ ...read(Buffer.concat(chunks).toString("utf8")), took: performance.now() - start, hung });
    };
    const timer = setTimeout(() => finish(true), limit);
    socket.on("data", (chunk: Buffer) => chunks.push(chunk));
    for (const event of ["end", "close", "error"]) socket.on(event, () => finish(false));
    socket.on("connect", () => {
      socket.write(headOf(port, post, own));
      socket.write(post.body, () => {
        if (post.end === "torn") finish(false);
        // Whoever stops in the middle hears no more of it than the end of the connection.
        else if (post.end === "cut") setTimeout(() => socket.end(), 20);
      });
    });
  });
