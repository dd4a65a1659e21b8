import { readFileSync } from "node:fs";
import { join } from "node:path";
import { movedToWeekOf } from "../../lib/cli/demoDates.ts";
import { success } from "../../lib/kernel/result.ts";
import { postOffice } from "../../lib/outside/postOffice.ts";
import { type Sent, sendLetter } from "../../lib/usecases/exchange/send.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { visit } from "../cli/cli.ts";
import type { Served } from "./server.ts";

/** A paper of a few bytes: what a letter looks like is tested elsewhere. */
const PAPER = Uint8Array.from(Buffer.from("%PDF-1.7 a letter\n%%EOF\n", "latin1"));

/** A demo visit as if it were prepared this week; its id. */
export const loadedNow = async ({ office }: Served, name: string, owner: string): Promise<string> => {
  const file = movedToWeekOf(readFileSync(visit(name), "utf8"), office.world.now().slice(0, 10));
  if (!file.ok) throw new Error(file.faults.join("; "));
  const kept = await importVisit(office, file.value, owner);
  if (!kept.ok) throw new Error(JSON.stringify(kept.faults));
  return kept.value;
};

/** Sends the letter of a visit to a superintendent and a chief engineer; the mails lie in the outbox of the served office. */
export const sentNow = async ({ office, url, folder, people }: Served, id: string): Promise<Sent> => {
  const stored = await office.store.visit(id);
  if (stored === null) throw new Error("no visit");
  const sent = await sendLetter(
    { ...office, render: () => Promise.resolve(success(PAPER)), post: postOffice({}, join(folder, "outbox")), url },
    stored,
    {
      to: [
        { name: "The superintendent", address: "super@owner.example" },
        { name: "Chief engineer Łukasz", address: "chief@ship.example" },
      ],
      units: "metric",
      from: "mara@office.example",
    },
    { who: people.mara, when: office.world.now() },
  );
  if (!sent.ok) throw new Error(sent.faults.join("; "));
  return sent.value;
};
