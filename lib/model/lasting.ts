import type { FactSpec } from "./fact.ts";

// What is true of the machinery is true again at the next visit and may be taken over. What was true of a day, a berth, a cargo or
// a paper is asked again; so is whatever mixes the two, since an old answer taken for granted there can black out the ship.

/** Which rules bind, and what was approved under them: flag, class, certificates and revisions change between visits unseen. */
const papers = ["/ruleBasis", "/approvedProcedure"] as const;

/** A step named is taken for proof that the procedure is aboard (`derive.ts`), so that steps must not outlast it. */
const APPROVED_STEP = "/approvedStep";

/** The tachometer is the one brought to that visit, no part of the set. */
const instruments = ["/policy/tachometerError"] as const;

/** What was open on the machine on the day of the answer. */
const condition = ["/sets/*/openDefects"] as const;

/** How the board was loaded and fed: which consumers were in automatic, what else was on it, who could carry the ship meanwhile. */
const board = [
  "/plant/load",
  "/plant/largestStarter",
  "/plant/otherSources",
  "/sets/*/stopsAllowed",
  "/sets/*/reversePower/othersCarry",
  "/sets/*/fuelShutOff/fedOtherwise",
  "/sets/*/emergencyStart/otherSource",
] as const;

/** What berth, terminal, cargo and traffic let be done; whether stores will be full and hot parts cold on the day. */
const place = [
  "/sets/*/shaftTurns",
  "/sets/*/gasTrip/gasAtPlace",
  "/sets/*/standbyStart/realLoss",
  "/sets/*/preferentialTrips/mayDrop",
  "/sets/*/emergencyStart/storesFull",
  "/sets/*/fuelLeak/access",
] as const;

const passing: ReadonlySet<string> = new Set([...papers, ...instruments, ...condition, ...board, ...place]);

/**
 * Whether an answer lasts from one visit of a vessel to the next. What is asked by a request never does: people, spares and equipment are
 * to be had, and states of the plant offered, for one visit only.
 */
export const lasts = ({ at, carriedBy }: FactSpec): boolean => carriedBy !== "request" && !passing.has(at) && !at.endsWith(APPROVED_STEP);
