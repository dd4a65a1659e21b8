import { readFileSync } from "node:fs";
import { join } from "node:path";
import { movedTo } from "../../lib/cli/demoDates.ts";
import { success } from "../../lib/kernel/result.ts";
import { postOffice } from "../../lib/outside/postOffice.ts";
import { type SendingWorld, type Sent, sendLetter } from "../../lib/usecases/exchange/send.ts";
import { keepStandingOf } from "../../lib/usecases/exchange/standing.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { visit } from "../cli/cli.ts";
import type { Served } from "./server.ts";

/** A paper of a few bytes: what a letter looks like is tested elsewhere. */
const PAPER = Uint8Array.from(Buffer.from("%PDF-1.7 a letter\n%%EOF\n", "latin1"));

const DAY = 24 * 60 * 60_000;

/** A demo visit of Mara's with its days moved, as if it were planned from today, or from so many days before; its id. */
export const loadedNow = async ({ office, people }: Served, name: string, before = 0): Promise<string> => {
  const day = new Date(office.clock() - before * DAY).toISOString().slice(0, 10);
  const file = movedTo(readFileSync(visit(name), "utf8"), day);
  if (!file.ok) throw new Error(file.faults.join("; "));
  const kept = await importVisit(office, file.value, people.mara);
  if (!kept.ok) throw new Error(JSON.stringify(kept.faults));
  return kept.value;
};

/** Sends the letter of a visit to a superintendent and a chief engineer; the mails lie in the outbox of the served office. */
export const sentNow = async (
  { office, url, folder, people }: Served,
  id: string,
  render: SendingWorld["render"] = () => Promise.resolve(success(PAPER)),
): Promise<Sent> => {
  const stored = await office.store.visit(id);
  if (stored === null) throw new Error("no visit");
  const sent = await sendLetter(
    { ...office, render, post: postOffice({}, join(folder, "outbox")), url },
    stored,
    {
      to: [
        { name: "The superintendent", address: "super@owner.example" },
        { name: "Chief engineer Łukasz", address: "chief@ship.example" },
      ],
      units: "metric",
      from: "mara@office.example",
      kind: "letter",
    },
    { who: people.mara, when: office.world.now() },
  );
  if (!sent.ok) throw new Error(sent.faults.join("; "));
  await keepStandingOf(office.store, office.planner, id);
  return sent.value;
};
