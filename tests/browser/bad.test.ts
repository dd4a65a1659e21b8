import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { HOWS, type Post } from "../bad/posts.ts";
import { POST_LIMIT, POST_ROUTES, postsTried } from "../bad/postsTried.ts";
import { type Answered, sendRaw } from "../bad/wire.ts";
import { type Served, serve } from "./server.ts";

const SEED = 20260302;
/** Each address six times, slow ones twice, and each way of being bad four times or more. */
const MANY = 300;

let served: Served;
beforeAll(async () => {
  served = await serve({ copies: 1, more: { FOREHAIL_PROXIES: "127.0.0.1, ::1" } });
});
afterAll(() => served.stop());

test("a post that is bad in any way is taken whole or refused, never fails the program, and leaves nothing half kept", async () => {
  const { wrong, ends, byRoute } = await postsTried(served, SEED, MANY);
  expect(wrong).toEqual([]);
  expect(ends.hasty).toBe(0);
  expect(ends.taken).toBeGreaterThan(10);
  expect(ends.refused).toBeGreaterThan(MANY / 2);
  expect(POST_ROUTES.filter((route) => (byRoute.get(route) ?? 0) < 2)).toEqual([]);
  expect(HOWS.length).toBeLessThan(MANY / 4);
}, 240_000);

const sent = (path: string, more: Partial<Post> = {}): Promise<Answered> => {
  const body = Buffer.from("a=b");
  const headers = [
    ["content-type", "application/x-www-form-urlencoded"],
    ["content-length", String(body.length)],
  ] as const;
  return sendRaw(
    served.copies[0]?.port ?? 0,
    { route: "POST /sign-out", how: "", path, headers, body, end: "whole", ...more },
    [["origin", served.url]],
    POST_LIMIT,
  );
};

describe("what is sent to an address", () => {
  test.each(["/reply/at/%E0%A4%A", "/visits/%/sets/change", "/%ff"])("that cannot be read, %s, is told so", async (path) => {
    const answer = await sent(path);
    expect(answer.status).toBe(400);
    expect(answer.body).toContain("This address cannot be read");
  });

  test.each([
    ["that is a page", "/visits", 405],
    ["of a visit that is none", "/visits/none", 405],
    ["that is none", "/nothing", 404],
  ])("%s is read by nobody", async (_, path, status) => {
    for (const type of ["application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "text/plain"])
      expect(
        (
          await sent(path, {
            headers: [
              ["content-type", type],
              ["content-length", "3"],
            ],
          })
        ).status,
      ).toBe(status);
  });
});

test("who breaks off is no error of ours, and is not taken for a database that is away", async () => {
  for (const end of ["cut", "torn"] as const) await sent("/sign-in/enter", { headers: [["content-length", "5000"]], end });
  expect((await sent("/sign-in/enter")).status).toBe(403);
  // An error of the framework is told a quarter of a second later.
  await new Promise((later) => setTimeout(later, 400));
  expect(served.printed()).not.toContain('"level":"error"');
});
