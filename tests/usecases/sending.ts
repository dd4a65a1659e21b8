import { readFileSync } from "node:fs";
import { join } from "node:path";
import { success } from "../../lib/kernel/result.ts";
import { postOffice } from "../../lib/outside/postOffice.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { openStore } from "../../lib/store/open.ts";
import type { Act, StoredVisit } from "../../lib/store/store.ts";
import { type SendingWorld, type Sent, sendLetter } from "../../lib/usecases/exchange/send.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { scratch, visit } from "../cli/cli.ts";

export const TO = [
  { name: "The superintendent", address: "super@owner.example" },
  { name: "Chief engineer Łukasz", address: "chief@ship.example" },
];

/** An office that sends, on a store of its own: its clock is set by hand, its papers are a few bytes, its mails lie in a folder. */
export interface SendingOffice {
  readonly office: SendingWorld & { readonly clock: () => number };
  readonly outbox: string;
  /** Sets the clock, and gives an act of the inspector at that instant. */
  readonly at: (when: string) => Act;
  readonly loaded: (name: string) => Promise<string>;
  readonly storedOf: (id: string) => Promise<StoredVisit>;
  readonly sent: (id: string, by: Act) => Promise<Sent>;
}

export const sendingOffice = async (): Promise<SendingOffice> => {
  const opened = await openStore(":memory:");
  if (!opened.ok) throw new Error(opened.faults.join());
  const store = opened.value;
  const outbox = join(scratch(), "outbox");
  let [now, made] = ["2026-03-02T08:00:00.000Z", 0];
  const newId = (): string => {
    made += 1;
    return `${made}`.padStart(8, "0");
  };
  const world = { now: () => now, newId };
  const render = () => Promise.resolve(success(Uint8Array.from([37, 80, 68, 70])));
  const office = {
    store,
    world,
    planner: newPlanner(rulebook),
    render,
    post: postOffice({}, outbox),
    url: "https://plans.example",
    clock: () => Date.parse(now),
  };
  const storedOf = async (id: string): Promise<StoredVisit> => {
    const stored = await store.visit(id);
    if (stored === null) throw new Error("no visit");
    return stored;
  };
  return {
    office,
    outbox,
    at: (when) => {
      now = when;
      return { who: "anna", when };
    },
    loaded: async (name) => {
      const id = await importVisit(office, readFileSync(visit(name), "utf8"), "anna");
      if (!id.ok) throw new Error(JSON.stringify(id.faults));
      return id.value;
    },
    storedOf,
    sent: async (id, by) => {
      const sent = await sendLetter(
        office,
        await storedOf(id),
        { to: TO, units: "metric", from: "anna@office.example", kind: "letter" },
        by,
      );
      if (!sent.ok) throw new Error(sent.faults.join("; "));
      return sent.value;
    },
  };
};
