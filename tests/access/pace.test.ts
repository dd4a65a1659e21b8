import { expect, test } from "vitest";
import { doorsPassed, OF_ADDRESS, PACES, paceOf } from "../../lib/access/pace.ts";
import { type Route, RULES } from "../../lib/access/rules.ts";

const ROUTES = Object.keys(RULES) as readonly Route[];

test("every address has a pace: whatever writes is slower than what is looked at, whatever strangers try is counted by where they come from", () => {
  for (const route of ROUTES) {
    const [all, own] = doorsPassed(route, "198.51.100.7", "a browser");
    expect(all).toEqual({ door: "all of address 198.51.100.7", pace: OF_ADDRESS });
    expect(own?.pace, route).toEqual(PACES[paceOf(route)]);
    expect(own?.door.endsWith(paceOf(route) === "open" ? "of address 198.51.100.7" : "of browser a browser"), route).toBe(true);
    if (route.startsWith("POST ")) expect(own?.pace.every, route).toBeGreaterThan(PACES.look.every);
  }
});

test("each door at which a stranger may guess is counted by network address, whatever cookies he shows", () => {
  const guessed = ROUTES.filter((route) => paceOf(route) === "open");
  expect(guessed.sort()).toEqual([
    "GET /join",
    "GET /reply/[code]",
    "GET /set-up",
    "POST /join/create",
    "POST /join/password",
    "POST /reply/open",
    "POST /set-up/create",
    "POST /sign-in/enter",
  ]);
});

test("an address that is none of ours is counted as looking; who shows nothing is counted by where he comes from", () => {
  expect(doorsPassed(null, "198.51.100.7", "").map(({ door }) => door)).toEqual([
    "all of address 198.51.100.7",
    "look of address 198.51.100.7",
  ]);
});
