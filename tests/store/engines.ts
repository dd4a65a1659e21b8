import { join } from "node:path";
import { afterAll, beforeAll } from "vitest";
import { openStore } from "../../lib/store/open.ts";
import type { Act, Frame, Store } from "../../lib/store/store.ts";
import { scratch } from "../cli/cli.ts";
import { type PrivateServer, startPostgres } from "./postgres.ts";

let server: PrivateServer;

/** Both databases, each time with a fresh address; the server of one is started and stopped around the tests of a file. */
export const engines = (): readonly (readonly [name: string, address: () => string])[] => {
  beforeAll(async () => {
    server = await startPostgres();
  }, 60_000);
  afterAll(() => server.stop());
  return [
    ["SQLite", () => join(scratch(), "office.db")],
    ["PostgreSQL", () => server.fresh()],
  ];
};

export const opened = async (address: string): Promise<Store> => {
  const store = await openStore(address);
  if (!store.ok) throw new Error(store.faults.join());
  return store.value;
};

export const by = (who: string, minute = 0): Act => ({ who, when: `2026-03-02T08:${String(minute).padStart(2, "0")}:00.000Z` });

export const FRAME: Frame = { vessel: "Sundalis Reach", frame: { visit: { vessel: { name: "Sundalis Reach" } } }, sets: [1, 2] };
