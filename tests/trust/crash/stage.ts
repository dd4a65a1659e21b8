import { readFileSync } from "node:fs";
import { join } from "node:path";
import { movedTo } from "../../../lib/cli/demoDates.ts";
import { DEMO_PASSWORD, makeDemoPeople } from "../../../lib/cli/demoPeople.ts";
import { success } from "../../../lib/kernel/result.ts";
import { postOffice } from "../../../lib/outside/postOffice.ts";
import { type Sent, sendLetter } from "../../../lib/usecases/exchange/send.ts";
import { keepStandingOf } from "../../../lib/usecases/exchange/standing.ts";
import { type Office, openOffice } from "../../../lib/usecases/office.ts";
import { importVisit } from "../../../lib/usecases/visits/importVisit.ts";
import { visit } from "../../cli/cli.ts";
import { numberPages, type Page } from "./pages.ts";
import { environmentOf, type Settings } from "./server.ts";

/** Somebody of the office with what his browser keeps. */
export interface Member {
  readonly id: string;
  readonly cookie: string;
  /** His address, as a proxy hands it on. */
  readonly from?: string;
}

/** An office with everything that its people write in while it is killed: visits, and letters that were sent. */
export interface Stage {
  readonly settings: Settings;
  readonly people: Readonly<Record<"mara" | "odo" | "ilse", Member>>;
  /** Pages of a visit of Mara's, in which Odo writes too, and of one of Ilse's. */
  readonly pages: Readonly<Record<"mara" | "odo" | "ilse" | "typed", Page>>;
  /** The visit whose results Ilse enters. */
  readonly tested: string;
  /** A letter whose reply is filled in page by page, by two. */
  readonly filled: Sent;
  /** Letters whose replies are confirmed, one after the other. */
  readonly confirmed: readonly Sent[];
  /** Visits of one set, whose letters are made and sent, one after the other. */
  readonly small: readonly string[];
}

const memberOf = async ({ accounts, clock }: Office, id: string, name: string): Promise<Member> => {
  const outcome = await accounts.signIn(`${name}@office.example`, DEMO_PASSWORD, "test", clock());
  if (!outcome.ok) throw new Error(outcome.faults.join());
  return { id, cookie: outcome.value.cookies.map((cookie) => cookie.split(";")[0]).join("; ") };
};

const DAY = 24 * 60 * 60_000;

/** The smallest visit of which a letter can be sent: one set, of which nothing is known. */
const smallVisit = (now: number): string =>
  JSON.stringify({
    format: "forehail visit 1",
    preparedOn: new Date(now).toISOString().slice(0, 10),
    visit: {
      vessel: { name: "Tern Hollow" },
      place: { name: "Gannet Quay" },
      window: { from: new Date(now + 30 * DAY).toISOString().slice(0, 10), to: new Date(now + 31 * DAY).toISOString().slice(0, 10) },
      people: [{ name: "M. Okvist", role: "inspector", side: "office" }],
    },
    sets: [{ name: "Generator 1" }],
  });

const imported = async (office: Office, text: string, owner: string): Promise<string> => {
  const kept = await importVisit(office, text, owner);
  if (!kept.ok) throw new Error(JSON.stringify(kept.faults));
  return kept.value;
};

/** The visit of this file begins so many days after it was planned. */
const AHEAD = 22;

/** A demo visit with its days moved, as if it were planned today or so many days before. */
const demoNow = (office: Office, name: string, before = 0): string => {
  const file = movedTo(readFileSync(visit(name), "utf8"), new Date(office.clock() - before * DAY).toISOString().slice(0, 10));
  if (!file.ok) throw new Error(file.faults.join("; "));
  return file.value;
};

/** A paper of a few bytes: letters that are there from the beginning are only answered. */
const PAPER = Uint8Array.from(Buffer.from("%PDF-1.7 a letter\n%%EOF\n", "latin1"));

export const RECIPIENTS = [
  { name: "The superintendent", address: "super@owner.example" },
  { name: "Chief engineer Łukasz", address: "chief@ship.example" },
] as const;

const sent = async (office: Office, { folder }: Settings, id: string, who: string): Promise<Sent> => {
  const stored = await office.store.visit(id);
  if (stored === null) throw new Error("no visit");
  const done = await sendLetter(
    { ...office, render: () => Promise.resolve(success(PAPER)), post: postOffice({}, join(folder, "outbox")) },
    stored,
    { to: RECIPIENTS, units: "metric", from: "mara@office.example", kind: "letter" },
    { who, when: office.world.now() },
  );
  if (!done.ok) throw new Error(done.faults.join("; "));
  await keepStandingOf(office.store, office.planner, id);
  return done.value;
};

/** Sets an office up, with so many letters to be confirmed and so many visits whose letters are to be sent; it is closed again before a server opens it. */
export const staged = async (settings: Settings, many: number): Promise<Stage> => {
  const opened = await openOffice(environmentOf(settings));
  if (!opened.ok) throw new Error(opened.faults.join());
  const office = opened.value;
  const ids = await makeDemoPeople(office);
  const [mara = "", odo = "", ilse = ""] = ["mara", "odo", "ilse"].map((name) => ids.get(name) ?? "");
  const people = {
    mara: await memberOf(office, mara, "mara"),
    odo: await memberOf(office, odo, "odo"),
    ilse: await memberOf(office, ilse, "ilse"),
  };
  const old = demoNow(office, "old-mechanical");
  const small = smallVisit(office.clock());
  const several = async <Made>(make: () => Promise<Made>): Promise<readonly Made[]> => {
    const made: Made[] = [];
    for (let count = 0; count < many; count += 1) made.push(await make());
    return made;
  };
  const [maras, ilses] = [await imported(office, old, mara), await imported(office, old, ilse)];
  const [first, second] = await numberPages(office, maras);
  const [own, other] = await numberPages(office, ilses);
  if (first === undefined || second === undefined || own === undefined || other === undefined) throw new Error("too few numbers are asked");
  const stage: Stage = {
    settings,
    people,
    pages: { mara: first, odo: second, ilse: own, typed: other },
    tested: await imported(office, demoNow(office, "old-mechanical", AHEAD), ilse),
    filled: await sent(office, settings, await imported(office, old, mara), mara),
    confirmed: await several(async () => sent(office, settings, await imported(office, small, mara), mara)),
    small: await several(() => imported(office, small, mara)),
  };
  await office.letters.close();
  await office.store.close();
  return stage;
};
