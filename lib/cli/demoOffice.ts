import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { officePolicySchema } from "../model/officePolicy.ts";
import { type Office, openOffice } from "../usecases/office.ts";
import { decideReview } from "../usecases/review/decide.ts";
import type { Environment } from "../usecases/settings.ts";
import { importVisit } from "../usecases/visits/importVisit.ts";
import { movedTo } from "./demoDates.ts";
import { DEMO_PASSWORD, DEMO_PEOPLE, makeDemoPeople } from "./demoPeople.ts";

const VISITS = "fixtures/visits";

const LETTERHEAD = {
  name: "Tallowmere Survey Office",
  address: ["Quay House, 4 Lantern Row", "Port Ambrel"],
  contact: "plans@tallowmere.example",
};
/** What the demo office settles: its visits are planned as by the program's own choices, and choices against these are reviewed. */
const DEMO_POLICY = officePolicySchema.parse({ plan: { office: LETTERHEAD }, review: { deviations: true } });
const SETTLED = "a choice against the order of preference is seen by two";

const BASE = "old-mechanical.json";
/** A vessel of the same machinery, planned by the other inspector, who chose otherwise: for the supervisor to find. */
const SISTER = { name: "Petrel Bight", reference: "TSO-114" };
const CHOICE = { protection: "/sets/0/overspeed", method: "os-lever", reason: "the trip was set at the last docking; quicker" };

/** Two plans of alike machinery by two inspectors, both waiting for their review. */
const sisterVessels = async (office: Pick<Office, "store" | "world" | "planner">, mara: string, ilse: string): Promise<void> => {
  const { store, world } = office;
  const moved = movedTo(await readFile(join(VISITS, BASE), "utf8"), world.now().slice(0, 10));
  if (!moved.ok) throw new Error(moved.faults.join("; "));
  const document = JSON.parse(moved.value) as { readonly visit: { readonly vessel: object } };
  const { imo: _, ...vessel } = document.visit.vessel as { readonly imo?: string };
  const visit = { ...document.visit, vessel: { ...vessel, name: SISTER.name }, reference: SISTER.reference };
  const sister = await importVisit(office, JSON.stringify({ ...document, visit, deviations: [CHOICE] }), ilse);
  if (!sister.ok) throw new Error(sister.faults.map(({ at, wanted }) => `${at}: ${wanted}`).join("; "));
  const [first] = await store.listVisits({
    owner: mara,
    named: String((document.visit.vessel as { readonly name?: unknown }).name),
    limit: 1,
  });
  for (const [id, who] of [
    [first?.id ?? "", mara],
    [sister.value, ilse],
  ] as const) {
    const stored = await store.visit(id);
    if (stored === null) throw new Error("a demo visit is missing");
    const asking = { act: "asked", words: "", comments: new Map(), seen: 0, version: stored.version } as const;
    const asked = await decideReview(office, stored, asking, { who, when: world.now() });
    if (!asked.ok) throw new Error(asked.faults.map(({ says }) => says).join("; "));
  }
};

/** Makes the demo office: three people, every demo visit of the first, and a sister vessel's of the second. Prints how to sign in. */
const loadDemo = async (env: Environment, url: string): Promise<void> => {
  const opened = await openOffice(env);
  if (!opened.ok) throw new Error(opened.faults.join("; "));
  const { store, accounts, planner, world, clock, letters } = opened.value;
  const people = await makeDemoPeople({ accounts, clock });
  const owner = people.get("mara") ?? "";
  const files = (await readdir(VISITS)).filter((name) => name.endsWith(".json")).sort();
  for (const name of files) {
    const file = movedTo(await readFile(join(VISITS, name), "utf8"), world.now().slice(0, 10));
    if (!file.ok) throw new Error(`${name}: ${file.faults.join("; ")}`);
    const kept = await importVisit({ store, world, planner }, file.value, owner);
    if (!kept.ok) throw new Error(`${name}: ${kept.faults.map(({ at, wanted }) => `${at}: ${wanted}`).join("; ")}`);
  }
  await sisterVessels({ store, world, planner }, owner, people.get("ilse") ?? "");
  const by = { who: people.get("odo") ?? "", when: world.now() };
  const adopted = { act: "adopted", takesEffect: by.when.slice(0, 10) } as const;
  await store.addPolicy(DEMO_POLICY, "", { versions: 0, acts: 0 }, by);
  await store.decidePolicy(1, adopted, SETTLED, { acts: 0 }, by);
  await letters.close();
  await store.close();
  process.stdout.write(
    `\n${files.length + 1} demo visits are loaded. Open ${url} and sign in as one of\n\n${DEMO_PEOPLE.map(({ name, email, role }) => `  ${role.padEnd(11)}${email.padEnd(22)}${name}`).join("\n")}\n\nPassword of all three: ${DEMO_PASSWORD}\n\n`,
  );
};

await loadDemo(process.env, process.argv[2] ?? "");
