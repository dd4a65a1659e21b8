import type { Pace } from "../store/running.ts";
import { type Route, ruleOf } from "./rules.ts";

/** How fast a browser may use an address, by what it costs. `open` is for addresses that are tried by people of whom nothing is known yet. */
export type PaceName = "look" | "write" | "heavy" | "open";

/**
 * Far more than anybody does by hand, far less than a program that tries doors or exhausts the machine: common practice, without a source. Looking and
 * writing is counted by browser, `open` by network address, since a browser that is not known can say that it is another each time.
 */
export const PACES: Readonly<Record<PaceName, Pace>> = {
  look: { every: 200, burst: 300 },
  write: { every: 500, burst: 120 },
  heavy: { every: 2_000, burst: 40 },
  open: { every: 1_000, burst: 60 },
};

/** Everything that comes from one network address; a ship or an office stands behind one together. */
export const OF_ADDRESS: Pace = { every: 20, burst: 3_000 };

export const paceOf = (route: Route): PaceName => ruleOf(route).pace ?? (route.startsWith("GET ") ? "look" : "write");

/** A door and how fast it may be used. */
export interface Door {
  readonly door: string;
  readonly pace: Pace;
}

/**
 * The doors that a request passes: that of its network address, and its own by what it costs. `browser` tells one browser from another (a digest of what it
 * shows); empty where it shows nothing.
 */
export const doorsPassed = (route: Route | null, address: string, browser: string): readonly Door[] => {
  const name = route === null ? "look" : paceOf(route);
  const own = name === "open" || browser === "" ? `address ${address}` : `browser ${browser}`;
  return [
    { door: `all of address ${address}`, pace: OF_ADDRESS },
    { door: `${name} of ${own}`, pace: PACES[name] },
  ];
};
